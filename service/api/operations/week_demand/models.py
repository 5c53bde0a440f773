"""What week-demand is asked and what it answers."""

from __future__ import annotations

from service.api.models.base import RequestModel, ResponseModel
from service.api.models.by_region import ByRegion
from service.api.models.common import Basis, Estimate
from service.api.models.lifter import Lifter
from service.api.models.week import Week
from service.messages import Message
from service.vocabulary import Aim


class WeekDemand(RequestModel, kw_only=True, frozen=True):
    """A week of a lifter: up to 40 prescriptions, each on its day.

    Attributes:
        lifter: Who lifts.
        week: The lifts of the week.
        aim: What the floors of muscles are taken for.
    """

    lifter: Lifter
    week: Week
    aim: Aim = "muscle_size"


class SharesOfWeek(ResponseModel, kw_only=True, frozen=True):
    """The part of a region's week, 0 to 1, under each weighting.

    Attributes:
        linear: Each repetition counted by its moment as it is.
        squared: Each repetition counted by its moment squared.
        tenth_power: Each repetition counted by the tenth power of its moment.
    """

    linear: Estimate
    squared: Estimate
    tenth_power: Estimate


class LiftOfRegion(ResponseModel, kw_only=True, frozen=True):
    """One lift of the week and its part of a region's week.

    Attributes:
        entry: Its place in the request's week, from 0.
        day: Day of the week, 1 to 7.
        repetitions: Its repetitions on that day, of a range the middle.
        moment: Peak moment of its hardest repetition at rest, in N·m.
        share: Its part of the region's week.
    """

    entry: int
    day: int
    repetitions: float
    moment: Estimate
    share: SharesOfWeek


class DayShares(ResponseModel, kw_only=True, frozen=True):
    """The part of a region's week that one day carries, 0 to 1, under each weighting.

    Attributes:
        day: Day of the week, 1 to 7.
        linear: Each repetition counted by its moment as it is.
        squared: Each repetition counted by its moment squared.
        tenth_power: Each repetition counted by the tenth power of its moment.
    """

    day: int
    linear: float
    squared: float
    tenth_power: float


class UnknownLift(ResponseModel, kw_only=True, frozen=True):
    """A lift that loads the region by a moment that is not computed; it is no part of any share.

    Attributes:
        entry: Its place in the request's week, from 0.
        day: Day of the week, 1 to 7.
        sets: Its sets.
        repetitions: Its repetitions on that day, of a range the middle.
    """

    entry: int
    day: int
    sets: int
    repetitions: float


class WeekOfRegion(ResponseModel, kw_only=True, frozen=True):
    """What a week asks of one region.

    Attributes:
        largest_moment: Largest moment of the week in N·m; null where none is computed.
        lifts: Lifts that load it by a computed moment, in the order of the week.
        days: The part of its week that each day carries.
        leading: Place of the lift with the largest share under every weighting; null where the weightings disagree.
        largest_day: The day with the largest linear share, and the tenth power's largest where it is another one.
        heavy_days: Days that carry above a third of its week under some weighting.
        shortest_gap: Fewest days from one heavy day to the next, the week coming round; null where there is no heavy
            day.
        not_computed: Lifts that load it by a moment that is not computed.
    """

    largest_moment: Estimate | None
    lifts: list[LiftOfRegion]
    days: list[DayShares]
    leading: int | None
    largest_day: list[int]
    heavy_days: list[int]
    shortest_gap: int | None
    not_computed: list[UnknownLift]


class WeekByRegion(ByRegion[WeekOfRegion], kw_only=True, frozen=True):
    """What a week asks of each region that some lift of it loads."""


class MuscleOfWeek(ResponseModel, kw_only=True, frozen=True):
    """Fractional sets a week of one muscle.

    Attributes:
        sets: The sets: a direct one counts 1, an indirect one less.
        steadied: What sets that only steady the muscle count by our own mark; they are none of these sets and count
            towards no floor.
        floor: Below which the aim is taken to get too little, for a lifter who is used to this week.
        under_floor: Whether the sets are below the floor.
    """

    sets: Estimate
    steadied: float
    floor: float
    under_floor: bool


class DayOfWeek(ResponseModel, kw_only=True, frozen=True):
    """One day of training.

    Attributes:
        day: Day of the week, 1 to 7.
        entries: Places of its lifts in the request's week, from 0.
        sets: Its sets.
        hard_sets: How many of them are hard, near enough to failure to count.
    """

    day: int
    entries: list[int]
    sets: int
    hard_sets: float


class WeekDemandAnswer(ResponseModel, kw_only=True, frozen=True):
    """The week by region, by muscle and by day.

    Attributes:
        regions: What it asks of regions.
        muscles: What it gives to muscles, by id (see GET /v1/muscles).
        days: The days of training, in order.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    regions: WeekByRegion
    muscles: dict[str, MuscleOfWeek]
    days: list[DayOfWeek]
    basis: Basis
    cautions: list[Message]
