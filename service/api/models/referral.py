"""Referrals as answers: what red flags ask for."""

from __future__ import annotations

from service.adjustment.triage import Referral
from service.api.models.base import ResponseModel
from service.api.models.common import Basis


class SignReported(ResponseModel, kw_only=True, frozen=True):
    """A red flag that was reported."""

    id: str
    text: str
    urgency: str


class ReferralAnswer(ResponseModel, kw_only=True, frozen=True):
    """Stop and refer: how urgently, what to do now, what to do and not to do with the training, and because of which signs."""

    urgency: str
    what_to_do: str
    stop_rule: str
    signs: list[SignReported]


def refer(stop: Referral) -> tuple[ReferralAnswer, Basis]:
    """The referral that red flags ask for, and its basis."""
    answer = ReferralAnswer(
        urgency=stop.urgency.id,
        what_to_do=stop.urgency.what_to_do,
        stop_rule=stop.urgency.stop_rule,
        signs=[SignReported(id=sign.id, text=sign.text, urgency=sign.urgency) for sign in stop.signs],
    )
    basis = Basis(
        method="any red flag stops the adjustment; the most urgent one decides",
        sources=list(dict.fromkeys(source for sign in stop.signs for source in sign.sources)),
        assumptions=[
            "The urgency of a sign is our interpretation where its source does not state it; a clinician must sign the list off.",
            "A single sign says little about what is wrong (downie_2013): serious is not always an emergency, and no sign reported clears nobody.",
        ],
        evidence="practice",
    )
    return answer, basis
