"""The same lift in smaller helpings: repetitions, sets, days, rest and tempo.

None of them changes what one repetition asks of the region. What falls is the sum over a session, and only to that
extent do they meet the target.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor

from msgspec.structs import replace

from service.adjustment.consultation import Assessment, Case, RuledOut, Trial
from service.adjustment.evaluation import assess
from service.adjustment.stimulus import rest_factor
from service.knowledge.design_choices import CHOICES
from service.training.rest import reps_kept
from service.training.volume import Reps


def smaller_sessions(case: Case) -> Iterator[Assessment]:
    """Every change of volume, rest and tempo allowed, each as a candidate or with the reason why it gives none."""
    if "reps" in case.levers:
        yield _fewer_reps(case)
    if "sets" in case.levers:
        yield from _fewer_sets(case)
    if "days" in case.levers:
        yield _more_days(case)
    if "rest" in case.levers:
        yield _rest_alone(case)
    if "tempo" in case.levers:
        yield RuledOut(("tempo",), "tempo_alone")


def _fewer_reps(case: Case) -> Assessment:
    now = case.now
    low, high = floor(now.reps.low * case.target), floor(now.reps.high * case.target)
    if low < 1:
        return RuledOut(("reps",), "reps_below_one")
    return assess(case, Trial(("reps",), replace(now, reps=Reps(low, high))), by_exposure=True)


def _fewer_sets(case: Case) -> Iterator[Assessment]:
    now = case.now
    sets = floor(now.sets * case.target)
    if sets < 1:
        yield RuledOut(("sets",), "sets_below_one")
        return
    fewer = replace(now, sets=sets)
    yield assess(case, Trial(("sets",), fewer), by_exposure=True)
    longer = _longer_rest(case)
    if "rest" not in case.levers or longer is None:
        return
    yield assess(case, Trial(("sets", "rest"), replace(fewer, rest=longer)), by_exposure=True)


def _more_days(case: Case) -> Assessment:
    now = case.now
    if now.days is None:
        return RuledOut(("days",), "days_not_stated")
    for days in range(now.days + 1, case.most_days + 1):
        sets = ceil(now.weekly_sets / days)
        within_week = sets * days <= now.weekly_sets * CHOICES.adjustments.weekly_sets_may_grow_to
        if within_week and sets < now.sets and sets / now.sets <= case.target:
            return assess(case, Trial(("days",), replace(now, sets=sets, days=days)), by_exposure=True)
    return RuledOut(("days",), "days_not_enough")


def _longer_rest(case: Case) -> float | None:
    """The configured longer rest [s], if it is longer than the present one and measured results speak to both."""
    now, longer = case.now, CHOICES.adjustments.long_rest
    if now.rest is None or now.rest >= longer or now.sets == 1 or reps_kept(now.rest, now.sets) is None:
        return None
    return longer


def _rest_alone(case: Case) -> RuledOut:
    if case.now.rest is None:
        return RuledOut(("rest",), "rest_not_stated")
    longer = _longer_rest(case)
    if longer is None:
        return RuledOut(("rest",), "longer_rest_not_measured", facts={"rest": case.now.rest})
    gain = rest_factor(replace(case.now, rest=longer), case.now)
    return RuledOut(("rest",), "longer_rest_alone", facts={"rest": longer, "share": gain - 1})
