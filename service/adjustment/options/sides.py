"""Where one side alone is sore: what is offered is for it, and a one-sided lift is among what is shown."""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace

from service.adjustment.complaint import is_one_sided
from service.adjustment.consultation import Candidate, Case
from service.adjustment.options.result import Outcome

_FEWEST: Final = 2
"""Options that are shown [count], from which on the last may be given to a one-sided lift."""


def on_the_sore_side(case: Case, candidate: Candidate) -> Candidate:
    """A one-sided lift done on the side that is sore, where one is; what is offered is for that side.

    Args:
        case: the consultation
        candidate: an option
    """
    new = candidate.prescription
    if case.sore_side is None or case.now.side is not None or not is_one_sided(new.exercise):
        return candidate
    return replace(candidate, trial=replace(candidate.trial, prescription=replace(new, side=case.sore_side)))


def with_a_one_sided_lift(outcomes: list[Outcome], case: Case, most: int) -> list[Outcome]:
    """Ranked outcomes with a one-sided lift among those that are shown, where one side is sore and there is one.

    It takes the last of the places, so that what comes first is as it was.

    Args:
        outcomes: the first to be tried first
        case: the consultation
        most: options to be shown [count]
    """
    one_sided = [one for one in outcomes if is_one_sided(one.candidate.prescription.exercise)]
    shown = outcomes[:most]
    if case.sore_side is None or not one_sided or most < _FEWEST or any(one in shown for one in one_sided):
        return outcomes
    first = one_sided[0]
    return [*shown[:-1], first, *(one for one in outcomes[most - 1 :] if one is not first)]
