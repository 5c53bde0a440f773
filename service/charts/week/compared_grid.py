"""The grid of the sore region in a new week: every lift as a part of the present week, with what it is now behind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final, TypeAlias

from service.adjustment.week.exposure import exposure, shares
from service.adjustment.week.lifts import Asked, PlannedLift, contributions
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.regions import region_of_week
from service.adjustment.week.worked import NewWeek
from service.charts.week.grid import Cell, Grid
from service.charts.week.region_grid import lift_rows
from service.intervals import exactly
from service.vocabulary import WEIGHTINGS, Weighting

_Shares: TypeAlias = Mapping[Weighting, float]
_NOTHING: Final[_Shares] = dict.fromkeys(WEIGHTINGS, 0.0)


def compared_grid(case: WeekCase, new: NewWeek, words: Mapping[int, str]) -> Grid:
    """The lifts that load the sore region, now and in a new week.

    Args:
        case: the week as it is now
        new: the week that is compared with it
        words: what becomes of a lift, by its place in the new week [count]; of the others nothing is said
    """
    now, then = _parts(case, case.week, case.asked), _parts(case, new.week, new.asked)
    week, cells = list(new.week), dict[int, Cell]()
    for entry in sorted(now.keys() | then.keys()):
        before, after = now.get(entry, _NOTHING), then.get(entry, _NOTHING)
        if entry < len(case.week) and (gone := _gone(case.week[entry], new.week[entry])):
            cells[len(week)] = _cell(_NOTHING, before, gone)
            week.append(case.week[entry])
            before = _NOTHING
        if entry in then or before is not _NOTHING:
            cells[entry] = _cell(after, before, words.get(entry, ""))
    trained = frozenset(one.day for one in week)
    now_by_day, then_by_day = _by_day(now, case.week), _by_day(then, new.week)
    days = sorted(now_by_day.keys() | then_by_day.keys())
    return Grid(
        lift_rows(week, cells),
        {day: then_by_day.get(day, _NOTHING) for day in days},
        trained,
        region_of_week(new.week, new.asked, case.region).heavy,
        {day: now_by_day.get(day, _NOTHING) for day in days},
    )


def _gone(now: PlannedLift, then: PlannedLift) -> str:
    """What became of a lift that is not done any more where it was; empty where it is."""
    if then.prescription.exercise != now.prescription.exercise:
        return "taken out"
    return "" if then.day == now.day else f"to day {then.day}"


def _cell(after: _Shares, before: _Shares, note: str) -> Cell:
    return Cell({weighting: exactly(share) for weighting, share in after.items()}, before, [note] if note else [])


def _parts(case: WeekCase, week: Sequence[PlannedLift], asked: Sequence[Mapping[str, Asked]]) -> dict[int, _Shares]:
    """The lifts that ask something of the sore region by their places, as parts of what the present week asks."""
    known = [
        (entry, one) for entry, one in enumerate(contributions(week, asked, case.region)) if one and one.moment > 0.0
    ]
    of_week = [one for _, one in known]
    by_weighting = {weighting: shares(of_week, weighting, exposure(case.now(), weighting)) for weighting in WEIGHTINGS}
    return {
        entry: {weighting: by_weighting[weighting][index] for weighting in WEIGHTINGS}
        for index, (entry, _) in enumerate(known)
    }


def _by_day(parts: Mapping[int, _Shares], week: Sequence[PlannedLift]) -> Mapping[int, _Shares]:
    days: dict[int, dict[Weighting, float]] = {}
    for entry, of_lift in parts.items():
        day = days.setdefault(week[entry].day, dict.fromkeys(WEIGHTINGS, 0.0))
        for weighting, share in of_lift.items():
            day[weighting] += share
    return days
