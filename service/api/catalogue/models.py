"""The catalogue behind the numbers, as GET resources: a list and each entry by its id."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final, Literal, TypeVar

import msgspec

from service.api.catalogue.messages import MessageEntry, message_entry
from service.api.models.base import ResponseModel
from service.api.models.by_region import ByRegion
from service.knowledge.catalogue import EXERCISES, REGIONS, SOURCES, Exercise, LiftFamily
from service.knowledge.cues import CUES
from service.knowledge.message_templates import TEMPLATES
from service.knowledge.muscles import MUSCLE_SHARES, MUSCLES, Muscle, MuscleShare
from service.knowledge.records import Known
from service.knowledge.signs import SIGNS, URGENCIES, Sign
from service.training.load_repetition import RELATIONS
from service.vocabulary import REGIONS as SORE_REGIONS
from service.vocabulary import Implement, Region

EntryT = TypeVar("EntryT", bound=ResponseModel)


class MuscleOfExercise(ResponseModel, kw_only=True, frozen=True):
    """How much of a set counts for one muscle.

    Attributes:
        muscle: Id of the muscle group, see GET /v1/muscles.
        share: 1 direct, 0.5 indirect, 0.25 steadying, 0 looked at and not trained.
        sources: Ids of the sources, see GET /v1/sources.
        known: How far that is known.
        note: What to mind; empty where there is nothing.
    """

    muscle: str
    share: float
    sources: list[str]
    known: Known
    note: str


class ExerciseEntry(ResponseModel, kw_only=True, frozen=True):
    """An exercise: the regions it loads, what it trains and where the load acts.

    What trains a muscle is not what loads a region.

    Attributes:
        id: Id by which requests name it.
        name: Name for people.
        aliases: What the trade calls it as well; requests name the id.
        family: Lifts of one purpose.
        regions: Ids of the regions that it loads, see GET /v1/regions.
        muscles: What it trains, the largest share first; a muscle that is not listed is not known to be trained.
        carry: Where the load acts: trunk, hands, pelvis, overhead, supported, machine, body or swung.
        stance: How the feet stand; empty where nothing stands on them.
        bar: Whether it is loaded with a bar and plates.
        dumbbells: Whether its load is the sum of two dumbbells.
        one_arm: Whether one arm alone moves the load.
        isolation: Whether it trains one joint or small muscles, so that no other lift says where its load starts.
        assisted: Whether help that takes weight off is usual.
        implements: What it is lifted with, the usual first.
        lean: Trunk from the vertical at the bottom in deg, assumed where none is stated; null where none is needed.
        lean_source: Id of the source of the lean; empty where there is none.
        lean_known: How far the lean is known.
        body_share: Part of body mass that a lift of one's own body moves; null in other lifts.
        body_share_source: Id of the source of that part; empty where there is none.
        note: What to mind; empty where there is nothing.
    """

    id: str
    name: str
    aliases: list[str]
    family: LiftFamily
    regions: list[str]
    muscles: list[MuscleOfExercise]
    carry: str
    stance: str
    bar: bool
    dumbbells: bool
    one_arm: bool
    isolation: bool
    assisted: bool
    implements: list[Implement]
    lean: float | None
    lean_source: str
    lean_known: Known
    body_share: float | None
    body_share_source: str
    note: str


class RelationEntry(ResponseModel, kw_only=True, frozen=True):
    """A load–repetition relation: its equation, its range and its standing.

    Attributes:
        id: Id by which requests name it.
        name: Name for people.
        form: Form of the relation, such as linear, exponential or table.
        equation: The equation in words or symbols.
        reps: Fewest and most repetitions to failure inside which it is used.
        careful_above: Repetitions to failure above which it is less sure.
        exercises: Ids of the exercises that it is for; empty for all.
        source: Id of the source, see GET /v1/sources.
        known: How far it is known.
        note: What to mind; empty where there is nothing.
    """

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
    """A region, what is computed as its demand, and whether adjustments computes it.

    Attributes:
        id: Id by which requests name it.
        name: Name for people.
        demand: What stands for its demand, in words.
        adjustable: Whether adjustments brings its demand to a target.
        part_of: The region whose demand stands for a finer one; null where none does.
        measure: What is known of its demand.
    """

    id: str
    name: str
    demand: str
    adjustable: bool
    part_of: str | None
    measure: Literal["number", "direction"]


class ShareOfSet(ResponseModel, kw_only=True, frozen=True):
    """How much of a set of an exercise counts for the muscle.

    Attributes:
        exercise: Id of the exercise, see GET /v1/exercises.
        share: 1 direct, 0.5 indirect, 0.25 steadying, 0 looked at and not trained.
        sources: Ids of the sources, see GET /v1/sources.
        known: How far that is known.
        note: What to mind; empty where there is nothing.
    """

    exercise: str
    share: float
    sources: list[str]
    known: Known
    note: str


class MuscleEntry(ResponseModel, kw_only=True, frozen=True):
    """A muscle group, and what trains it.

    Attributes:
        id: Id by which answers name it.
        name: Name for people.
        exercises: What trains it, the largest share first; an exercise that is not listed is not known to.
    """

    id: str
    name: str
    exercises: list[ShareOfSet]


class SourceEntry(ResponseModel, kw_only=True, frozen=True):
    """A source and how far it is known to us.

    Attributes:
        id: Id by which answers name it.
        known: How far it is known to us.
        authors: Authors, or who published it.
        year: Year of publication; null where it has none or none is known to us.
        title: Title; empty where it is not known to us.
        published_in: Where it was published; empty where that is not known to us.
        doi: DOI; empty where it has none or none is known to us.
        note: What was taken from it, and what of it was not seen.
    """

    id: str
    known: Known
    authors: str
    year: int | None
    title: str
    published_in: str
    doi: str
    note: str


class SignEntry(ResponseModel, kw_only=True, frozen=True):
    """A red flag in plain words with its urgency and what to do.

    Attributes:
        id: Id by which requests name it.
        regions: Ids of the parts of the body that it concerns; empty where it is asked whatever hurts.
        text: The sign in words to ask the lifter with.
        urgency: Id of how soon it has to be looked at.
        what_to_do: What to do.
        stop_rule: What to do and not to do with the training.
        sources: Ids of the sources, see GET /v1/sources.
        known: How far it is known.
        age_from: Age in years from which it speaks; null for everybody.
        age_below: Age in years below which it speaks; null for everybody.
    """

    id: str
    regions: list[Region]
    text: str
    urgency: str
    what_to_do: str
    stop_rule: str
    sources: list[str]
    known: Known
    age_from: float | None
    age_below: float | None


class CueByRegion(ByRegion[Literal["lower", "higher", "unknown"]], kw_only=True, frozen=True):
    """Which way a cue moves the demand of each region that it concerns."""


class CueEntry(ResponseModel, kw_only=True, frozen=True):
    """A change of technique, equipment or range in words to say to the lifter.

    Attributes:
        id: Id by which requests name it.
        lever: What kind of change it is.
        text: The words to say.
        exercises: Ids of the exercises that it is for, see GET /v1/exercises.
        regions: Which way each region's demand moves.
        sources: Ids of the sources that speak for it, see GET /v1/sources.
        against: Ids of the sources that speak against it; empty where none does.
        known: How far it is known.
        note: What to mind; empty where there is nothing.
    """

    id: str
    lever: str
    text: str
    exercises: list[str]
    regions: CueByRegion
    sources: list[str]
    against: list[str]
    known: Known
    note: str


class Filter(msgspec.Struct, frozen=True):
    """A query parameter that cuts a list: its name, words for the description, and the ids that are left by its value."""

    parameter: str
    text: str
    ids: Mapping[str, Sequence[str]]


class Resource(msgspec.Struct, frozen=True):
    """A list of the catalogue: path step, entry shape, list shape, entries by id, words for the description, and what cuts it."""

    name: str
    singular: str
    entry: type[Any]
    list_shape: type[Any]
    entries: Mapping[str, Any]
    summary: str
    filter: Filter | None = None


def _list_of(name: str, entry: type[Any]) -> type[Any]:
    shape = msgspec.defstruct(name, [(name_of(entry), list[entry])], frozen=True, kw_only=True)  # type: ignore[valid-type]
    shape.__doc__ = f"""All entries of this kind.

    Attributes:
        {name_of(entry)}: The entries, in the order of the catalogue.
    """
    return shape


def name_of(entry: type[Any]) -> str:
    """The field under which a list holds its entries, such as "exercises" for ExerciseEntry."""
    return entry.__name__.removesuffix("Entry").lower() + "s"


def _entry(shape: type[EntryT], row: Any, **beside: Any) -> EntryT:
    """An entry made of the attributes of a row of knowledge, and of what is no attribute of it."""
    names = [field.name for field in msgspec.structs.fields(shape) if field.name not in beside]
    return msgspec.convert({name: getattr(row, name) for name in names} | beside, shape, from_attributes=True)


def _resource(name: str, shape: type[Any], entries: Iterable[Any], summary: str, cut: Filter | None = None) -> Resource:
    singular = shape.__name__.removesuffix("Entry")
    by_id = {entry.id: entry for entry in entries}
    return Resource(name, singular, shape, _list_of(f"{singular}List", shape), by_id, summary, cut)


def _rows(name: str, shape: type[Any], rows: Mapping[str, Any], summary: str) -> Resource:
    return _resource(name, shape, (_entry(shape, row) for row in rows.values()), summary)


def _by_share(shares: Iterable[MuscleShare]) -> list[MuscleShare]:
    return sorted(shares, key=lambda share: -share.share)


def _exercise(exercise: Exercise) -> ExerciseEntry:
    return _entry(ExerciseEntry, exercise, muscles=_by_share(MUSCLE_SHARES.get(exercise.id, {}).values()))


def _muscle(muscle: Muscle) -> MuscleEntry:
    shares = (shares[muscle.id] for shares in MUSCLE_SHARES.values() if muscle.id in shares)
    return _entry(MuscleEntry, muscle, exercises=_by_share(shares))


def _sign(sign: Sign) -> SignEntry:
    urgency = URGENCIES[sign.urgency]
    return _entry(SignEntry, sign, what_to_do=urgency.what_to_do, stop_rule=urgency.stop_rule)


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
    _resource("exercises", ExerciseEntry, map(_exercise, EXERCISES.values()), "Exercises"),
    _rows("relations", RelationEntry, RELATIONS, "Load–repetition relations"),
    _rows("regions", RegionEntry, REGIONS, "Regions of the body"),
    _resource("muscles", MuscleEntry, map(_muscle, MUSCLES.values()), "Muscle groups"),
    _rows("cues", CueEntry, CUES, "Cues"),
    _resource("signs", SignEntry, map(_sign, SIGNS.values()), "Red flags", _BY_REGION),
    _rows("sources", SourceEntry, SOURCES, "Sources behind the numbers"),
    _resource("messages", MessageEntry, map(message_entry, TEMPLATES), "Messages"),
)
