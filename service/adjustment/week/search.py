"""Changes of single lifts put together to a week that asks a sore region for less: one, more where one is too little.

What hurts is eased first, where that is stated. Each lift with a noticeable part in what the week asks is searched by
itself, with the target to which it alone would then have to come for the week to reach its own. Where one change does
it, no second is looked for. Where none does, every lift is searched with the target of the week, which all of them
together reach, and the best partial weeks are carried on by one more change at a time (a beam). The beam is as wide as
all single changes of all lifts that are searched, so that one and two changes are exact, in small weeks all of it; with
three and four at most the configured number of partial weeks is carried on, and what that misses in weeks small enough
to try everything is measured.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import zip_longest
from typing import Final, TypeAlias

from msgspec.structs import replace

from service.adjustment.evaluation import RATIO_TOLERANCE
from service.adjustment.prescription import Prescription
from service.adjustment.week.alternatives import Alternative, largest, leading, part_alone
from service.adjustment.week.changed import ChangedWeek, Found
from service.adjustment.week.easing import Easing, easing, most_repeated, only_less, searched
from service.adjustment.week.exposure import POWERS
from service.adjustment.week.order import Order, order, varied
from service.adjustment.week.problem import WeekCase
from service.knowledge.design_choices import CHOICES
from service.vocabulary import Weighting

_WEEK: Final = CHOICES.week
_SUM: Final[Weighting] = "linear"
_MOST_PART: Final = 1.0
"""Part of its present demand to which a lift is brought at the most [1]."""


_Way: TypeAlias = tuple[Alternative, ...]
"""Changes of lifts, at most one of each."""


def search(case: WeekCase, beam: int | None = None, *, all_groups: bool = True) -> Found:
    """The changed weeks that ease what hurts and reach the target, the first to be tried first.

    Args:
        case: the week
        beam: partial weeks that are carried on, None for the configured number [count]
        all_groups: whether weeks in which what hurts stays are looked for though there are others

    Returns:
        No weeks where no change does it. After those that ease what hurts come those in which something that hurts
        stays: the lift with the largest part of the week changed alone, one at the most. Where all that reach the
        target have something that nobody wants first, what eases what hurts by itself comes before them, by direction,
        then by fewer repetitions, though the week need not reach its target by that. Where what hurts is eased by a
        change that is not computed, the first group is that change alone, in the order of the lift by itself: how far
        the week then is from its target nobody can say.
    """
    beam = _WEEK.beam if beam is None else beam
    if case.only_less:
        return _only_less(case)
    eased = easing(case, beam)
    return replace(_eased_first(case, eased, beam, all_groups=all_groups), not_eased=eased.not_eased)


def _eased_first(case: WeekCase, eased: Easing, beam: int, *, all_groups: bool) -> Found:
    """The changed weeks by what becomes of the lifts that hurt, as search has them.

    Args:
        case: the week
        eased: what eases the lifts that hurt
        beam: partial weeks that are carried on [count]
        all_groups: whether weeks in which it stays are looked for though there are others
    """
    ways = eased.ways
    if not case.now():
        groups = [ways] if ways else [[(one,) for one in each] for each in most_repeated(case)]
        weeks = [_weeks(case, group) for group in groups]
        return Found(weeks, sum(map(len, weeks)), case.weighting)
    first = _reaching(case, ways, beam)
    if not ways:
        return first
    if any(case.parts[one.entries[0]] is None for one in ways[0]):
        alone = [one for one in _weeks(case, ways) if not one.asks_more]
        return Found([alone, *first.groups], first.considered + len(alone), first.weighting)
    tried = [_weeks(case, some) for some in eased.milder] if all(one.has_faults for one in first.weeks) else []
    milder = [[one for one in some if not (one.asks_more or one.has_faults)] for some in tried]
    if first.weeks and not all_groups:
        return replace(first, groups=[*milder, first.weeks])
    others = _leading_alone(case, {one.entries for one in ways[0]})
    last = others if first.weighting == case.weighting else []
    considered = first.considered + len(others) + sum(map(len, tried))
    return Found([*milder, first.weeks, last], considered, first.weighting, one_of_last=bool(last))


def _leading_alone(case: WeekCase, eased: set[tuple[int, ...]]) -> list[ChangedWeek]:
    """The lift with the largest part of the week changed alone, where that does it and something that hurts stays.

    Args:
        case: the week
        eased: places of the lifts that hurt and that something eases [count]
    """
    unit = largest(case)
    if eased <= {unit} or not case.staying.isdisjoint(unit):
        return []
    return in_order(case, (one for one in _weeks(case, _alone(case, unit, [()])) if one.meets(case)))


def _only_less(case: WeekCase) -> Found:
    """In the red tier the one week in which all that loads the region is eased or left out."""
    plan = only_less(case)
    if plan is None or not plan[0]:
        return Found([], 0, case.weighting)
    changes, out = plan
    return Found([[replace(one, left_out=out) for one in _weeks(case, [changes])]], 1, case.weighting)


def _reaching(case: WeekCase, ways: Sequence[tuple[Alternative, ...]], beam: int) -> Found:
    """Weeks that reach the target with what hurts eased in one of some ways, and as few lifts changed besides as do it.

    Args:
        case: the week
        ways: in which what hurts is eased, none where nothing is
        beam: partial weeks that are carried on [count]
    """
    eased = in_order(case, _weeks(case, ways))
    firsts = _firsts(eased, ways)
    own = [one.entries for one in firsts[0]]
    known = {_done(way) for way in ways}
    further = (way for unit in own for way in _further(case, unit, firsts[0]))
    eased += _weeks(case, (way for way in further if _done(way) not in known))
    if met := [one for one in eased if one.meets(case)]:
        return Found([in_order(case, met)], len(eased), case.weighting)
    lifts = [unit for unit in leading(case) if unit not in own]
    single = [one for unit in lifts for one in _weeks(case, _alone(case, unit, firsts))]
    considered = len(eased) + len(single)
    if met := [one for one in single if one.meets(case)]:
        return Found([_in_turn(case, met, firsts)], considered, case.weighting)
    by_lift = [searched(case, unit, case.target) for unit in lifts]
    together, count = _together(case, by_lift, beam, firsts)
    considered += count
    if together or case.weighting == _SUM:
        return Found([_in_turn(case, together, firsts)], considered, case.weighting)
    by_the_sum = replace(case, weighting=_SUM)
    together = [one for one in eased if one.meets(by_the_sum)]
    if not together:
        together, count = _together(by_the_sum, by_lift, beam, firsts)
        considered += count
    return Found([_in_turn(case, together, firsts)], considered, _SUM if together else case.weighting)


def _alone(case: WeekCase, unit: tuple[int, ...], firsts: Sequence[_Way]) -> list[_Way]:
    """One more lift brought so far that the week reaches its target, with others eased first in each of some ways."""
    parts = [part for first in firsts if (part := part_alone(case, unit, first)) is not None]
    if not parts or min(parts) < _WEEK.least_part:
        return []
    return [(*first, one) for one in searched(case, unit, min(*parts, _MOST_PART)) for first in firsts]


def _further(case: WeekCase, unit: tuple[int, ...], first: _Way) -> list[_Way]:
    """One of the lifts that are eased brought further, so that the week reaches its target by them alone."""
    part = part_alone(case, unit, [one for one in first if one.entries != unit])
    if part is None or not _WEEK.least_part <= part < case.target:
        return []
    return [tuple(instead if one.entries == unit else one for one in first) for instead in searched(case, unit, part)]


def _done(way: _Way) -> tuple[Prescription, ...]:
    """What is done instead: by it changes are told apart."""
    return tuple(one.prescription for one in way)


def _firsts(eased: Sequence[ChangedWeek], ways: Sequence[_Way]) -> list[_Way]:
    """The ways to ease what hurts that are carried on: the smallest departure, and what comes first by itself.

    Args:
        eased: the weeks with what hurts eased, in their order
        ways: the same changes in the order of the lifts by themselves

    Returns:
        none that asks more under some weighting, where others do not; one without changes where nothing is eased
    """
    less = [one.changes for one in eased if not one.asks_more]
    if not less:
        return list(ways[:1]) or [()]
    by_itself = next(way for way in ways if way in less)
    return less[:1] if by_itself == less[0] else [less[0], by_itself]


def _in_turn(case: WeekCase, weeks: Iterable[ChangedWeek], firsts: Sequence[_Way]) -> list[ChangedWeek]:
    """The weeks in their order, by turns with each of the ways in which what hurts is eased."""
    ordered = in_order(case, weeks)
    by_way = [[one for one in ordered if one.changes[: len(way)] == way] for way in firsts]
    in_turn = [one for turn in zip_longest(*by_way) for one in turn if one is not None]
    return [*in_turn, *(one for one in ordered if one not in in_turn)]


def _together(
    case: WeekCase, by_lift: Sequence[Sequence[Alternative]], beam: int, firsts: Sequence[_Way]
) -> tuple[list[ChangedWeek], int]:
    """Weeks with as few changes as reach the target, from the partial ones nearest to it for what they cost.

    Returns:
        the weeks, and how many were put together [count]
    """
    considered = 0
    partial: list[tuple[int, _Way]] = [(0, first) for first in firsts]
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
    scales = [(weighting, now or 1.0, 1.0 / POWERS[weighting]) for weighting, now in case.sums.items()]

    def sizes(some: tuple[Alternative, ...]) -> dict[Weighting, float]:
        return {
            weighting: max(0.0, 1.0 - sum([one.saved[weighting] for one in some]) / now) ** power
            for weighting, now, power in scales
        }

    return [ChangedWeek(some, sizes(some)) for some in changes]


def in_order(case: WeekCase, weeks: Iterable[ChangedWeek]) -> list[ChangedWeek]:
    """The weeks in the order in which to try them, as far as it is known before they are worked out."""

    def key(one: ChangedWeek) -> Order:
        part = one.sizes[case.weighting]
        return order(case, one.changes, part, falls=one.falls, short=_short(case, one.changes))

    return varied(weeks, key)


def _short(case: WeekCase, changes: Sequence[Alternative]) -> int:
    """Muscles that changes leave below their floor, before anything is given back [count]."""
    lost: dict[str, float] = {}
    for one in changes:
        for muscle, sets in one.sets_lost.items():
            lost[muscle] = lost.get(muscle, 0.0) + sets
    over = ((case.sets.get(muscle, 0.0), case.floors.get(muscle, 0.0), sets) for muscle, sets in lost.items())
    return sum(sets - less < floor - RATIO_TOLERANCE <= sets for sets, floor, less in over)
