"""Heavy days of a region further apart: a change that costs no sets."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

from msgspec.structs import replace

from service.adjustment.week.lifts import PlannedLift
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.regions import RegionOfWeek, region_of_week


def further_apart(case: WeekCase) -> tuple[list[PlannedLift], dict[int, int]] | None:
    """The week with one training day of the region moved, so that its heavy days are as far apart as is usual.

    All lifts of a day that load the region move together; the day moved to has none that does. The fewest lifts move,
    then by the fewest days.

    Args:
        case: the week

    Returns:
        the week, and the new day by place of the lifts that are moved [days]; None where nothing is
        too close or no day helps
    """
    if case.only_less:
        return None
    now = region_of_week(case.week, case.asked, case.region)
    if not now.too_close:
        return None
    loading = {day: [entry for entry in _loading(now) if case.week[entry].day == day] for day in now.days}
    moves = []
    for day, target in product(now.heavy, sorted(case.training_days)):
        entries = loading[day]
        if target in now.days or target not in case.training_days or not case.staying.isdisjoint(entries):
            continue
        week = [replace(one, day=target) if entry in entries else one for entry, one in enumerate(case.week)]
        after = region_of_week(week, case.asked, case.region)
        if not after.too_close:
            moves.append((len(entries), min((target - day) % 7, (day - target) % 7), target, week, entries))
    if not moves:
        return None
    *_, target, week, entries = min(moves, key=lambda move: move[:3])
    return week, dict.fromkeys(entries, target)


def _loading(region: RegionOfWeek) -> Sequence[int]:
    return [*(one.entry for one in region.lifts), *region.unknown]
