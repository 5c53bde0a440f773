"""Where a wide stance hurts the groin the lift most like it in a narrower one comes first.

Less load of a wide lift leaves the adductors where they are. Where the complaint speaks for less load first, that stays
first. The order is common practice, the places our own choice.
"""

from __future__ import annotations

from typing import Final

from service.adjustment.complaint import stands_wide
from service.adjustment.consultation import Case
from service.adjustment.options.ranking import faults, unloads
from service.adjustment.options.result import Outcome
from service.vocabulary import Likeness

_ALIKE: Final[tuple[Likeness, ...]] = ("variation", "equipment")
"""What may have become of the lift, the nearest first."""


def with_a_narrower_stance(outcomes: list[Outcome], case: Case) -> list[Outcome]:
    """Ranked outcomes with the lift most like the present one in a narrower stance in front, where that is told for.

    Args:
        outcomes: the first to be tried first
        case: the consultation
    """
    alike = [one for one in outcomes if one.candidate.trial.likeness in _ALIKE and _is_fit(one, case)]
    if not alike or not any(rule.narrower_first for rule in case.rules):
        return outcomes
    narrower = min(alike, key=lambda one: _ALIKE.index(one.candidate.trial.likeness))
    place = min(outcomes.index(narrower), int(any(rule.less_load_first for rule in case.rules)))
    others = [one for one in outcomes if one is not narrower]
    return [*others[:place], narrower, *others[place:]]


def _is_fit(one: Outcome, case: Case) -> bool:
    """Whether it leaves the wide stance and has nothing that nobody wants first."""
    new = one.candidate.prescription.exercise
    return new != case.now.exercise and not (
        stands_wide(new) or unloads(one.candidate) or faults(one.candidate, case) > 0
    )
