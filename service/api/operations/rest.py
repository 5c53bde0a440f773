"""rest: repetitions kept over the sets at a rest interval, or the load drop that keeps them."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, ResponseModel, stated
from service.api.models.common import (
    Basis,
    Caution,
    Estimate,
    RepCount,
    cautions,
    estimate,
    mass_estimate,
    positive,
    whole,
)
from service.api.models.equipment import BarSetup, bar_of, loaded
from service.api.models.ids import ExerciseId
from service.api.models.operation import Example, Operation
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.training import rest as recovery
from service.training.rest_studies import BY_SET, LONGEST, REPORTS, SHORTEST, DropResult, SetsResult, TotalsResult
from service.units import Duration, Mass, TimeUnit, duration, si


class RestInterval(RequestModel, kw_only=True, frozen=True):
    """Sets with one rest between them; reps are those of the first set. Rests of 60 s to 300 s were measured."""

    sets: Annotated[float, whole(1, recovery.MOST_SETS, f"Whole sets, 1 to {recovery.MOST_SETS}.")]
    reps: RepCount
    rest: Duration
    reps_in_reserve: Annotated[
        float,
        Meta(
            ge=0,
            le=CHOICES.rest.most_reserve,
            description="Repetitions left in reserve at the end of the first set, 0 (failure) to 2. Every study took its sets to failure, so further from it none speaks.",
        ),
    ] = 0
    compared_with: Duration | UnsetType = UNSET
    exercise: ExerciseId | UnsetType = UNSET
    load: Mass | UnsetType = UNSET
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
    cautions: list[Caution]


KEPT = "everything measured at the nearest shorter and longer rests: group means, not the spread between people"
KEPT_RESERVE = "from the loss measured in sets to failure to no loss at all"
AGAINST = "over the studies that compared rests, each bracketed between the rests that it measured"
DROP = "between a cut that was too small and one that was too large to hold the repetitions, over the lifts measured"
SECONDS: TimeUnit = "s"


def rest(request: RestInterval) -> RestAnswer:
    """Repetitions over the sets and the load drop at a rest. Raises Refusal outside what was measured."""
    seconds, sets = si(request.rest), int(request.sets)
    reserve = request.reps_in_reserve
    failure = request.reps + reserve
    recovery.check_sets(seconds, failure)
    found = recovery.set_fractions(seconds, sets)
    if found is None:  # unreachable after the check: the bounds of sets are the schema's
        raise Refusal.one("sets", "Not so many sets were measured.", f"1 to {recovery.MOST_SETS}")
    fractions, by_set = found
    if reserve > 0:
        fractions = (fractions[0], *(recovery.in_reserve(span) for span in fractions[1:]))
    meaning = KEPT_RESERVE if reserve > 0 else KEPT
    kept = recovery.mean_of(fractions)
    lift = stated(request.exercise)
    against, totals = _against(request, seconds, lift)
    drop, drops = _drop(request, seconds, failure, lift)
    words = () if isinstance(request.compared_with, UnsetType) else REPORTS
    return RestAnswer(
        reps_by_set=[estimate(span.scaled(request.reps), meaning) for span in fractions],
        total_reps=estimate(kept.scaled(sets * request.reps), meaning),
        reps_kept=estimate(kept, meaning),
        against=against,
        load_drop=drop,
        studies=StudiesOfRest(
            by_set=[_by_set(one) for one in by_set],
            totals=[_totals(one) for one in totals],
            load_drop=[_measured_drop(one) for one in drops],
            in_words=[ReportedRest(exercise=one.name, finding=one.finding, source=one.source) for one in words],
        ),
        basis=Basis(
            method="bracketed by the results measured at the nearest shorter and the nearest longer rest; no formula is published",
            sources=list(
                dict.fromkeys(
                    [*(one.source for group in (by_set, totals, drops, words) for one in group), "design_choice"]
                )
            ),
            assumptions=[
                "The same rest between all sets, the same load in all of them unless it is dropped.",
                "Losses that a study gives for several lifts together are taken for each of them.",
                "Each set of the load drop is lighter than the one before it by the same fraction.",
            ],
            evidence="published",
        ),
        cautions=cautions(
            *_codes(request, drop, seconds, by_set),
            measured=str(recovery.SETS_MEASURED),
            longest=f"{BY_SET[-1].rest:g}",
            rest=f"{SHORTEST:g}",
        ),
    )


def _against(
    request: RestInterval, seconds: float, lift: str | None
) -> tuple[Estimate | None, tuple[TotalsResult, ...]]:
    if isinstance(request.compared_with, UnsetType):
        return None, ()
    other = si(request.compared_with)
    if not SHORTEST <= other <= LONGEST:
        raise Refusal.one(
            "compared_with",
            f"Rests of {SHORTEST:g} to {LONGEST:g} s were compared, no others.",
            f"{SHORTEST:g} to {LONGEST:g} s",
        )
    ratio, used = recovery.total_against(seconds, other, lift)
    return estimate(ratio, AGAINST), used


def _drop(
    request: RestInterval, seconds: float, failure: float, lift: str | None
) -> tuple[LoadDrop | None, tuple[DropResult, ...]]:
    load = None if isinstance(request.load, UnsetType) else positive(request.load, "/load")
    bar_of(request.bar, "kg")  # a bar that cannot be is refused even where nothing is put on it
    found = recovery.load_drop(seconds, failure, lift, to_failure=request.reps_in_reserve == 0)
    if found is None:
        return None, ()
    drop, used = found
    loads = None
    if load is not None and not isinstance(request.load, UnsetType):
        unit = request.load.unit
        loads = [
            SetLoad(
                set=number + 1,
                load=mass_estimate(span, unit, "at the largest and the smallest drop"),
                loadable=loaded(request.bar, span.value, unit),
            )
            for number, span in enumerate(recovery.loads_by_set(load, drop, int(request.sets)))
        ]
    return LoadDrop(per_set=estimate(drop, DROP), loads=loads), used


def _codes(request: RestInterval, drop: LoadDrop | None, seconds: float, by_set: tuple[SetsResult, ...]) -> list[str]:
    codes = ["rest_group_means"]
    if request.reps_in_reserve > 0:
        codes.append("rest_to_failure")
    if not isinstance(request.exercise, UnsetType) and not any(request.exercise in one.exercises for one in by_set):
        codes.append("rest_other_lift")
    if request.sets > recovery.SETS_MEASURED:
        codes.append("rest_later_sets")
    if seconds > BY_SET[-1].rest:
        codes.append("rest_above_measured")
    if drop is None:
        return [*codes, "load_drop_not_measured"]
    if drop.per_set.low == 0:
        codes.append("load_drop_bound")
    if drop.loads and any(one.loadable is None for one in drop.loads):
        codes.append("bar_alone_too_heavy")
    return codes


def _by_set(one: SetsResult) -> MeasuredRest:
    return MeasuredRest(
        exercise=one.name,
        rest=duration(one.rest, SECONDS),
        kept_by_set=[
            SpanKept(low=round(low, 4), high=round(high, 4)) for low, high in zip(one.low, one.high, strict=True)
        ],
        source=one.source,
    )


def _totals(one: TotalsResult) -> MeasuredTotals:
    shortest = one.points[0][1]
    return MeasuredTotals(
        exercise=one.name,
        totals=[
            MeasuredTotal(rest=duration(seconds, SECONDS), ratio=round(total / shortest, 4))
            for seconds, total in one.points
        ],
        source=one.source,
    )


def _measured_drop(one: DropResult) -> MeasuredDrop:
    return MeasuredDrop(
        exercise=one.name, rest=duration(one.rest, SECONDS), low=one.low, high=one.high, source=one.source
    )


OPERATION: Final = Operation(
    name="rest",
    tag="Volume",
    summary="Repetitions kept at a rest, or the load drop that keeps them",
    description="For 1 to 5 sets with one rest (60 to 300 s, in s or min) between them: the repetitions of each set, all of them as a fraction of sets × the first "
    "set's, on request against another rest, and the load drop from set to set that keeps the repetitions, with loads (kg or lb) where one is given. "
    "Bracketed by measured results, for no formula is published; first sets of 8 to 16 repetitions to failure, at most 2 of them in reserve.",
    request=RestInterval,
    answer=RestAnswer,
    compute=rest,
    cost=2,
    examples=(
        Example(
            "front-squats",
            "4 front squat sets of 6 with 2 in reserve, 90 s of rest against 3 min",
            {
                "sets": 4,
                "reps": 6,
                "reps_in_reserve": 2,
                "rest": {"value": 90, "unit": "s"},
                "compared_with": {"value": 3, "unit": "min"},
                "exercise": "front_squat",
                "load": {"value": 62.5, "unit": "kg"},
                "bar": {"bar": {"value": 15, "unit": "kg"}},
            },
        ),
        Example(
            "sets-to-failure",
            "3 back squat sets of 10 to failure, 1 min of rest",
            {
                "sets": 3,
                "reps": 10,
                "rest": {"value": 1, "unit": "min"},
                "exercise": "back_squat_high_bar",
                "load": {"value": 45, "unit": "kg"},
                "bar": {"bar": {"value": 15, "unit": "kg"}},
            },
        ),
    ),
)
