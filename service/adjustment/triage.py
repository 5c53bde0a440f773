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
from service.vocabulary import Band

CHOICE: Final = CHOICES.adjustments
CONFIRM_FIRST: Final = "confirm_first"
_NO_PLAN: Final = (
    "No option is given until a licensed professional has confirmed that training of the region may go on."
)


class Referral(msgspec.Struct, frozen=True):
    """The most urgent of the signs reported decides what to do."""

    urgency: Urgency
    signs: tuple[Sign, ...]


class Pain(msgspec.Struct, frozen=True):
    """Pain from 0 to 10: in the session, the next morning and usually; None where not stated."""

    in_session: float
    next_morning: float | None = None
    usual: float | None = None


def referral(signs: Sequence[str]) -> Referral | None:
    """What the red flags ask for; None without any. The ids are already known to exist."""
    found = tuple(SIGNS[sign] for sign in dict.fromkeys(signs))
    if not found:
        return None
    ordered = sorted(found, key=lambda sign: URGENCIES[sign.urgency].rank)
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
    """Band of the pain in the session, one band up where the next morning shows a real rise over the usual."""
    levels: tuple[Band, ...] = ("green", "amber", "red")
    level = 0 if pain.in_session <= CHOICE.green_up_to else 1 if pain.in_session <= CHOICE.amber_up_to else 2
    if pain.next_morning is not None:
        if pain.next_morning > CHOICE.amber_up_to:
            level = 2
        elif pain.usual is not None and pain.next_morning - pain.usual >= CHOICE.real_change:
            level = min(2, level + 1)
    return levels[level]
