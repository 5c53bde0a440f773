"""What comes before any option: red flags, circumstances to be confirmed, and the target that the reported pain sets.

Bands follow the pain-monitoring model (thomee_1997: 0 to 2, above 2 to 5, above 5; silbernagel_2007 for the next
morning); the size of the first step is practice and our own choice, for no study links a reduction of load to a pain
score.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import msgspec

from service.adjustment.clearance import Circumstances, to_confirm
from service.knowledge.confirmations import Condition
from service.knowledge.design_choices import CHOICES
from service.knowledge.signs import SIGNS, URGENCIES, Sign, Urgency
from service.vocabulary import BANDS, Band


class Referral(msgspec.Struct, frozen=True):
    """What red flags ask for.

    Attributes:
        urgency: of the most urgent sign, which decides what to do
        signs: all that were reported, the most urgent first
    """

    urgency: Urgency
    signs: tuple[Sign, ...]


class Confirmation(msgspec.Struct, frozen=True):
    """What a professional has to confirm before anything is planned; no red flag, and nobody is referred for it.

    Attributes:
        conditions: the circumstances, of which there is at least one
    """

    conditions: tuple[Condition, ...]


Stop: TypeAlias = Referral | Confirmation
"""Why nothing is planned: red flags, or circumstances that nobody has confirmed."""


class Pain(msgspec.Struct, frozen=True):
    """Pain scores from 0 to 10; None where not stated.

    Attributes:
        in_session: worst pain in the session [points]
        next_morning: pain the next morning [points]
        usual: pain that is usual in the morning [points]
    """

    in_session: float
    next_morning: float | None = None
    usual: float | None = None


def referral(signs: Sequence[str], age: float | None = None) -> Referral | None:
    """What the red flags ask for; None without any.

    The most urgent first; of equally urgent ones those that speak of the lifter's age, which is a reason to name them
    first and never one to leave the others out.

    Args:
        signs: ids that are known to exist
        age: age of the lifter, None where it is not stated [years]
    """
    if not signs:
        return None
    ordered = sorted(
        (SIGNS[sign] for sign in dict.fromkeys(signs)),
        key=lambda sign: (URGENCIES[sign.urgency].rank, -_fit(sign, age)),
    )
    return Referral(URGENCIES[ordered[0].urgency], tuple(ordered))


def _fit(sign: Sign, age: float | None) -> int:
    """1 for a sign of people of this age, -1 for one of people of another age, 0 for one of everybody."""
    if age is None or (sign.age_from is None and sign.age_below is None):
        return 0
    return 1 if sign.speaks_of(age) else -1


def stop_before_planning(signs: Sequence[str], circumstances: Circumstances) -> Stop | None:
    """Why nothing may be planned: red flags, which outrank everything, else circumstances that nobody has confirmed."""
    flagged = referral(signs, circumstances.age)
    if flagged is not None or circumstances.confirmed:
        return flagged
    conditions = to_confirm(circumstances)
    return Confirmation(conditions) if conditions else None


def band(pain: Pain) -> Band:
    """Band of the pain in the session, one band up where the next morning shows a real rise over the usual.

    Source: thomee_1997 for the bands, childs_2005 for the size of a real rise.
    """
    limits = CHOICES.adjustments
    level = 0 if pain.in_session <= limits.green_up_to else 1 if pain.in_session <= limits.amber_up_to else 2
    if pain.next_morning is not None:
        if pain.next_morning > limits.amber_up_to:
            level = 2
        elif pain.usual is not None and pain.next_morning - pain.usual >= limits.real_change:
            level = min(2, level + 1)
    return BANDS[level]


def first_step(level: Band) -> float:
    """Share of its present demand to which a sore region is brought first [1]: by adjustments and by a step back alike.

    A step back after pain in the green band, as for a bad morning, is the smaller one.
    """
    steps = CHOICES.adjustments.first_step
    return steps.red if level == "red" else steps.amber
