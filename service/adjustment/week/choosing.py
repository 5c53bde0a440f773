"""The weeks to be offered: changed ones in their order, and last the same week with its days further apart."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from service.adjustment.week.changed import ChangedWeek, Found
from service.adjustment.week.order import Order, order, spread
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
        not_eased: places of lifts that hurt and that nothing eases [count]
    """

    weeks: list[NewWeek]
    considered: int
    weighting: Weighting
    not_eased: tuple[int, ...]


def chosen(case: WeekCase, most: int) -> Chosen:
    """The weeks to be offered.

    Args:
        case: the week as it is now
        most: weeks to be offered [count]
    """
    apart = further_apart(case)
    spaced = [] if apart is None else [respaced(case, *apart)]
    room = max(1, most - len(spaced))
    found = search(case, all_groups=room > _TWO)
    shown = _shown(case, found, room, _WORKED * most)
    return Chosen([*shown, *spaced][:most], found.considered + len(spaced), found.weighting, found.not_eased)


def _shown(case: WeekCase, found: Found, most: int, tried: int) -> list[NewWeek]:
    """Weeks to be offered: of every group one, if two of the first are among them, else of the first as many as fit.

    Args:
        case: the week as it is now
        found: what its search comes to
        most: weeks to be offered [count]
        tried: weeks of a group that are worked out [count]
    """
    shown: list[NewWeek] = []
    groups = [group for group in found.groups if group]
    for number, group in enumerate(groups):
        room, later = most - len(shown), len(groups) - number - 1
        wanted = max(min(_TWO, room) if not shown else 0, room - later)
        if found.one_of_last and not later:
            wanted = min(1, room)
        if wanted > 0:
            worked_out = _worked_out(case, group[:tried], found.weighting)
            shown += _with_less_load(shown, _not_among(shown, worked_out), wanted)
    return shown


def _not_among(before: list[NewWeek], weeks: list[NewWeek]) -> list[NewWeek]:
    """The weeks that are none of those before, each once."""
    new: list[NewWeek] = []
    for one in weeks:
        if all(list(one.week) != list(other.week) for other in (*before, *new)):
            new.append(one)
    return new


def _worked_out(case: WeekCase, some: list[ChangedWeek], weighting: Weighting) -> list[NewWeek]:
    """Weeks of a group worked out, in their order.

    Where nothing that changes is computed it is the one of the lifts by themselves, but for what nobody wants first.
    """
    kept = [one for changed in some if (one := _worked(case, changed)) is not None]
    if all(one.relief == "by_direction" for one in kept):
        return sorted(kept, key=lambda one: _order(case, one, weighting).unwanted)
    return spread(kept, lambda one: _order(case, one, weighting))


def _worked(case: WeekCase, one: ChangedWeek) -> NewWeek | None:
    try:
        return worked(case, one.changes, one.left_out)
    except Refusal:
        return None


def _with_less_load(before: list[NewWeek], weeks: list[NewWeek], most: int) -> list[NewWeek]:
    """So many of the weeks; one lift with less load and nothing else is among all wherever that does: the simplest.

    Args:
        before: weeks that come before them
        weeks: in their order
        most: weeks to be offered of these [count]
    """
    simplest = next((one for one in weeks[most:] if _less_load_alone(one)), None)
    some = len(before) + most >= _TWO
    if not some or simplest is None or any(map(_less_load_alone, (*before, *weeks[:most]))):
        return weeks[:most]
    return [*weeks[: most - 1], simplest]


def _less_load_alone(one: NewWeek) -> bool:
    return [change.candidate.levers for change in one.changes] == [("load",)]


def _order(case: WeekCase, one: NewWeek, weighting: Weighting) -> Order:
    return order(
        case,
        one.changes,
        one.sore[weighting].value,
        falls=len(one.falls),
        elsewhere_more=raised_elsewhere(case, one),
        short=len(one.back.short) + len(one.back.beside),
        given_back=len(one.back.restores),
    )
