"""A week that hurts, as its search sees it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from msgspec import Struct

from service.adjustment.consultation import Case
from service.adjustment.week.exposure import Contribution
from service.adjustment.week.lifts import Asked, PlannedLift, contributions
from service.mechanics.body import Body
from service.vocabulary import Aim, Region, Training, Weighting


class WeekCase(Struct, frozen=True):
    """The week, the sore region, and what may be changed.

    Attributes:
        body: the lifter
        week: its lifts as they are now
        asked: what a repetition of each asks of every region, where that is computed
        region: region that is sore
        target: part of its present size to which the region's week is to be brought [1]
        weighting: under which the target is meant
        aim: what the lifter trains for
        training: how long the lifter has trained
        staying: places in the week of lifts that must stay as they are [count]
        single: the consultation of one lift by itself, by its place in the week and the part to which its region is to
            be brought; raises Refusal as the consultation of one prescription does
    """

    body: Body
    week: Sequence[PlannedLift]
    asked: Sequence[Mapping[str, Asked]]
    region: Region
    target: float
    weighting: Weighting
    aim: Aim
    training: Training
    staying: frozenset[int]
    single: Callable[[int, float], Case]

    def now(self) -> list[Contribution]:
        """What the lifts ask of the sore region now, those that are known to ask something of it."""
        return asking(contributions(self.week, self.asked, self.region))


def asking(parts: Sequence[Contribution | None]) -> list[Contribution]:
    """The contributions that are known and ask something."""
    return [one for one in parts if one is not None and one.moment > 0.0]
