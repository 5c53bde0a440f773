"""The order in which changed weeks are to be tried: the smallest departure first among those that are equally fit.

What falls under no weighting comes last. What is fitter comes first: fewer lifts changed; less that nobody wants first
(sets to failure, another region that pays for it, unloading where strength or a tendon is trained); relief under more
weightings; fewer muscles left below their floor; a lift that hurts; what the complaint as it is told speaks for; one
exercise changed in one way on all its days.
Of equally fit weeks the smallest departure from what is done now comes first: a program for tendons where one is asked
for; then a lift whose load is known before one whose load has still to be found; then the fewest things otherwise, each
lever one, a tempo to get used to one more, each lift that gets sets to give a muscle back one; then the least relief
beyond the target; and then the most training effect kept. The order is common practice and our own choice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import Final, NamedTuple, Protocol, TypeVar

from service.adjustment.week.alternatives import Alternative
from service.adjustment.week.problem import WeekCase
from service.knowledge.design_choices import CHOICES
from service.vocabulary import WEIGHTINGS

_FREE: Final = CHOICES.adjustments.overshoot_free
_DECIMALS: Final = 4
"""Decimals to which figures are compared."""
_BEFORE_SPREAD: Final = 4
"""Fields of the order that come before a choice of kinds: no fall, lifts changed, faults, falls [count]."""


class Order(NamedTuple):
    """What weeks are ordered by, each better the smaller it is.

    Attributes:
        no_fall: whether it falls under no weighting
        changed: lifts that are [count]
        faults: what nobody wants first [count]
        unsure: weightings under which it does not fall [count]
        short: muscles left below their floor [count]
        elsewhere: whether none of the lifts that are changed hurts
        told: how far the complaint as it is told speaks against it [1]
        unlike: further ways in which one exercise is changed on other days [count]
        no_program: whether no change is a program for tendons
        untested: lifts changed to a load that has still to be found [count]
        otherwise: things that are done otherwise [count]
        beyond: relief beyond the target, so much of it free [1]
        lost: training effect lost, each lift counting one [1]
    """

    no_fall: bool
    changed: int
    faults: int
    unsure: int
    short: int
    elsewhere: bool
    told: float
    unlike: int
    no_program: bool
    untested: int
    otherwise: int
    beyond: float
    lost: float

    @property
    def unwanted(self) -> tuple[int, int, int]:
        """What nobody wants first, whatever is known of the demand [count]."""
        return self.faults, self.short, self.unlike


def order(
    case: WeekCase,
    changes: Sequence[Alternative],
    part_reached: float,
    *,
    falls: int,
    elsewhere_more: int = 0,
    short: int = 0,
    given_back: int = 0,
) -> Order:
    """What a week is ordered by.

    Args:
        case: the week as it is now
        changes: of its lifts
        part_reached: part to which it brings the sore region's week, by the weighting of the target [1]
        falls: weightings under which it falls [count]
        elsewhere_more: other regions that what is given back asks for clearly more [count]
        short: muscles left below their floor [count]
        given_back: lifts that are new or get more sets to give a muscle back what was lost [count]
    """
    trials = [one.candidate.trial for one in changes]
    slow = sum(one.unfamiliar and not one.candidate.trial.untested for one in changes)
    return Order(
        not falls,
        len(changes),
        sum(one.faults for one in changes) + elsewhere_more,
        len(WEIGHTINGS) - falls,
        short,
        all(case.hurts.isdisjoint(one.entries) for one in changes),
        -sum(one.preference for one in changes),
        _unlike(case, changes),
        all(trial.program is None for trial in trials),
        sum(trial.untested for trial in trials),
        sum(len(trial.levers) for trial in trials) + slow + given_back,
        round(max(0.0, case.target - part_reached - _FREE), _DECIMALS),
        round(sum(one.lost for one in changes), _DECIMALS),
    )


def _unlike(case: WeekCase, changes: Sequence[Alternative]) -> int:
    ways = {(case.week[one.entries[0]].prescription.exercise, one.candidate.levers) for one in changes}
    return len(ways) - len({exercise for exercise, _ in ways})


class _Changed(Protocol):
    @property
    def changes(self) -> tuple[Alternative, ...]: ...


_Week = TypeVar("_Week", bound=_Changed)


def varied(weeks: Iterable[_Week], key: Callable[[_Week], Order]) -> list[_Week]:
    """Weeks in their order, with each kind of change of each lift once before any comes twice: there is a choice."""
    times = Counter[object]()

    def place(one: _Week) -> tuple[int, ...]:
        kind = tuple(map(_kind, one.changes))
        times[kind] += 1
        return len(one.changes), times[kind]

    return sorted(sorted(weeks, key=key), key=place)


def spread(weeks: Iterable[_Week], key: Callable[[_Week], Order]) -> list[_Week]:
    """A few weeks in their order, next always one of those whose changes have come least often, for there is a choice.

    What falls under fewer weightings, changes more lifts or has more that nobody wants first stays behind.
    """
    left = sorted(((key(one), one) for one in weeks), key=lambda one: one[0])
    times, chosen = Counter[object](), list[_Week]()
    while left:
        ranks = [(*rank[:_BEFORE_SPREAD], sum(times[_kind(change)] for change in one.changes)) for rank, one in left]
        _, first = left.pop(ranks.index(min(ranks)))
        times.update(map(_kind, first.changes))
        chosen.append(first)
    return chosen


def _kind(change: Alternative) -> object:
    """A kind of change of one lift."""
    return change.entries, change.candidate.levers
