"""The present lift merely lighter: among what is shown wherever it meets the target, and how far in front.

It is the simplest change. Where it hurts with the load it comes first, unless its sets are left easy, it unloads or
another region pays for it; in the red tier of pain, where nothing is wanted but less, it always does. The order is
common practice, the places our own choice.
"""

from __future__ import annotations

from typing import Final

from service.adjustment.consultation import Case
from service.adjustment.options.faults import faults, unloads
from service.adjustment.options.ranking import merely_lighter
from service.adjustment.options.result import Outcome

_SECOND: Final = 1


def with_the_plain_lift(outcomes: list[Outcome], case: Case, most: int) -> list[Outcome]:
    """Ranked outcomes with the present lift merely lighter among those that are shown, where it is one of them.

    Args:
        outcomes: the first to be tried first
        case: the consultation
        most: options to be shown [count]
    """
    plain = merely_lighter((one.candidate for one in outcomes), case)
    if plain is None:
        return outcomes
    own = next(one for one in outcomes if one.candidate is plain)
    others = [one for one in outcomes if one is not own]
    place = outcomes.index(own)
    wanted_first = any(rule.less_load_first for rule in case.rules)
    if case.only_sure or (wanted_first and not unloads(plain) and faults(plain, case) == 0):
        place = 0
    if _SECOND <= _last_place(case, most) < place:
        place = _last_place(case, most)
    return [*others[:place], own, *others[place:]]


def _last_place(case: Case, most: int) -> int:
    """The last of the places shown, or the one before, for where one side is sore the last is for a one-sided lift."""
    return most - 1 if case.sore_side is None or most <= _SECOND + 1 else most - 2
