"""A week that hurts, as its search sees it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from msgspec import Struct

from service.adjustment.consultation import Case
from service.adjustment.week.exposure import Contribution
from service.adjustment.week.lifts import Asked, PlannedLift, contributions
from service.mechanics.body import Body
from service.vocabulary import Aim, Implement, Region, Training, Weighting


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
        lightest: the lightest load with which a lift of the gym can be done [kg] and what it is lifted with, None for a
            lift that may or can not be added
        hurts: places of the lifts that hurt [count]
        spare: regions that may be asked for no more than now, further sore ones among them
        only_less: whether nothing may be added and no day moved, for it hurts too much
        training_days: days of the week on which the lifter can train [days]
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
    lightest: Callable[[str], tuple[float, Implement | None] | None]
    hurts: frozenset[int] = frozenset()
    spare: frozenset[Region] = frozenset()
    only_less: bool = False
    training_days: frozenset[int] = frozenset(range(1, 8))

    @property
    def avoided(self) -> frozenset[Region]:
        """Regions that nothing new in the week may load."""
        return self.spare | {self.region}

    def now(self) -> list[Contribution]:
        """What the lifts ask of the sore region now, those that are known to ask something of it."""
        return asking(contributions(self.week, self.asked, self.region))


def asking(parts: Sequence[Contribution | None]) -> list[Contribution]:
    """The contributions that are known and ask something."""
    return [one for one in parts if one is not None and one.moment > 0.0]
