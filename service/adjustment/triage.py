"""What comes before any option: red flags, and the target that the reported pain sets.

Bands follow the pain-monitoring model (thomee_1997: 0 to 2, above 2 to 5, above 5; silbernagel_2007 for the next
morning); the size of the first step is practice and our own choice, for no study links a reduction of load to a pain
score.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import msgspec

from service.adjustment.clearance import Condition
from service.knowledge.catalogue import SIGNS, URGENCIES, Sign, Urgency
from service.knowledge.design_choices import CHOICES
from service.vocabulary import BANDS, Band

CONFIRM_FIRST: Final = "confirm_first"
_NO_PLAN: Final = (
    "No option is given until a licensed professional has confirmed that training of the region may go on."
)


class Referral(msgspec.Struct, frozen=True):
    """What red flags ask for.

    Attributes:
        urgency: of the most urgent sign, which decides what to do
        signs: all that were reported, the most urgent first
    """

    urgency: Urgency
    signs: tuple[Sign, ...]


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


def referral(signs: Sequence[str]) -> Referral | None:
    """What the red flags ask for; None without any. The ids are already known to exist."""
    if not signs:
        return None
    ordered = sorted((SIGNS[sign] for sign in dict.fromkeys(signs)), key=lambda sign: URGENCIES[sign.urgency].rank)
    return Referral(URGENCIES[ordered[0].urgency], tuple(ordered))


def confirmation(conditions: Sequence[Condition]) -> Referral:
    """What circumstances ask for that no professional has confirmed yet, each of them as a sign."""
    what_to_do = " ".join(one.what_to_do for one in conditions)
    signs = (Sign(one.id, "", one.text, CONFIRM_FIRST, one.sources, one.known) for one in conditions)
    return Referral(Urgency(CONFIRM_FIRST, 0, what_to_do, "design_choice", _NO_PLAN), tuple(signs))


def required_referral(signs: Sequence[str], conditions: Sequence[Condition], *, confirmed: bool) -> Referral | None:
    """The referral before which nothing is planned: for red flags, else for conditions that are not confirmed."""
    flagged = referral(signs)
    if flagged is not None or confirmed or not conditions:
        return flagged
    return confirmation(conditions)


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
