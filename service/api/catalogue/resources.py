"""The catalogue behind the numbers, as GET resources: a list and each entry by its id."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, Final, TypeVar

import msgspec

from service.adjustment.text.stop import sign_words
from service.api.catalogue.kinds import KindEntry, kinds
from service.api.catalogue.markdown import FORMS, signs_to_read
from service.api.catalogue.messages import LanguageEntry, MessageEntry, languages, message_entry
from service.api.catalogue.models import (
    CueEntry,
    ExerciseEntry,
    MuscleEntry,
    RegionEntry,
    RelationEntry,
    SignEntry,
    SourceEntry,
)
from service.api.models.base import ResponseModel
from service.api.serialization.query import FORM
from service.knowledge.catalogue import EXERCISES, REGIONS, SOURCES, Exercise
from service.knowledge.catalogue import Region as RegionOfBody
from service.knowledge.cues import CUES, Cue
from service.knowledge.message_templates import TEMPLATES
from service.knowledge.muscles import MUSCLE_SHARES, MUSCLES, Muscle, MuscleShare
from service.knowledge.signs import SIGNS, URGENCIES, Sign
from service.messages import message, spoken
from service.training.load_repetition import RELATIONS
from service.vocabulary import REGIONS as SORE_REGIONS
from service.vocabulary import Region

EntryT = TypeVar("EntryT", bound=ResponseModel)


class Filter(msgspec.Struct, frozen=True):
    """A query parameter that cuts a list: its name, words for the description, and the ids that are left by its value."""

    parameter: str
    text: str
    ids: Mapping[str, Sequence[str]]


class Resource(msgspec.Struct, frozen=True):
    """A list of the catalogue.

    Attributes:
        name: step of its path
        singular: what an entry is called in names of the description
        entry: shape of an entry
        list_shape: shape of the list
        entries: by their ids, in English
        said: the same in the language that is spoken
        beside: what stands beside the entries in the list, in the language that is spoken, by its field
        summary: words for the description
        filter: what cuts the list
        to_read: entries as Markdown in the language that is spoken; None where the list is JSON alone
        spoken: whether its entries have sentences or names in other languages
    """

    name: str
    singular: str
    entry: type[Any]
    list_shape: type[Any]
    entries: Mapping[str, Any]
    said: Callable[[], Mapping[str, Any]]
    beside: Mapping[str, Callable[[], Any]]
    summary: str
    filter: Filter | None
    to_read: Callable[[Sequence[Any]], str] | None
    spoken: bool

    @property
    def choices(self) -> Mapping[str, Sequence[str]]:
        """The values of each parameter that the query of the list takes."""
        cut = {self.filter.parameter: tuple(self.filter.ids)} if self.filter else {}
        return cut | ({FORM: FORMS} if self.to_read else {})


BESIDE: Final = {
    "languages": "The languages that the entries are given in, English first.",
    "kinds": "The kinds of their values: how each is written, and what ids are called.",
}
"""What each field beside the entries of a list is."""


def _list_of(name: str, entry: type[Any], beside: Mapping[str, type[Any]]) -> type[Any]:
    fields = [(name_of(entry), list[entry]), *beside.items()]  # type: ignore[valid-type]
    shape = msgspec.defstruct(name, fields, frozen=True, kw_only=True)
    lines = [f"{name_of(entry)}: The entries, in the order of the catalogue."]
    lines += [f"{field}: {BESIDE[field]}" for field in beside]
    shape.__doc__ = "\n    ".join(["All entries of this kind.\n\nAttributes:", *lines])
    return shape


def name_of(entry: type[Any]) -> str:
    """The field under which a list holds its entries, such as "exercises" for ExerciseEntry."""
    return entry.__name__.removesuffix("Entry").lower() + "s"


def _entry(shape: type[EntryT], row: Any, **beside: Any) -> EntryT:
    """An entry made of the attributes of a row of knowledge, and of what is no attribute of it."""
    names = [field.name for field in msgspec.structs.fields(shape) if field.name not in beside]
    return msgspec.convert({name: getattr(row, name) for name in names} | beside, shape, from_attributes=True)


def _resource(
    name: str,
    shape: type[Any],
    entries: Callable[[], Iterable[Any]],
    summary: str,
    *,
    cut: Filter | None = None,
    to_read: Callable[[Sequence[Any]], str] | None = None,
    spoken: bool = True,
    beside: Mapping[str, tuple[type[Any], Callable[[], Any]]] = {},
) -> Resource:
    """A list; entries: what makes them; beside: what makes what stands beside them in the list, by its field with its type."""
    singular = shape.__name__.removesuffix("Entry")

    def said() -> Mapping[str, Any]:
        return {entry.id: entry for entry in entries()}

    list_shape = _list_of(f"{singular}List", shape, {field: kind for field, (kind, _) in beside.items()})
    values = {field: value for field, (_, value) in beside.items()}
    return Resource(name, singular, shape, list_shape, said(), said, values, summary, cut, to_read, spoken)


def _rows(name: str, shape: type[Any], rows: Mapping[str, Any], summary: str) -> Resource:
    return _resource(name, shape, lambda: (_entry(shape, row) for row in rows.values()), summary, spoken=False)


def _by_share(shares: Iterable[MuscleShare]) -> list[MuscleShare]:
    return sorted(shares, key=lambda share: -share.share)


def _exercise(exercise: Exercise) -> ExerciseEntry:
    muscles = _by_share(MUSCLE_SHARES.get(exercise.id, {}).values())
    return _entry(ExerciseEntry, exercise, name=spoken().name("exercise", exercise.id), muscles=muscles)


def _region(region: RegionOfBody) -> RegionEntry:
    return _entry(RegionEntry, region, name=spoken().name("region", region.id))


def _muscle(muscle: Muscle) -> MuscleEntry:
    shares = (shares[muscle.id] for shares in MUSCLE_SHARES.values() if muscle.id in shares)
    return _entry(MuscleEntry, muscle, name=spoken().name("muscle", muscle.id), exercises=_by_share(shares))


def _cue(cue: Cue) -> CueEntry:
    return _entry(CueEntry, cue, text=message(f"cue_{cue.id}").text)


def _sign(sign: Sign) -> SignEntry:
    return _entry(
        SignEntry,
        sign,
        text=sign_words(sign).text,
        what_to_do=message(f"urgency_{sign.urgency}").text,
        stop_rule=message(f"stop_rule_{sign.urgency}").text,
    )


def _signs_to_ask(region: Region) -> list[str]:
    """Ids of the signs to ask about where a region hurts: the most urgent first, and those that name the region first."""
    asked = [sign for sign in SIGNS.values() if sign.concerns(region)]
    asked.sort(key=lambda sign: (URGENCIES[sign.urgency].rank, not sign.regions))
    return [sign.id for sign in asked]


_BY_REGION: Final = Filter(
    "region",
    "What hurts: only the signs to ask about there, those included that are asked whatever hurts, the most urgent first.",
    {region: _signs_to_ask(region) for region in SORE_REGIONS},
)

RESOURCES: Final = (
    _resource("exercises", ExerciseEntry, lambda: map(_exercise, EXERCISES.values()), "Exercises"),
    _rows("relations", RelationEntry, RELATIONS, "Load–repetition relations"),
    _resource("regions", RegionEntry, lambda: map(_region, REGIONS.values()), "Regions of the body"),
    _resource("muscles", MuscleEntry, lambda: map(_muscle, MUSCLES.values()), "Muscle groups"),
    _resource("cues", CueEntry, lambda: map(_cue, CUES.values()), "Cues"),
    _resource(
        "signs", SignEntry, lambda: map(_sign, SIGNS.values()), "Red flags", cut=_BY_REGION, to_read=signs_to_read
    ),
    _rows("sources", SourceEntry, SOURCES, "Sources behind the numbers"),
    _resource(
        "messages",
        MessageEntry,
        lambda: map(message_entry, TEMPLATES),
        "Messages",
        beside={"languages": (list[LanguageEntry], languages), "kinds": (list[KindEntry], kinds)},
    ),
)
