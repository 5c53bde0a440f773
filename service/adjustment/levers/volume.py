"""The same lift in smaller helpings: repetitions, sets, days, rest and tempo.

None of them changes what one repetition asks of the region. What falls is the sum over a session, and only to that
extent do they meet the target.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor

from msgspec.structs import replace

from service.adjustment.consultation import CHOICE, Case, Found, RuledOut, Trial, assess
from service.adjustment.stimulus import rest_factor
from service.training.rest import reps_kept
from service.training.volume import Reps


def smaller_sessions(case: Case) -> Iterator[Found]:
    """Every change of dose allowed, each with its number or the reason why it is none."""
    if "reps" in case.levers:
        yield from _fewer_reps(case)
    if "sets" in case.levers:
        yield from _fewer_sets(case)
    if "days" in case.levers:
        yield from _more_days(case)
    if "rest" in case.levers:
        yield from _rest_alone(case)
    if "tempo" in case.levers:
        yield RuledOut(
            ("tempo",),
            "A slower tempo alone leaves the load and the posture, and so the demand at rest, as they are; that slow "
            "lifting lowers the peak of a repetition is a direction only. It is offered with less load.",
        )


def _fewer_reps(case: Case) -> Iterator[Found]:
    now = case.now
    low, high = floor(now.reps.low * case.target), floor(now.reps.high * case.target)
    if low < 1:
        yield RuledOut(("reps",), "The repetitions are so few that the target would leave less than one.")
        return
    yield assess(case, Trial(("reps",), replace(now, reps=Reps(low, high))), by_exposure=True)


def _fewer_sets(case: Case) -> Iterator[Found]:
    now = case.now
    sets = floor(now.sets * case.target)
    if sets < 1:
        yield RuledOut(
            ("sets",), "One set is the least that keeps strength (spiering_2021); a part of it is not offered."
        )
        return
    fewer = replace(now, sets=sets)
    yield assess(case, Trial(("sets",), fewer), by_exposure=True)
    longer = _longer_rest(case)
    if "rest" not in case.levers or longer is None:
        return
    yield assess(case, Trial(("sets", "rest"), replace(fewer, rest=longer)), by_exposure=True)


def _more_days(case: Case) -> Iterator[Found]:
    now = case.now
    if now.days is None:
        yield RuledOut(("days",), "The days a week are not stated in the prescription.")
        return
    for days in range(now.days + 1, case.most_days + 1):
        sets = ceil(now.weekly_sets / days)
        within_week = sets * days <= now.weekly_sets * CHOICE.weekly_sets_may_grow_to
        if within_week and sets < now.sets and sets / now.sets <= case.target:
            yield assess(case, Trial(("days",), replace(now, sets=sets, days=days)), by_exposure=True)
            return
    yield RuledOut(("days",), "No number of days within the limit brings a session's share of the work to the target.")


def _longer_rest(case: Case) -> float | None:
    """The configured longer rest [s], if it is longer than the present one and measured results speak to both."""
    now, longer = case.now, CHOICE.long_rest
    if now.rest is None or now.rest >= longer or reps_kept(now.rest, now.sets) is None:
        return None
    return longer


def _rest_alone(case: Case) -> Iterator[Found]:
    longer = _longer_rest(case)
    if longer is None:
        why = (
            "is not stated"
            if case.now.rest is None
            else f"is {case.now.rest:.0f} s, and nothing longer helps by what is measured"
        )
        yield RuledOut(("rest",), f"The rest in the prescription {why}.")
        return
    gain = rest_factor(replace(case.now, rest=longer), case.now)
    yield RuledOut(
        ("rest",),
        f"Rest alone changes neither a repetition's demand nor the number of repetitions asked; with {longer:.0f} s "
        f"about {100 * (gain - 1):.0f} % more of them can be kept over the sets. It is offered with fewer sets.",
    )
