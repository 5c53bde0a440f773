"""What rows and tables of data are made of: ids, figures with their source, and how far each is known."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

Known = Literal["paper", "abstract", "secondary", "memory", "practice", "derived", "design_choice"]
"""How far a figure is known to us, from the paper itself down to our own choice."""


class IdOf(msgspec.Struct, frozen=True):
    """Marks a text as the id of a table of a data file; the loader refuses one that the file does not have.

    Attributes:
        file: name of the TOML file whose tables have the ids
    """

    file: str


ExerciseId = Annotated[str, Meta(min_length=1), IdOf("exercises.toml")]
MuscleId = Annotated[str, Meta(min_length=1), IdOf("muscles.toml")]
RegionId = Annotated[str, Meta(min_length=1), IdOf("regions.toml")]
StanceId = Annotated[str, Meta(min_length=1), IdOf("stances.toml")]
SourceId = Annotated[str, Meta(min_length=1), IdOf("sources.toml")]
UrgencyId = Annotated[str, Meta(min_length=1), IdOf("urgencies.toml")]


class Record(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A row or table of a data file: every field named once, and no others."""


class Sourced(Record, frozen=True):
    """A figure with where it comes from and how well it is known.

    Attributes:
        value: the figure, in the unit of the field that holds it [any]
        source: where it comes from
        known: how far it is known to us
        note: what it is, or what to mind in using it
    """

    value: float
    source: SourceId
    known: Known
    note: str = ""


class SourcedRange(Record, frozen=True):
    """A range with where it comes from and how well it is known.

    Attributes:
        low: lowest figure, in the unit of the field that holds the range [any]
        high: highest figure, in the same unit [any]
        source: where they come from
        known: how far they are known to us
        note: what it is, or what to mind in using it
    """

    low: float
    high: float
    source: SourceId
    known: Known
    note: str = ""

    def allowed(self, unit: str) -> str:
        """The range in words, for a refusal."""
        return f"{self.low:g} to {self.high:g} {unit}".strip()
