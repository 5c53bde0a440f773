"""The weeks to be offered: changed ones in their order, and last the same week with its days further apart."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from service.adjustment.week.alternatives import Alternative
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.search import search
from service.adjustment.week.spacing import further_apart
from service.adjustment.week.worked import NewWeek, respaced, worked
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.vocabulary import Weighting

_WORKED: Final = CHOICES.week.worked_out


class Chosen(Struct, frozen=True):
    """The weeks to be offered.

    Attributes:
        weeks: the first to be tried first
        considered: weeks that were put together [count]
        weighting: under which they reach the target
    """

    weeks: list[NewWeek]
    considered: int
    weighting: Weighting


def chosen(case: WeekCase, most: int) -> Chosen:
    """The weeks to be offered.

    Args:
        case: the week as it is now
        most: weeks to be offered [count]
    """
    if not case.now():
        return Chosen([], 0, case.weighting)
    found = search(case)
    apart = further_apart(case)
    spaced = [] if apart is None else [respaced(case, *apart)]
    kept = [one for changed in found.weeks[: _WORKED * most] if (one := _worked(case, changed.changes)) is not None]
    kept.sort(key=lambda one: (len(one.changes), _unfit(one), len(one.back.short), one.relief != "sure"))
    shown = kept[: max(1, most - len(spaced))]
    return Chosen([*shown, *spaced][:most], found.considered + len(spaced), found.weighting)


def _worked(case: WeekCase, changes: tuple[Alternative, ...]) -> NewWeek | None:
    try:
        return worked(case, changes)
    except Refusal:
        return None


def _unfit(one: NewWeek) -> tuple[int, ...]:
    """What comes before every merit, of all changes of lifts together."""
    return tuple(map(sum, zip(*(change.unfit for change in one.changes), strict=True)))
