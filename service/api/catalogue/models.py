"""The catalogue behind the numbers, as GET resources: a list and each entry by its id."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final, Literal

import msgspec

from service.api.models.base import ResponseModel
from service.knowledge.catalogue import EXERCISES, REGIONS, SIGNS, SOURCES, URGENCIES, LiftFamily
from service.knowledge.cues import CUES
from service.knowledge.records import Known
from service.training.load_repetition import RELATIONS


class ExerciseEntry(ResponseModel, kw_only=True, frozen=True):
    """An exercise: the regions it loads, where the load acts, and the trunk lean (deg) assumed where none is stated.

    dumbbells: the load is the sum of two dumbbells; one_arm: one arm alone moves it; body_share: part of body mass that a lift of one's own body moves.
    """

    id: str
    name: str
    family: LiftFamily
    regions: list[str]
    carry: str
    stance: str
    bar: bool
    dumbbells: bool
    one_arm: bool
    lean: float | None
    lean_source: str
    lean_known: Known
    body_share: float | None
    body_share_source: str
    note: str


class RelationEntry(ResponseModel, kw_only=True, frozen=True):
    """A load–repetition relation: its equation, the range of repetitions to failure inside which it is used, source and standing."""

    id: str
    name: str
    form: str
    equation: str
    reps: tuple[float, float]
    careful_above: float
    exercises: list[str]
    source: str
    known: Known
    note: str


class RegionEntry(ResponseModel, kw_only=True, frozen=True):
    """A region, what is computed as its demand, and whether adjustments computes it."""

    id: str
    name: str
    demand: str
    adjustable: bool


class SourceEntry(ResponseModel, kw_only=True, frozen=True):
    """A source and how far it is known to us."""

    id: str
    known: Known
    authors: str
    year: int | None
    title: str
    published_in: str
    doi: str
    note: str


class SignEntry(ResponseModel, kw_only=True, frozen=True):
    """A red flag in plain words with its urgency and what to do."""

    id: str
    region: str
    text: str
    urgency: str
    what_to_do: str
    sources: list[str]
    known: Known


class CueEntry(ResponseModel, kw_only=True, frozen=True):
    """A change of technique, equipment or range in words to say to the lifter: for which exercises, and which way each region's demand moves."""

    id: str
    lever: str
    text: str
    exercises: list[str]
    regions: dict[str, Literal["lower", "higher"]]
    sources: list[str]
    against: list[str]
    known: Known
    note: str


class Resource(msgspec.Struct, frozen=True):
    """A list of the catalogue: path step, entry shape, list shape, entries by id, and words for the description."""

    name: str
    singular: str
    entry: type[Any]
    list_shape: type[Any]
    entries: Mapping[str, Any]
    summary: str


def _list_of(name: str, entry: type[Any]) -> type[Any]:
    shape = msgspec.defstruct(name, [(name_of(entry), list[entry])], frozen=True, kw_only=True)  # type: ignore[valid-type]
    shape.__doc__ = "All entries, in the order of the catalogue."
    return shape


def name_of(entry: type[Any]) -> str:
    """The field under which a list holds its entries, such as "exercises" for ExerciseEntry."""
    return entry.__name__.removesuffix("Entry").lower() + "s"


def _resource(name: str, entry: type[Any], rows: Mapping[str, Any], summary: str) -> Resource:
    fields = msgspec.structs.fields(entry)
    entries = {
        key: msgspec.convert({field.name: getattr(row, field.name) for field in fields}, entry, from_attributes=True)
        for key, row in rows.items()
    }
    singular = entry.__name__.removesuffix("Entry")
    return Resource(name, singular, entry, _list_of(f"{singular}List", entry), entries, summary)


class _SignRow(msgspec.Struct, frozen=True):
    id: str
    region: str
    text: str
    urgency: str
    what_to_do: str
    sources: tuple[str, ...]
    known: Known


_SIGN_ROWS: Final = {
    sign.id: _SignRow(
        sign.id, sign.region, sign.text, sign.urgency, URGENCIES[sign.urgency].what_to_do, sign.sources, sign.known
    )
    for sign in SIGNS.values()
}

RESOURCES: Final = (
    _resource("exercises", ExerciseEntry, EXERCISES, "Exercises"),
    _resource("relations", RelationEntry, RELATIONS, "Load–repetition relations"),
    _resource("regions", RegionEntry, REGIONS, "Regions of the body"),
    _resource("cues", CueEntry, CUES, "Cues"),
    _resource("signs", SignEntry, _SIGN_ROWS, "Red flags"),
    _resource("sources", SourceEntry, SOURCES, "Sources behind the numbers"),
)
