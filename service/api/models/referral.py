"""Referrals as answers: because of a red flag, or because a professional has to confirm first."""

from __future__ import annotations

from typing import Final

from service.adjustment.triage import CONFIRM_FIRST, Referral
from service.api.models.base import ResponseModel
from service.api.models.common import Basis


class SignReported(ResponseModel, kw_only=True, frozen=True):
    """A red flag that was reported, or a circumstance that has to be confirmed first."""

    id: str
    text: str
    urgency: str


class ReferralAnswer(ResponseModel, kw_only=True, frozen=True):
    """Stop and refer: how urgently, what to do now, and because of which signs or circumstances."""

    urgency: str
    what_to_do: str
    stop_rule: str
    signs: list[SignReported]


def refer(stop: Referral) -> tuple[ReferralAnswer, Basis]:
    """The referral that red flags or unconfirmed circumstances ask for, and its basis."""
    answer = ReferralAnswer(
        urgency=stop.urgency.id,
        what_to_do=stop.urgency.what_to_do,
        stop_rule=stop.urgency.stop_rule,
        signs=[SignReported(id=sign.id, text=sign.text, urgency=sign.urgency) for sign in stop.signs],
    )
    method, assumption = _CONFIRM_FIRST if stop.urgency.id == CONFIRM_FIRST else _RED_FLAGS
    basis = Basis(
        method=method,
        sources=list(dict.fromkeys(source for sign in stop.signs for source in sign.sources)),
        assumptions=[assumption],
        evidence="practice",
    )
    return answer, basis


_RED_FLAGS: Final = (
    "any red flag stops the adjustment; the most urgent one decides",
    "The urgency of a sign is our interpretation where its source does not state it; a clinician must sign the list off.",
)
_CONFIRM_FIRST: Final = (
    "some circumstances need a licensed professional's confirmation before any option is given",
    "Which circumstances need it is our own rule; the sources say what is known of each.",
)
