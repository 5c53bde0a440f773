"""The grid of a region from what its week was found to ask."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from service.adjustment.week.lifts import PlannedLift
from service.adjustment.week.regions import RegionOfWeek
from service.charts.week.grid import Cell, Grid, LiftRow
from service.knowledge.catalogue import EXERCISES


def region_grid(week: Sequence[PlannedLift], region: RegionOfWeek) -> Grid:
    """The lifts that load a region on their days.

    Args:
        week: all its lifts
        region: what they ask of the region
    """
    rows = lift_rows(week, {lift.entry: Cell(lift.shares) for lift in region.lifts})
    return Grid(rows, region.days, frozenset(one.day for one in week), region.heavy)


def lift_rows(week: Sequence[PlannedLift], cells: Mapping[int, Cell]) -> list[LiftRow]:
    """A row for each lift, in the order of the week; done twice on one day it has a second row.

    Args:
        week: all its lifts
        cells: by place in the week [count]
    """
    rows: dict[tuple[str, int], dict[int, Cell]] = {}
    for entry in sorted(cells):
        exercise, day = week[entry].prescription.exercise, week[entry].day
        time = 1
        while day in rows.get((exercise, time), ()):
            time += 1
        rows.setdefault((exercise, time), {})[day] = cells[entry]
    return [
        LiftRow(EXERCISES[exercise].name + (f", time {time} that day" if time > 1 else ""), dict(sorted(row.items())))
        for (exercise, time), row in rows.items()
    ]
