"""Sets, repetitions and days on the way back, and how much of them the first weeks after a break allow."""

from __future__ import annotations

from itertools import product
from math import ceil, inf
from typing import Final

import msgspec

from service.adjustment.return_plan.problem import TOLERANCE, ReturnCase
from service.knowledge.design_choices import CHOICES
from service.training.return_to_training import Transition, after_weeks_off, relative_volume
from service.training.volume import Reps

_RUNG: Final = 0.5
"""Of the ladder of repetitions at the least, in the middle of a range [count]."""


class Dose(msgspec.Struct, frozen=True, gc=False):
    """How much is done.

    Attributes:
        sets: sets of a session [count]
        rung: position of their repetitions on the ladder, fewest first [count]
        days: training days a week [count], None where not stated
    """

    sets: int
    rung: int
    days: int | None


def middle(reps: Reps) -> float:
    """Repetitions in the middle of a range [count]."""
    return (reps.low + reps.high) / 2


def sets_between(case: ReturnCase) -> tuple[int, ...]:
    """Sets on the way [count], fewest first: from one to the original's, above these up to the adjusted one's."""
    end, most = case.original.sets, case.adjusted.sets
    grade = max(1, ceil(end / CHOICES.return_plan.most_grades))
    marks = [*range(end, 0, -grade), 1, most]
    mark = end
    while mark < most:
        marks.append(mark)
        mark += ceil(_apart(mark - end, 1))
    return tuple(sorted(set(marks)))


def ladder(case: ReturnCase) -> tuple[Reps, ...]:
    """Ranges of repetitions between the two prescriptions and some way below them, fewest first.

    One end of the original's range moves at a time, so that a rung is half a repetition in the middle of the range, and
    more where the ranges lie far apart; the adjusted prescription's own range stands among them. After a break it
    reaches down to what the first week allows.
    """
    adjusted, original = case.adjusted.reps, case.original.reps
    after_the_break = [rule.volume_share for rule in after_weeks_off(case.weeks_off)]
    share = min([CHOICES.return_plan.fewest_reps_share, *after_the_break])
    least = share * min(middle(adjusted), middle(original))
    width = max(1, original.high - original.low)
    grade = max(_RUNG, middle(original) / CHOICES.return_plan.most_grades)
    ranges = {original, adjusted}
    lower, mark = original, middle(original)
    while lower.high > 1 and middle(lower) > least:
        from_top = lower.high - lower.low == width or lower.low == 1
        lower = Reps(lower.low, lower.high - 1) if from_top else Reps(lower.low - 1, lower.high)
        if mark - middle(lower) >= grade or middle(lower) <= least or lower.high == 1:
            ranges.add(lower)
            mark = middle(lower)
    upper, mark = original, middle(original)
    while middle(upper) < middle(adjusted):
        from_below = upper.high - upper.low == width
        upper = Reps(upper.low + 1, upper.high) if from_below else Reps(upper.low, upper.high + 1)
        if middle(upper) - mark >= _apart(mark - middle(original), _RUNG):
            ranges.add(upper)
            mark = middle(upper)
    return tuple(sorted(ranges, key=lambda reps: (middle(reps), reps.low)))


def _apart(above: float, least: float) -> float:
    """How far the next mark is from one that lies so far above the original's; more where that is much."""
    return max(least, CHOICES.return_plan.excess_grade * above)


def heaviest_share(dose: Dose, reps: Reps, normal: float, rule: Transition) -> float | None:
    """The share of the maximum up to which a week after a break allows a dose [1], None where it allows none.

    One set of the fewest repetitions on one day is always allowed, for there is no smaller dose; on more days it has to
    keep to the share of the volume, while its load is free of the relative volume, which is one of a session.

    Args:
        dose: what would be done
        reps: its repetitions
        normal: repetitions of the original's week [count]
        rule: of the week

    Source: caterisano_2019.
    """
    days = dose.days or 1
    if rule.most_days is not None and days > rule.most_days:
        return None
    least_session = dose.sets == 1 and dose.rung == 0
    if dose.sets * middle(reps) * days > rule.volume_share * normal + TOLERANCE and not (least_session and days == 1):
        return None
    return inf if least_session or rule.irv_high is None else rule.irv_high / relative_volume(dose.sets, reps.high, 1.0)


def cut_to(dose: Dose, rungs: tuple[Reps, ...], share_of_max: float, normal: float, rule: Transition) -> Dose:
    """The dose brought down to what a week allows: days to their limit, then sets, then repetitions, then days further.

    Args:
        dose: what was done before
        rungs: ranges of repetitions, fewest first
        share_of_max: share of the maximum that the load is [1]
        normal: repetitions of the original's week [count]
        rule: of the week
    """
    fewer_days = (None,) if dose.days is None else range(dose.days, 0, -1)
    for days, rung, sets in product(fewer_days, range(dose.rung, -1, -1), range(dose.sets, 0, -1)):
        cut = Dose(sets, rung, days)
        most = heaviest_share(cut, rungs[rung], normal, rule)
        if most is not None and share_of_max <= most + TOLERANCE:
            return cut
    return Dose(1, 0, None if dose.days is None else 1)
