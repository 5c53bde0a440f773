"""rest: repetitions kept over the sets at a rest interval, or the load drop that keeps them."""

from __future__ import annotations

from service.api.models.base import omitted, stated_si
from service.api.models.common import (
    Basis,
    Estimate,
    cautions,
    estimate,
    mass_estimate,
    positive,
)
from service.api.models.equipment import bar_of, loaded
from service.api.models.prescription import reps_of
from service.api.operations.rest.models import (
    LoadDrop,
    MeasuredDrop,
    MeasuredRest,
    MeasuredTotal,
    MeasuredTotals,
    ReportedRest,
    RestAnswer,
    RestInterval,
    SetLoad,
    SpanKept,
    StudiesOfRest,
)
from service.errors import Refusal, into
from service.messages import Message, message
from service.training import rest as recovery
from service.training.rest_studies import BY_SET, LONGEST, REPORTS, SHORTEST, DropResult, SetsResult, TotalsResult
from service.units import Duration, TimeUnit, duration, si

KEPT = "everything measured at the nearest shorter and longer rests: group means, not the spread between people"
KEPT_RESERVE = "from the loss measured in sets to failure to no loss at all"
AGAINST = "over the studies that compared rests, each bracketed between the rests that it measured"
DROP = "between a cut that was too small and one that was too large to hold the repetitions, over the lifts measured"
SECONDS: TimeUnit = "s"


def rest(request: RestInterval) -> RestAnswer:
    """Repetitions over the sets and the load drop at a rest. Raises Refusal outside what was measured."""
    seconds, sets, reps = _seconds(request), int(request.sets), _reps_of_first_set(request)
    reserve = request.reps_in_reserve or 0.0
    failure = reps + reserve
    recovery.check_sets(seconds, failure)
    measured = recovery.set_fractions(seconds, sets)
    if measured is None:  # unreachable after the check: the bounds of sets are the schema's
        raise Refusal.one("sets", "Not so many sets were measured.", f"1 to {recovery.MOST_SETS}")
    fractions, by_set = measured
    if reserve > 0:
        fractions = (fractions[0], *(recovery.in_reserve(span) for span in fractions[1:]))
    meaning = KEPT_RESERVE if reserve > 0 else KEPT
    kept = recovery.mean_of(fractions)
    lift = request.exercise
    against, totals = _against(request, seconds, lift)
    drop, drops = _drop(request, seconds, failure, lift)
    words = () if omitted(request.compared_with) else REPORTS
    return RestAnswer(
        reps_by_set=[estimate(span.scaled(reps), meaning) for span in fractions],
        total_reps=estimate(kept.scaled(sets * reps), meaning),
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
            method=message("method_rest_bracketed"),
            sources=list(
                dict.fromkeys(
                    [*(one.source for group in (by_set, totals, drops, words) for one in group), "design_choice"]
                )
            ),
            assumptions=[
                message("assumed_same_rest_and_load"),
                message("assumed_losses_of_several_lifts"),
                message("assumed_even_load_drop"),
            ],
            evidence="published",
        ),
        cautions=cautions(*_specific(request, drop, seconds, by_set)),
    )


def _seconds(request: RestInterval) -> float:
    if request.hold is not None:
        raise Refusal.one("hold", "Rests were studied between sets of repetitions, not between holds.", "left out")
    if request.rest is None:
        detail, allowed = "Without a rest there is nothing to say of it.", f"{SHORTEST:g} to {LONGEST:g} s"
        raise Refusal.one("rest", detail, allowed, one_of=(Duration(SHORTEST, "s"),))
    return si(request.rest)


def _reps_of_first_set(request: RestInterval) -> int:
    """Repetitions of the first set [count]; of a range its top, after which the reserve is counted."""
    reps = request.reps
    return int(reps) if isinstance(reps, int | float) else reps_of(reps, request.hold).high


def _against(
    request: RestInterval, seconds: float, lift: str | None
) -> tuple[Estimate | None, tuple[TotalsResult, ...]]:
    other = stated_si(request.compared_with)
    if other is None:
        return None, ()
    if not SHORTEST <= other <= LONGEST:
        raise Refusal.one(
            "compared_with",
            f"Rests of {SHORTEST:g} to {LONGEST:g} s were compared, no others.",
            f"{SHORTEST:g} to {LONGEST:g} s",
            change=into(other, SHORTEST, LONGEST),
        )
    ratio, used = recovery.total_against(seconds, other, lift)
    return estimate(ratio, AGAINST), used


def _drop(
    request: RestInterval, seconds: float, failure: float, lift: str | None
) -> tuple[LoadDrop | None, tuple[DropResult, ...]]:
    load = request.load
    kilograms = (
        positive(load, "/load") if load is not None and load.value else None
    )  # of the body alone nothing can drop
    bar_of(request.bar, "kg")  # a bar that cannot be is refused even where nothing is put on it
    measured = recovery.load_drop(seconds, failure, lift, to_failure=not request.reps_in_reserve)
    if measured is None:
        return None, ()
    drop, used = measured
    loads = None
    if load is not None and kilograms is not None:
        unit = load.unit
        loads = [
            SetLoad(
                set=number + 1,
                load=mass_estimate(span, unit, "at the largest and the smallest drop"),
                loadable=loaded(request.bar, span.value, unit),
            )
            for number, span in enumerate(recovery.loads_by_set(kilograms, drop, int(request.sets)))
        ]
    return LoadDrop(per_set=estimate(drop, DROP), loads=loads), used


def _specific(
    request: RestInterval, drop: LoadDrop | None, seconds: float, by_set: tuple[SetsResult, ...]
) -> list[str | Message]:
    specific: list[str | Message] = ["rest_group_means"]
    if request.reps_in_reserve:
        specific.append("rest_to_failure")
    lift = request.exercise
    if lift is not None and not any(lift in one.exercises for one in by_set):
        specific.append("rest_other_lift")
    if request.sets > recovery.SETS_MEASURED:
        specific.append(message("rest_later_sets", measured=recovery.SETS_MEASURED))
    if seconds > BY_SET[-1].rest:
        specific.append(message("rest_above_measured", longest=duration(BY_SET[-1].rest, SECONDS)))
    if drop is None:
        return [*specific, "load_drop_not_measured"]
    if drop.per_set.low == 0:
        specific.append(message("load_drop_bound", rest=duration(SHORTEST, SECONDS)))
    if drop.loads and any(one.loadable is None for one in drop.loads):
        specific.append("bar_alone_too_heavy")
    return specific


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
