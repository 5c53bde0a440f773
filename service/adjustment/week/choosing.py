"""The weeks to be offered: changed ones in their order, and last the same week with its days further apart."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from service.adjustment.week.alternatives import Alternative
from service.adjustment.week.order import Order, order, varied
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.search import search
from service.adjustment.week.spacing import further_apart
from service.adjustment.week.worked import NewWeek, raised_elsewhere, respaced, worked
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.vocabulary import Weighting

_WORKED: Final = CHOICES.week.worked_out
_TWO: Final = 2


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
    shown = _with_less_load(varied(kept, lambda one: _order(case, one, found.weighting)), max(1, most - len(spaced)))
    return Chosen([*shown, *spaced][:most], found.considered + len(spaced), found.weighting)


def _worked(case: WeekCase, changes: tuple[Alternative, ...]) -> NewWeek | None:
    try:
        return worked(case, changes)
    except Refusal:
        return None


def _with_less_load(weeks: list[NewWeek], most: int) -> list[NewWeek]:
    """So many of the weeks; one lift with less load and nothing else is among them wherever that does: the simplest."""
    simplest = next((one for one in weeks[most:] if _less_load_alone(one)), None)
    if most < _TWO or simplest is None or any(map(_less_load_alone, weeks[:most])):
        return weeks[:most]
    return [*weeks[: most - 1], simplest]


def _less_load_alone(one: NewWeek) -> bool:
    return [change.candidate.levers for change in one.changes] == [("load",)]


def _order(case: WeekCase, one: NewWeek, weighting: Weighting) -> Order:
    return order(
        case,
        one.changes,
        one.sore[weighting].value,
        sure=one.relief == "sure",
        elsewhere_more=raised_elsewhere(case, one),
        short=len(one.back.short) + len(one.back.beside),
        given_back=len(one.back.restores),
    )
