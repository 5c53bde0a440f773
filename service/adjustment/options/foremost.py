"""The lift that a coach thinks of at once comes in front: narrower for a groin, with the trunk carried for a low back.

Less load of a wide lift leaves the adductors where they are, so the lift most like it in a narrower stance is first;
where the complaint speaks for less load first, that stays first. A row whose trunk a bench carries takes the low back
nearly out and keeps the pull: it is the second at the latest, after the present row made easier. The order is common
practice, the places our own choice.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from service.adjustment.complaint import stands_wide
from service.adjustment.consultation import Case
from service.adjustment.options.faults import faults, unloads
from service.adjustment.options.result import Outcome
from service.knowledge.catalogue import EXERCISES
from service.vocabulary import Likeness

_ALIKE: Final[tuple[Likeness, ...]] = ("variation", "equipment")
_OR_ANOTHER: Final[tuple[Likeness, ...]] = (*_ALIKE, "exercise")
"""What may have become of the lift, the nearest first."""
_SECOND: Final = 1


def with_the_foremost(outcomes: list[Outcome], case: Case) -> list[Outcome]:
    """Ranked outcomes with the lift most like the present one that spares the region in front, where that is told for.

    Args:
        outcomes: the first to be tried first
        case: the consultation
    """
    if any(rule.narrower_first for rule in case.rules):
        first = int(any(rule.less_load_first for rule in case.rules))
        outcomes = _in_front(outcomes, case, first, _ALIKE, lambda new: not stands_wide(new))
    if any(rule.supported_soon for rule in case.rules):
        outcomes = _in_front(
            outcomes, case, _SECOND, _OR_ANOTHER, lambda new: case.region not in EXERCISES[new].regions
        )
    return outcomes


def _in_front(
    outcomes: list[Outcome], case: Case, place: int, alike: Sequence[Likeness], spares: Callable[[str], bool]
) -> list[Outcome]:
    """The outcomes with the lift most like the present one that spares the region no later than at a place."""
    fit = [
        one
        for one in outcomes
        if one.candidate.trial.likeness in alike and spares(one.candidate.prescription.exercise) and _is_fit(one, case)
    ]
    if not fit:
        return outcomes
    nearest = min(fit, key=lambda one: alike.index(one.candidate.trial.likeness))
    place = min(outcomes.index(nearest), place)
    others = [one for one in outcomes if one is not nearest]
    return [*others[:place], nearest, *others[place:]]


def _is_fit(one: Outcome, case: Case) -> bool:
    """Whether it is another lift and has nothing that nobody wants first."""
    another = one.candidate.prescription.exercise != case.now.exercise
    return another and not (unloads(one.candidate) or faults(one.candidate, case) > 0)
