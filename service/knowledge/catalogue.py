"""The catalogue behind the numbers: exercises, regions, sources, signs, cautions and the usual bars."""

from __future__ import annotations

from math import radians
from typing import Final

import msgspec

from service.knowledge.loader import Known, read_csv, read_toml, table


class Exercise(msgspec.Struct, frozen=True):
    """One exercise of the catalogue.

    carry: where the load acts; stance: how the feet stand; lean: trunk lean at the bottom that is assumed where none is
    stated [deg], with its source and how far it is known; bar: whether it is loaded with a bar and plates; dumbbells:
    whether its load is the sum of two dumbbells; one_arm: whether one arm alone moves it; unloaded:
    whether it is an exercise of its own with the body alone (common practice, no source); body_share: part of body
    mass that a lift of one's own body moves [1], None where none is published.
    """

    id: str
    name: str
    family: str
    regions: tuple[str, ...]
    carry: str = ""
    stance: str = ""
    bar: bool = True
    dumbbells: bool = False
    one_arm: bool = False
    unloaded: bool = False
    lean: float | None = None
    lean_source: str = ""
    lean_known: Known = "design_choice"
    body_share: float | None = None
    body_share_source: str = ""
    note: str = ""

    @property
    def lean_in_radians(self) -> float | None:
        """The assumed lean in [rad]."""
        return None if self.lean is None else radians(self.lean)


class Region(msgspec.Struct, frozen=True):
    """A region of the body that can be sore, and what is computed as its demand."""

    id: str
    name: str
    demand: str
    adjustable: bool


class Source(msgspec.Struct, frozen=True):
    """A source by its id, and how far we know it."""

    id: str
    known: Known
    authors: str = ""
    year: int | None = None
    title: str = ""
    published_in: str = ""
    doi: str = ""
    note: str = ""


class Sign(msgspec.Struct, frozen=True):
    """A red flag: plain words, and how urgently it asks for a clinician."""

    id: str
    region: str
    text: str
    urgency: str
    sources: tuple[str, ...]
    known: Known


class Urgency(msgspec.Struct, frozen=True):
    """What an urgency asks for; rank 1 is the most urgent."""

    id: str
    rank: int
    what_to_do: str
    known: Known
    stop_rule: str = ""


class Ratio(msgspec.Struct, frozen=True):
    """What a lifter manages in one exercise as a share of another, where that was published.

    through: the exercise by which two published ratios were joined, if they were; second_source: the source of the
    second of them where it is another one; known: how far the less known of the two is known.
    """

    ratio: float
    sd: float | None
    source: str
    known: Known
    through: str = ""
    second_source: str = ""

    @property
    def sources(self) -> tuple[str, ...]:
        """Every source that the ratio rests on."""
        return (self.source, self.second_source) if self.second_source else (self.source,)


class UsualBar(msgspec.Struct, frozen=True):
    """A bar [unit] and its plates (thousandths, pairs) where a request names none. Common practice, no source."""

    bar: float
    kinds: tuple[tuple[int, int], ...]


class StanceShare(msgspec.Struct, frozen=True):
    """The lead leg's share of body and load in a stance; no value where none is published."""

    id: str
    name: str
    source: str
    known: Known
    value: float | None = None
    low: float | None = None
    high: float | None = None
    interval: str = ""
    note: str = ""


def _bars() -> dict[str, UsualBar]:
    return {
        unit: UsualBar(row["bar"], tuple(sorted((round(plate * 1000), row["pairs"]) for plate in row["plates"])))
        for unit, row in read_toml("bars.toml").items()
    }


def _signs() -> dict[str, Sign]:
    return {
        row["id"]: msgspec.convert({**row, "sources": row["sources"].split()}, Sign) for row in read_csv("signs.csv")
    }


def _ratios() -> dict[tuple[str, str], Ratio]:
    """The ratio to use first for each pair of exercises that has one."""
    return {
        (row["from_exercise"], row["to_exercise"]): msgspec.convert(
            {key: row[key] or None for key in ("ratio", "sd", "source", "known")}, Ratio, strict=False
        )
        for row in read_csv("exercise_ratios.csv")
        if row["ratio"] and row["preferred"] == "true"
    }


SOURCES: Final = table(Source, read_toml("sources.toml"))
EXERCISES: Final = table(Exercise, read_toml("exercises.toml"))
REGIONS: Final = table(Region, read_toml("regions.toml"))
STANCES: Final = table(StanceShare, read_toml("stances.toml"))
URGENCIES: Final = table(Urgency, read_toml("urgencies.toml"))
SIGNS: Final = _signs()
RATIOS: Final = _ratios()
BARS: Final = _bars()
CAUTIONS: Final[dict[str, str]] = {key: row["text"] for key, row in read_toml("cautions.toml").items()}
