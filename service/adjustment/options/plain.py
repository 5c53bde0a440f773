"""The present lift merely lighter: among what is shown wherever it meets the target, and how far in front.

It is the simplest change. Where it hurts with the load it comes first, unless its sets are left easy, it unloads or
another region pays for it. In the red tier of pain it comes before what adds a slow tempo, which is not the lift as it
is known, but for tendons. The order is common practice, the places our own choice.
"""

from __future__ import annotations

from typing import Final

from service.adjustment.consultation import Candidate, Case
from service.adjustment.options.ranking import faults, merely_lighter, unloads
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
    order = sorted(outcomes, key=lambda one: case.only_sure and _adds_a_slow_tempo(one.candidate, case))
    own = next(one for one in order if one.candidate is plain)
    others = [one for one in order if one is not own]
    place = order.index(own)
    wanted_first = not case.only_sure and any(rule.less_load_first for rule in case.rules)
    if wanted_first and not unloads(plain) and faults(plain, case) == 0:
        place = 0
    if _SECOND <= _last_place(case, most) < place:
        place = _last_place(case, most)
    return [*others[:place], own, *others[place:]]


def _adds_a_slow_tempo(candidate: Candidate, case: Case) -> bool:
    return "tempo" in candidate.levers and candidate.trial.program is None and case.aim != "tendon"


def _last_place(case: Case, most: int) -> int:
    """The last of the places shown, or the one before, for where one side is sore the last is for a one-sided lift."""
    return most - 1 if case.sore_side is None or most <= _SECOND + 1 else most - 2
