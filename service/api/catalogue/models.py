"""The shapes of the catalogue's entries."""

from __future__ import annotations

from typing import Literal

from service.api.models.base import ResponseModel
from service.api.models.by_region import ByRegion
from service.knowledge.catalogue import LiftFamily
from service.knowledge.records import Known
from service.vocabulary import Implement, Region


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
