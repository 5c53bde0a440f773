"""Heavy days of a region further apart: a change that costs no sets."""

from __future__ import annotations

from itertools import product

from msgspec.structs import replace

from service.adjustment.week.exposure import shortest_gap
from service.adjustment.week.lifts import PlannedLift
from service.adjustment.week.problem import WeekCase, asking
from service.adjustment.week.regions import heavy_days, least_gap_of


def further_apart(case: WeekCase) -> tuple[list[PlannedLift], dict[int, int]] | None:
    """The week with one training day of the region moved, so that its heavy days are as far apart as is usual.

    All lifts of a day that load the region move together to another day of training that has none that does, or the
    whole day moves, so that there is no day of training more. Only where the lifter named the days may what loads the
    region go to a new one by itself. No new day is better than one, then the fewest lifts move, by the fewest days.

    Args:
        case: the week

    Returns:
        the week, and the new day by place of the lifts that are moved [days]; None where nothing is
        too close, no day helps, or no day may be moved
    """
    loading = [entry for entry, part in enumerate(case.parts) if part is not None or entry in case.loading]
    heavy, taken = heavy_days(case.now()), {case.week[entry].day for entry in loading}
    if case.only_less or _apart(case, {}):
        return None
    moves = []
    trained = {one.day for one in case.week}
    for day, target in product(heavy, sorted(case.training_days - taken)):
        whole = [entry for entry, one in enumerate(case.week) if one.day == day]
        own = [entry for entry in loading if case.week[entry].day == day]
        for entries in [own] if target in trained else [whole, own] if case.days_named else [whole]:
            moved = dict.fromkeys(entries, target)
            if case.staying.isdisjoint(moved) and _apart(case, moved):
                new_day = target not in trained and entries != whole
                by = min((target - day) % 7, (day - target) % 7)
                moves.append((new_day, len(moved), by, target, day, moved))
    if not moves:
        return None
    *_, moved = min(moves, key=lambda move: move[:5])
    week = [replace(one, day=moved[entry]) if entry in moved else one for entry, one in enumerate(case.week)]
    return week, moved


def _apart(case: WeekCase, moved: dict[int, int]) -> bool:
    """Whether heavy days are as far apart as is usual, with some lifts on other days."""
    parts = [
        replace(part, day=moved[entry]) if part is not None and entry in moved else part
        for entry, part in enumerate(case.parts)
    ]
    gap = shortest_gap(heavy_days(asking(parts)))
    return gap is None or gap >= least_gap_of(case.region)
