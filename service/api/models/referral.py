"""Referrals as answers: because of a red flag, or because a professional has to confirm first."""

from __future__ import annotations

from service.adjustment.clearance import Condition
from service.adjustment.triage import Referral
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
            "The urgency of a sign is our interpretation where its source does not state it; a clinician must sign the list off."
        ],
        evidence="practice",
    )
    return answer, basis


def confirm_first(conditions: tuple[Condition, ...]) -> tuple[ReferralAnswer, Basis]:
    """The referral that an unconfirmed circumstance asks for, and its basis."""
    answer = ReferralAnswer(
        urgency="confirm_first",
        what_to_do=" ".join(condition.what_to_do for condition in conditions),
        stop_rule="No option is given until a licensed professional has confirmed that training of the region may go on.",
        signs=[SignReported(id=one.id, text=one.text, urgency="confirm_first") for one in conditions],
    )
    basis = Basis(
        method="some circumstances need a licensed professional's confirmation before any option is given",
        sources=list(dict.fromkeys(source for one in conditions for source in one.sources)),
        assumptions=["Which circumstances need it is our own rule; the sources say what is known of each."],
        evidence="practice",
    )
    return answer, basis
