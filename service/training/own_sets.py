"""Validation of a lifter's own load–repetition curve.

Two errors are guarded against. A warm-up counts as a set near failure, because lifters misjudge their reserve far from
it (zourdos_2021, hackett_2017) and software cuts it off at the greatest value accepted; so only sets near failure
count. And a curve through two or three sets carries their errors far away from them; so it must stay within the
published relations and the spread between people (nuzzo_2024: one standard deviation either side), seen from the
heaviest of its sets, and never more narrowly than the test of a maximum repeats (grgic_2020). The same spread is the
interval of every answer without a curve, so a curve may move an answer inside that interval and not out of it.

In the simulation of the reference tests (5,000 warm-up days, reports cut off at 4; seeds 0 to 19) at most 0.2 % of
maxima were above 1.15 of the true one, the highest 1.23. Five honest sets near failure keep their curve in 96 to 98 %
and miss by 4.6 to 5.1 % (root mean square) against 5.4 to 5.8 % without it; with two sets a curve is no better than the
published relation.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from statistics import fmean
from typing import Final

from service.errors import Refusal, into
from service.knowledge.design_choices import CHOICES
from service.messages import message
from service.training.done_sets import DoneSet
from service.training.individual_profile import OwnCurve, fit
from service.training.load_repetition import RELATIONS, lifters_for, shares_at
from service.training.repetition_errors import behind
from service.training.repetition_maximum import TEST_ERROR, people_at

MOST_REPS: Final = RELATIONS["wathan"].reps[1]
MOST_RESERVE: Final = CHOICES.load_repetition.own_curve_most_reserve
_FEWEST_SETS: Final = 2
_INSTEAD: Final = "sets taken to failure or near it; without own sets the published relations answer"


def own_curve(sets: Sequence[DoneSet], exercise: str | None) -> OwnCurve:
    """The lifter's own curve through those of their sets that ended near failure.

    Args:
        sets: sets that were done
        exercise: id; None for any lift

    Raises:
        Refusal: where too few sets ended near failure, where they define no curve, and where the curve's maximum is
            outside the published span
    """
    near = [one for one in sets if one.reserve <= MOST_RESERVE and one.failure <= MOST_REPS]
    if len(near) < _FEWEST_SETS:
        raise Refusal.one(
            "sets",
            message(
                "curve_needs_sets_near_failure", reserve=MOST_RESERVE, reps=MOST_REPS, near=len(near), sets=len(sets)
            ),
            _INSTEAD,
        )
    mean = lifters_for(exercise).mean
    behind_them = [behind(one.reps, one.reserve) for one in near]
    curve = fit(
        [(one.load, one.failure) for one in near],
        sqrt(fmean(one.error(mean.share_at(one.stated)) ** 2 for one in behind_them)),
        fmean(one.likely.value - one.stated for one in behind_them),
    )
    check_span(curve, exercise, 1)
    return curve


def check_reps(reps: float, parameter: str) -> None:
    """Check repetitions to failure against the range in which own curves were studied.

    Args:
        reps: repetitions to failure [count]
        parameter: name of the argument to which a refusal points

    Raises:
        Refusal: for more repetitions than that
    """
    if reps > MOST_REPS:
        raise Refusal.one(
            parameter,
            f"{reps:g} repetitions to failure are outside what a lifter's own curve is used for.",
            f"1 to {MOST_REPS:g} repetitions to failure",
            change=into(reps, high=MOST_REPS) if parameter == "reps" else None,
        )


def check_span(curve: OwnCurve, exercise: str | None, reps: float) -> None:
    """Check a curve against the published span at a number of repetitions.

    Args:
        curve: the lifter's own
        exercise: id; None for any lift
        reps: repetitions to failure [count]

    Raises:
        Refusal: where the curve's load is outside the span
    """
    low, high = published_span(exercise, curve.heaviest_reps, reps)
    share = curve.load_at(reps) / curve.heaviest_load
    if not low <= share <= high:
        raise Refusal.one(
            "sets",
            message("curve_outside_published", reps=reps, share=share, low=low, high=high),
            _INSTEAD,
        )


def published_span(exercise: str | None, failure: float, reps: float) -> tuple[float, float]:
    """Lowest and highest load for some repetitions to failure as a share of the load for others.

    Over every relation that covers both and over people from one standard deviation below the mean to one above. The
    error of a test is added below the lowest value but not above the highest, for a load too heavy is what does harm.

    Args:
        exercise: id; None for any lift
        failure: repetitions to failure of the known load [count]
        reps: repetitions to failure of the load sought [count]

    Returns:
        lowest and highest share [1]

    Source: the relations; nuzzo_2024 (people), grgic_2020 (error of a test).
    """
    here, there = shares_at(exercise, failure), shares_at(exercise, reps)
    done, wanted = people_at(exercise, failure), people_at(exercise, reps)
    middle = wanted.mean / done.mean
    shares = [
        *(there[relation] / share for relation, share in here.items() if relation in there),
        wanted.below / done.below,
        wanted.above / done.above,
        middle,
    ]
    return min(shares) * (1 - TEST_ERROR), max(*shares, middle * (1 + TEST_ERROR))
