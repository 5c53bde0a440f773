"""Changes of single lifts put together to a week that asks a sore region for less: one, more where one is too little.

Each lift with a noticeable part in what the week asks is searched by itself, with the target to which it alone would
have to come for the week to reach its own. Where one change does it, no second is looked for. Where none does, every
lift is searched with the target of the week, which all of them together reach, and the best partial weeks are carried
on by one more change at a time (a beam). The beam is as wide as all single changes of all lifts that are searched, so
that one and two changes are exact, in small weeks all of it; with three and four at most the configured number of
partial weeks is carried on, and what that misses in weeks small enough to try everything is measured.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from service.adjustment.week.alternatives import Alternative, alternatives, leading, part_alone, units
from service.adjustment.week.exposure import POWERS
from service.adjustment.week.order import Order, order, varied
from service.adjustment.week.problem import WeekCase
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.vocabulary import Weighting

_WEEK: Final = CHOICES.week
_SUM: Final[Weighting] = "linear"
_MOST_PART: Final = 1.0
"""Part of its present demand to which a lift is brought at the most [1]."""
_TOLERANCE: Final = 1e-9
"""Of two ratios [1]: what is less than this between them comes from rounding."""


class ChangedWeek(Struct, frozen=True):
    """A week with some lifts changed, by central values.

    Attributes:
        changes: at most one of each lift
        sizes: of what it asks of the sore region against the present week, by weighting [1]
    """

    changes: tuple[Alternative, ...]
    sizes: dict[Weighting, float]

    @property
    def lost(self) -> float:
        """Training effect that is lost, of all lifts together, each lift counting one [1]."""
        return sum(one.lost for one in self.changes)

    @property
    def falls_everywhere(self) -> bool:
        """Whether it asks less under every weighting."""
        return all(ratio < 1.0 - _TOLERANCE for ratio in self.sizes.values())

    def meets(self, case: WeekCase) -> bool:
        """Whether it reaches the target, with no weighting that asks more than now."""
        reached = self.sizes[case.weighting] <= case.target + _TOLERANCE
        return reached and all(ratio <= 1.0 + _TOLERANCE for ratio in self.sizes.values())


class Found(Struct, frozen=True):
    """What the search of a week comes to.

    Attributes:
        weeks: those that reach the target, the first to be tried first
        considered: weeks that were put together [count]
        weighting: under which they reach it: the one of the case, or the sum where none does under that
    """

    weeks: list[ChangedWeek]
    considered: int
    weighting: Weighting


def search(case: WeekCase, beam: int | None = None) -> Found:
    """The changed weeks that reach the target, the first to be tried first.

    Args:
        case: the week
        beam: partial weeks that are carried on, None for the configured number [count]

    Returns:
        no weeks where no change of the lifts that are computed does it
    """
    beam = _WEEK.beam if beam is None else beam
    first = _eased_first(case)
    if first is None:
        return Found([], 0, case.weighting)
    if first and (met := [one for one in _weeks(case, [first]) if one.meets(case)]):
        return Found(met, 1, case.weighting)
    lifts = [unit for unit in leading(case) if all(unit != one.entries for one in first)]
    alone = ((unit, part) for unit in lifts if (part := part_alone(case, unit, first)) is not None)
    single = [
        one
        for unit, part in alone
        if part >= _WEEK.least_part
        for one in _weeks(case, ((*first, one) for one in _searched(case, unit, min(part, _MOST_PART))))
    ]
    if met := [one for one in single if one.meets(case)]:
        return Found(in_order(case, met), len(single), case.weighting)
    by_lift = [_searched(case, unit, case.target) for unit in lifts]
    together, considered = _together(case, by_lift, beam, first)
    considered += len(single)
    if together or case.only_less or case.weighting == _SUM:
        return Found(in_order(case, together), considered, case.weighting)
    by_the_sum = replace(case, weighting=_SUM)
    together, count = _together(by_the_sum, by_lift, beam, first)
    return Found(in_order(case, together), considered + count, _SUM if together else case.weighting)


def _eased_first(case: WeekCase) -> tuple[Alternative, ...] | None:
    """In the red tier what hurts, each lift eased by itself; None where one must stay or nothing of it is sure."""
    if not case.only_less:
        return ()
    hurting = [unit for unit in units(case.week) if not case.hurts.isdisjoint(unit)]
    if any(not case.staying.isdisjoint(unit) for unit in hurting):
        return None
    eased = [one for unit in hurting for one in _searched(case, unit, case.target)[:1]]
    return tuple(eased) if len(eased) == len(hurting) else None


def _searched(case: WeekCase, unit: tuple[int, ...], target: float) -> list[Alternative]:
    """What one lift may be changed to; nothing where its consultation by itself is refused."""
    try:
        return list(alternatives(case, unit, target))
    except Refusal:
        return []


def _together(
    case: WeekCase, by_lift: Sequence[Sequence[Alternative]], beam: int, first: tuple[Alternative, ...]
) -> tuple[list[ChangedWeek], int]:
    """Weeks with as few changes as reach the target, from the partial ones nearest to it for what they cost.

    Returns:
        the weeks, and how many were put together [count]
    """
    considered = 0
    partial: list[tuple[int, tuple[Alternative, ...]]] = [(0, first)]
    for _ in range(min(_WEEK.most_changes, len(by_lift))):
        grown = [
            (lift + 1, (*changes, one))
            for start, changes in partial
            for lift in range(start, len(by_lift))
            for one in by_lift[lift]
        ]
        weeks = _weeks(case, (changes for _, changes in grown))
        considered += len(weeks)
        if met := [one for one in weeks if one.meets(case)]:
            return met, considered
        judged = sorted(zip(grown, weeks, strict=True), key=lambda one: _promise(case, one[1]))
        partial = [one for one, _ in judged[:beam]]
    return [], considered


def _promise(case: WeekCase, week: ChangedWeek) -> float:
    """How little is left to the target, and how little was paid for it: what a partial week is carried on by [1]."""
    return max(0.0, week.sizes[case.weighting] - case.target) + _WEEK.loss_weight * week.lost


def _weeks(case: WeekCase, changes: Iterable[tuple[Alternative, ...]]) -> list[ChangedWeek]:
    scales = [(weighting, now, 1.0 / POWERS[weighting]) for weighting, now in case.sums.items()]

    def sizes(some: tuple[Alternative, ...]) -> dict[Weighting, float]:
        return {
            weighting: max(0.0, 1.0 - sum([one.saved[weighting] for one in some]) / now) ** power
            for weighting, now, power in scales
        }

    return [ChangedWeek(some, sizes(some)) for some in changes]


def in_order(case: WeekCase, weeks: Iterable[ChangedWeek]) -> list[ChangedWeek]:
    """The weeks in the order in which to try them, as far as it is known before they are worked out."""

    def key(one: ChangedWeek) -> Order:
        return order(case, one.changes, one.sizes[case.weighting], sure=one.falls_everywhere)

    return varied(weeks, key)
