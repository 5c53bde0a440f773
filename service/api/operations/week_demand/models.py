"""What week-demand is asked and what it answers."""

from __future__ import annotations

from service.api.models.base import RequestModel, ResponseModel
from service.api.models.common import Basis, Estimate
from service.api.models.lifter import Lifter
from service.api.models.week import Week
from service.messages import Message
from service.vocabulary import Aim


class WeekDemand(RequestModel, kw_only=True, frozen=True):
    """A week of a lifter: up to 40 prescriptions, each on its day; aim: what floors of muscles are taken for."""

    lifter: Lifter
    week: Week
    aim: Aim = "muscle_size"


class SharesOfWeek(ResponseModel, kw_only=True, frozen=True):
    """The part of a region's week, with repetitions weighted by their moment as it is, squared, and by its tenth power."""

    linear: Estimate
    squared: Estimate
    tenth_power: Estimate


class LiftOfRegion(ResponseModel, kw_only=True, frozen=True):
    """One lift of the week: its place in the request from 0, the peak moment of its hardest repetition at rest, and its part of the region's week."""

    entry: int
    day: int
    repetitions: float
    moment: Estimate
    share: SharesOfWeek


class DayShares(ResponseModel, kw_only=True, frozen=True):
    """The part of a region's week that one day carries, under each weighting."""

    day: int
    linear: float
    squared: float
    tenth_power: float


class UnknownLift(ResponseModel, kw_only=True, frozen=True):
    """A lift that loads the region by a moment that is not computed: its sets and repetitions, which are no part of any share."""

    entry: int
    day: int
    sets: int
    repetitions: float


class WeekOfRegion(ResponseModel, kw_only=True, frozen=True):
    """What a week asks of one region.

    leading: the place of the lift with the largest share under every weighting, null where the weightings disagree.
    largest_day: with the largest linear share, the tenth power's largest where it is another one beside it. heavy_days:
    above a third under some weighting; shortest_gap: fewest days from one of them to the next, the week coming round.
    """

    largest_moment: Estimate | None
    lifts: list[LiftOfRegion]
    days: list[DayShares]
    leading: int | None
    largest_day: list[int]
    heavy_days: list[int]
    shortest_gap: int | None
    not_computed: list[UnknownLift]


class MuscleOfWeek(ResponseModel, kw_only=True, frozen=True):
    """Fractional sets a week of one muscle, and the floor of the aim for a lifter who is used to this week. steadied: what sets that only steady the muscle count by our own mark, which are none of these and count towards no floor."""

    sets: Estimate
    steadied: float
    floor: float
    under_floor: bool


class DayOfWeek(ResponseModel, kw_only=True, frozen=True):
    """One day of training: the places of its lifts in the request, its sets, and how many of them are hard."""

    day: int
    entries: list[int]
    sets: int
    hard_sets: float


class WeekDemandAnswer(ResponseModel, kw_only=True, frozen=True):
    """The week by region, by muscle and by day."""

    regions: dict[str, WeekOfRegion]
    muscles: dict[str, MuscleOfWeek]
    days: list[DayOfWeek]
    basis: Basis
    cautions: list[Message]
