"""The week behind an answer of week-demand and behind its picture."""

from __future__ import annotations

from msgspec import Struct

from service.adjustment.week.lifts import PlannedLift
from service.adjustment.week.muscles import floor_of, sets_of_muscles, steadied_sets
from service.adjustment.week.regions import RegionOfWeek, region_of_week
from service.api.models.base import stated
from service.api.models.lifter import body_of
from service.api.models.week import asked_of_week, planned_lifts
from service.api.operations.week_demand.models import WeekDemand
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.vocabulary import REGIONS as SORE_REGIONS
from service.vocabulary import Region, Training


class WorkedWeek(Struct, frozen=True):
    """A week as far as it is computed.

    Attributes:
        week: its lifts
        regions: what it asks of each region that it loads
        muscles: fractional sets by muscle with their span [count]
        steadied: what sets that only steady a muscle count beside, by muscle [count]
        floors: of the aim for a lifter who is used to this week, by muscle [count]
    """

    week: list[PlannedLift]
    regions: dict[Region, RegionOfWeek]
    muscles: dict[str, Interval]
    steadied: dict[str, float]
    floors: dict[str, float]


def worked_week(request: WeekDemand) -> WorkedWeek:
    """A week by region and by muscle. Raises Refusal with pointers under /week for what cannot be had."""
    week, body = planned_lifts(request.week, request.lifter), body_of(request.lifter)
    asked = asked_of_week(body, week, request.week, request.lifter)
    muscles = sets_of_muscles(one.prescription for one in week)
    training: Training = stated(request.lifter.training) or "trained"
    return WorkedWeek(
        week,
        {
            region: region_of_week(week, asked, region)
            for region in SORE_REGIONS
            if not REGIONS[region].finer and any(region in EXERCISES[one.prescription.exercise].regions for one in week)
        },
        muscles,
        steadied_sets(one.prescription for one in week),
        {muscle: floor_of(request.aim, training, sets.value) for muscle, sets in muscles.items()},
    )
