"""Heavy days of a region further apart: a change that costs no sets."""

from __future__ import annotations

from itertools import product

from msgspec.structs import replace

from service.adjustment.week.exposure import shortest_gap
from service.adjustment.week.lifts import PlannedLift
from service.adjustment.week.problem import WeekCase, asking
from service.adjustment.week.regions import heavy_days, least_gap_of
from service.knowledge.catalogue import EXERCISES


def further_apart(case: WeekCase) -> tuple[list[PlannedLift], dict[int, int]] | None:
    """The week with one training day of the region moved, so that its heavy days are as far apart as is usual.

    All lifts of a day that load the region move together; the day moved to has none that does. The fewest lifts move,
    then by the fewest days.

    Args:
        case: the week

    Returns:
        the week, and the new day by place of the lifts that are moved [days]; None where nothing is
        too close, no day helps, or no day may be moved
    """
    loading = [
        entry
        for entry, (one, part) in enumerate(zip(case.week, case.parts, strict=True))
        if part is not None or case.region in EXERCISES[one.prescription.exercise].regions
    ]
    heavy, taken = heavy_days(case.now()), {case.week[entry].day for entry in loading}
    if case.only_less or _apart(case, {}):
        return None
    moves = []
    for day, target in product(heavy, sorted(case.training_days - taken)):
        moved = {entry: target for entry in loading if case.week[entry].day == day}
        if case.staying.isdisjoint(moved) and _apart(case, moved):
            moves.append((len(moved), min((target - day) % 7, (day - target) % 7), target, day, moved))
    if not moves:
        return None
    *_, moved = min(moves, key=lambda move: move[:4])
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
