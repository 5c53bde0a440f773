"""What rest is asked and what it answers."""

from __future__ import annotations

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import ResponseModel
from service.api.models.common import (
    Basis,
    Estimate,
    RepCount,
    RepRange,
    whole,
)
from service.api.models.equipment import BarSetup
from service.api.models.ids import ExerciseId
from service.api.models.prescription import RestOfPrescription
from service.knowledge.design_choices import CHOICES
from service.messages import Message
from service.training import rest as recovery
from service.units import Duration, Mass

RepsOrRange = Annotated[
    RepCount | RepRange, Meta(title="RepsOrRange", description="Repetitions of a set, as a number or as a range.")
]


class RestInterval(RestOfPrescription, kw_only=True, frozen=True):
    """Sets with one rest between them.

    Rests of 60 s to 300 s were measured. A whole prescription that states a rest is taken as it is.

    Attributes:
        sets: Sets of the session, 1 to 5.
        reps: Repetitions of the first set, of a range its top. Null or left out: only of a hold.
        rest: Rest between the sets.
        reps_in_reserve: Repetitions left in reserve at the end of the first set, 0 (failure) to 2. Every study took its
            sets to failure, so further from it none speaks.
        compared_with: Another rest that is compared. Left out: none.
        exercise: Id of the exercise, see GET /v1/exercises. Null or left out: any lift.
        load: Load of the first set. Null or left out: the drop of load is a share alone.
        bar: The bar and its plates, for loads that can be loaded. Left out: the usual ones.
    """

    sets: Annotated[float, whole(1, recovery.MOST_SETS)]
    reps: RepsOrRange | None = None
    rest: Duration | None
    reps_in_reserve: (
        Annotated[
            float,
            Meta(ge=0, le=CHOICES.rest.most_reserve),
        ]
        | None
    ) = 0
    compared_with: Duration | UnsetType = UNSET
    exercise: ExerciseId | None = None
    load: Mass | None = None
    bar: BarSetup | UnsetType = UNSET


class SetLoad(ResponseModel, kw_only=True, frozen=True):
    """The load of one set.

    Attributes:
        set: Its number, from 1.
        load: The load that keeps the repetitions.
        loadable: The heaviest loadable one not above it; null where the bar alone is heavier.
    """

    set: int
    load: Estimate
    loadable: Mass | None


class LoadDrop(ResponseModel, kw_only=True, frozen=True):
    """By how much each set is lighter than the one before it, so that the repetitions stay.

    Attributes:
        per_set: The drop from set to set, as a share of the load.
        loads: The load of each set; null where no load was given.
    """

    per_set: Estimate
    loads: list[SetLoad] | None


class SpanKept(ResponseModel, kw_only=True, frozen=True):
    """Share of the first set's repetitions that was done in one set, over the studies.

    Attributes:
        low: Lowest share.
        high: Highest share.
    """

    low: float
    high: float


class MeasuredRest(ResponseModel, kw_only=True, frozen=True):
    """One measured result: the share of the first set's repetitions done in each set after a rest.

    Attributes:
        exercise: Id of the exercise.
        rest: The rest between sets.
        kept_by_set: The share in each set, the first set first.
        source: Id of the source, see GET /v1/sources.
    """

    exercise: str
    rest: Duration
    kept_by_set: list[SpanKept]
    source: str


class MeasuredTotal(ResponseModel, kw_only=True, frozen=True):
    """The repetitions of all sets at a rest.

    Attributes:
        rest: The rest between sets.
        ratio: All repetitions as a ratio of those at the shortest rest of the study.
    """

    rest: Duration
    ratio: float


class MeasuredTotals(ResponseModel, kw_only=True, frozen=True):
    """One study's comparison of rests in one lift.

    Attributes:
        exercise: Id of the exercise.
        totals: The repetitions at each rest.
        source: Id of the source, see GET /v1/sources.
    """

    exercise: str
    totals: list[MeasuredTotal]
    source: str


class MeasuredDrop(ResponseModel, kw_only=True, frozen=True):
    """One study's bracket of the load drop a set that holds the repetitions.

    Attributes:
        exercise: Id of the exercise.
        rest: The rest between sets.
        low: Smallest drop from set to set, as a share of the load.
        high: Largest drop from set to set, as a share of the load.
        source: Id of the source, see GET /v1/sources.
    """

    exercise: str
    rest: Duration
    low: float
    high: float
    source: str


class ReportedRest(ResponseModel, kw_only=True, frozen=True):
    """A comparison of rests of which only the words were seen.

    Attributes:
        exercise: Id of the exercise.
        finding: What was found, in words.
        source: Id of the source, see GET /v1/sources.
    """

    exercise: str
    finding: str
    source: str


class StudiesOfRest(ResponseModel, kw_only=True, frozen=True):
    """The results that the answer rests on, and those that were reported in words alone.

    Attributes:
        by_set: Repetitions set by set.
        totals: Repetitions of all sets.
        load_drop: Drops of load that hold the repetitions.
        in_words: Findings without numbers.
    """

    by_set: list[MeasuredRest]
    totals: list[MeasuredTotals]
    load_drop: list[MeasuredDrop]
    in_words: list[ReportedRest]


class RestAnswer(ResponseModel, kw_only=True, frozen=True):
    """What a rest keeps of the repetitions over the sets.

    Attributes:
        reps_by_set: Repetitions of each set, in order.
        total_reps: Repetitions of all sets.
        reps_kept: All of them as a share of sets × the first.
        against: Ratio of all repetitions to those at `compared_with`; null where none is stated.
        load_drop: By how much to drop the load instead; null where no study speaks.
        studies: The results that this rests on.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    reps_by_set: list[Estimate]
    total_reps: Estimate
    reps_kept: Estimate
    against: Estimate | None
    load_drop: LoadDrop | None
    studies: StudiesOfRest
    basis: Basis
    cautions: list[Message]
