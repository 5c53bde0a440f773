"""The chart of a week: for each region its days and lifts, and the muscles against their floors."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from service.adjustment.week.lifts import PlannedLift
from service.adjustment.week.muscles import is_under
from service.adjustment.week.regions import RegionOfWeek
from service.api.operations.week_demand.handler import cautions_of_week
from service.api.operations.week_demand.models import WeekDemand
from service.api.operations.week_demand.working import worked_week
from service.charts.elements.layout import Sheet
from service.charts.week.demand_sheet import RegionPart, demand_sheets
from service.charts.week.muscle_bars import MuscleRow
from service.charts.week.region_grid import region_grid
from service.knowledge.catalogue import REGIONS
from service.knowledge.muscles import MUSCLES
from service.messages import Message, message


def week_demand_chart(request: WeekDemand) -> list[Sheet]:
    """The week on sheets, with the numbers of its answer. Raises Refusal as the answer does."""
    worked = worked_week(request)
    days = len({one.day for one in worked.week})
    return demand_sheets(
        message("sheet_of_week", lifts=len(worked.week), days=days).text,
        [
            RegionPart(
                REGIONS[region].name,
                list(_remarks(worked.week, one)),
                region_grid(worked.week, one) if one.lifts else None,
            )
            for region, one in worked.regions.items()
        ],
        [
            MuscleRow(
                MUSCLES[muscle].name,
                sets,
                worked.floors[muscle],
                is_under(sets.value, worked.floors[muscle]),
                steadied=worked.steadied[muscle],
            )
            for muscle, sets in worked.muscles.items()
        ],
        [caution.text for caution in cautions_of_week(worked.regions)],
    )


def _remarks(week: Sequence[PlannedLift], one: RegionOfWeek) -> Iterator[str]:
    """The largest moment, the lift that leads and the days between heavy ones; below it what enters no share."""
    if one.lifts:
        yield " ".join(said.text for said in _of_shares(week, one))
    if one.unknown:
        yield message("lifts_in_no_share", lifts=[_uncounted(week[entry]) for entry in one.unknown]).text


def _of_shares(week: Sequence[PlannedLift], one: RegionOfWeek) -> Iterator[Message]:
    largest = max((lift.moment for lift in one.lifts), key=lambda moment: moment.value)
    yield message(
        "largest_moment_of_week", moment={"value": largest.value, "unit": "N·m"}, low=largest.low, high=largest.high
    )
    if one.leading is None:
        yield message("weightings_disagree")
    else:
        yield message("leads_under_all", exercise=week[one.leading].prescription.exercise, day=week[one.leading].day)
    if one.gap is not None:
        yield message("heavy_days_apart", gap=one.gap)


def _uncounted(one: PlannedLift) -> Message:
    prescription = one.prescription
    return message(
        "lift_in_no_share",
        exercise=prescription.exercise,
        day=one.day,
        sets=prescription.sets,
        repetitions=prescription.reps_a_session,
    )
