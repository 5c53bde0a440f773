"""Weeks with some lifts changed, and what the search of a week comes to."""

from __future__ import annotations

from msgspec import Struct

from service.adjustment.evaluation import RATIO_TOLERANCE
from service.adjustment.week.alternatives import Alternative
from service.adjustment.week.problem import WeekCase
from service.vocabulary import Weighting


class ChangedWeek(Struct, frozen=True):
    """A week with some lifts changed, by central values.

    Attributes:
        changes: at most one of each lift
        sizes: by its changes, of what it asks of the sore region against the present week, by weighting [1]
        left_out: places of lifts that are not done [count]
    """

    changes: tuple[Alternative, ...]
    sizes: dict[Weighting, float]
    left_out: frozenset[int] = frozenset()

    @property
    def lost(self) -> float:
        """Training effect that is lost, of all lifts together, each lift counting one [1]."""
        return sum(one.lost for one in self.changes)

    @property
    def falls(self) -> int:
        """Weightings under which it asks less [count]."""
        return sum(ratio < 1.0 - RATIO_TOLERANCE for ratio in self.sizes.values())

    def meets(self, case: WeekCase) -> bool:
        """Whether it reaches the target, with no weighting that asks more than now."""
        return self.sizes[case.weighting] <= case.target + RATIO_TOLERANCE and not self.asks_more

    @property
    def has_faults(self) -> bool:
        """Whether one of its changes has something that nobody wants first."""
        return any(one.faults for one in self.changes)

    @property
    def asks_more(self) -> bool:
        """Whether it asks more under some weighting."""
        return any(ratio > 1.0 + RATIO_TOLERANCE for ratio in self.sizes.values())


class Found(Struct, frozen=True):
    """What the search of a week comes to.

    Attributes:
        groups: weeks by what is wanted of them, the group to be tried first first, and so within each: those in which
            what hurts is eased before those in which it stays
        considered: weeks that were put together [count]
        weighting: under which they reach the target: the one of the case, or the sum where none does under that
        not_eased: places of lifts that hurt and that nothing eases [count]
        one_of_last: whether of the last group one at the most is wanted
    """

    groups: list[list[ChangedWeek]]
    considered: int
    weighting: Weighting
    not_eased: tuple[int, ...] = ()
    one_of_last: bool = False

    @property
    def weeks(self) -> list[ChangedWeek]:
        """Those of all groups."""
        return [one for group in self.groups for one in group]
