"""Referrals as answers: what red flags ask for."""

from __future__ import annotations

from service.adjustment.text.stop import because_of, stop_rule, what_to_do
from service.adjustment.triage import Referral
from service.api.models.base import ResponseModel
from service.api.models.common import Basis
from service.messages import Message, message


class SignReported(ResponseModel, kw_only=True, frozen=True):
    """A red flag that was reported.

    Attributes:
        id: Id of the sign, see GET /v1/signs.
        message: The sign in a sentence.
        urgency: Id of how soon it has to be looked at.
    """

    id: str
    message: Message
    urgency: str


class ReferralAnswer(ResponseModel, kw_only=True, frozen=True):
    """Stop and refer, because of the signs that were reported.

    Attributes:
        urgency: Id of how soon it has to be looked at: that of the most urgent sign.
        what_to_do: What to do now.
        stop_rule: What to do and not to do with the training.
        signs: The signs that were reported, the most urgent first.
    """

    urgency: str
    what_to_do: Message
    stop_rule: Message
    signs: list[SignReported]


def refer(stop: Referral) -> tuple[ReferralAnswer, Basis]:
    """The referral that red flags ask for, and its basis."""
    [first] = what_to_do(stop)
    answer = ReferralAnswer(
        urgency=stop.urgency.id,
        what_to_do=first,
        stop_rule=stop_rule(stop),
        signs=[
            SignReported(id=sign.id, message=reason, urgency=sign.urgency)
            for sign, reason in zip(stop.signs, because_of(stop), strict=True)
        ],
    )
    basis = Basis(
        method=message("method_red_flags"),
        sources=list(dict.fromkeys(source for sign in stop.signs for source in sign.sources)),
        assumptions=[message("assumed_urgency"), message("assumed_single_sign")],
        evidence="practice",
    )
    return answer, basis
