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
    """Sets with one rest between them; reps are those of the first set, of a range its top. Rests of 60 s to 300 s were measured.

    A whole prescription that states a rest is taken as it is.
    """

    sets: Annotated[float, whole(1, recovery.MOST_SETS, f"Whole sets, 1 to {recovery.MOST_SETS}.")]
    reps: RepsOrRange | None = None
    rest: Duration | None
    reps_in_reserve: (
        Annotated[
            float,
            Meta(
                ge=0,
                le=CHOICES.rest.most_reserve,
                description="Repetitions left in reserve at the end of the first set, 0 (failure) to 2. Every study took its sets to failure, so further from it none speaks.",
            ),
        ]
        | None
    ) = 0
    compared_with: Duration | UnsetType = UNSET
    exercise: ExerciseId | None = None
    load: Mass | None = None
    bar: BarSetup | UnsetType = UNSET


class SetLoad(ResponseModel, kw_only=True, frozen=True):
    """The load of one set, and the heaviest loadable one not above it; null where the bar alone is heavier."""

    set: int
    load: Estimate
    loadable: Mass | None


class LoadDrop(ResponseModel, kw_only=True, frozen=True):
    """The fraction by which each set is lighter than the one before it, so that the repetitions stay; loads where one was given."""

    per_set: Estimate
    loads: list[SetLoad] | None


class SpanKept(ResponseModel, kw_only=True, frozen=True):
    """Lowest and highest fraction in one set."""

    low: float
    high: float


class MeasuredRest(ResponseModel, kw_only=True, frozen=True):
    """One measured result: the fraction of the first set's repetitions done in each set after a rest."""

    exercise: str
    rest: Duration
    kept_by_set: list[SpanKept]
    source: str


class MeasuredTotal(ResponseModel, kw_only=True, frozen=True):
    """The repetitions of all sets at a rest, as a ratio of those at the shortest rest of the study."""

    rest: Duration
    ratio: float


class MeasuredTotals(ResponseModel, kw_only=True, frozen=True):
    """One study's comparison of rests in one lift."""

    exercise: str
    totals: list[MeasuredTotal]
    source: str


class MeasuredDrop(ResponseModel, kw_only=True, frozen=True):
    """One study's bracket of the load drop a set that holds the repetitions."""

    exercise: str
    rest: Duration
    low: float
    high: float
    source: str


class ReportedRest(ResponseModel, kw_only=True, frozen=True):
    """A comparison of rests of which only the words were seen."""

    exercise: str
    finding: str
    source: str


class StudiesOfRest(ResponseModel, kw_only=True, frozen=True):
    """The results that the answer rests on, and those that were reported in words alone."""

    by_set: list[MeasuredRest]
    totals: list[MeasuredTotals]
    load_drop: list[MeasuredDrop]
    in_words: list[ReportedRest]


class RestAnswer(ResponseModel, kw_only=True, frozen=True):
    """Repetitions of each set; reps_kept: all of them as a fraction of sets × the first; against: the ratio of all repetitions to those at compared_with."""

    reps_by_set: list[Estimate]
    total_reps: Estimate
    reps_kept: Estimate
    against: Estimate | None
    load_drop: LoadDrop | None
    studies: StudiesOfRest
    basis: Basis
    cautions: list[Message]
