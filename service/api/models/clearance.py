"""What has to be confirmed by a professional before any plan is given, as requests and answers say it."""

from __future__ import annotations

from typing import Annotated

from msgspec import UNSET, UnsetType

from service.adjustment import clearance
from service.adjustment.text.stop import because_of, stop_rule, what_to_do
from service.adjustment.triage import Confirmation
from service.api.models.base import RequestModel, ResponseModel, or_default, stated
from service.api.models.common import Basis, whole
from service.messages import Message, message


class Circumstances(RequestModel, kw_only=True, frozen=True):
    """What needs a licensed professional's confirmation before any plan is given.

    Attributes:
        age: Age in years. Below 18 a plan needs confirmation. Left out: an adult.
        pregnant: Whether the lifter is pregnant.
        osteoporosis: Whether the lifter has osteoporosis.
        post_operative: Whether the sore region was operated on.
        confirmed_by_professional: Whether a licensed professional confirmed that training may go on under these
            circumstances.
    """

    age: Annotated[float, whole(5, 120)] | UnsetType = UNSET
    pregnant: bool = False
    osteoporosis: bool = False
    post_operative: bool = False
    confirmed_by_professional: bool = False


class CircumstanceToConfirm(ResponseModel, kw_only=True, frozen=True):
    """A circumstance that a professional has to confirm first.

    Attributes:
        id: Stable id of the circumstance.
        message: What it is.
        what_to_do: Whom to ask what.
    """

    id: str
    message: Message
    what_to_do: Message


class ConfirmationAnswer(ResponseModel, kw_only=True, frozen=True):
    """Nothing is planned before a professional confirms; this is no red flag and no referral.

    Attributes:
        what_to_do: What to do first, circumstance by circumstance.
        stop_rule: What to do with the training until then.
        circumstances: The circumstances because of which it is asked.
    """

    what_to_do: list[Message]
    stop_rule: Message
    circumstances: list[CircumstanceToConfirm]


def circumstances_of(circumstances: Circumstances | UnsetType) -> clearance.Circumstances:
    """What is stated of the lifter."""
    reported = or_default(circumstances, Circumstances())
    return clearance.Circumstances(
        stated(reported.age),
        reported.pregnant,
        reported.osteoporosis,
        reported.post_operative,
        reported.confirmed_by_professional,
    )


def confirm(stop: Confirmation) -> tuple[ConfirmationAnswer, Basis]:
    """What has to be confirmed first, and the basis of asking for it."""
    first, because = what_to_do(stop), because_of(stop)
    answer = ConfirmationAnswer(
        what_to_do=first,
        stop_rule=stop_rule(stop),
        circumstances=[
            CircumstanceToConfirm(id=one.id, message=reason, what_to_do=doing)
            for one, reason, doing in zip(stop.conditions, because, first, strict=True)
        ],
    )
    basis = Basis(
        method=message("method_confirm_first"),
        sources=list(dict.fromkeys(source for one in stop.conditions for source in one.sources)),
        assumptions=[message("assumed_confirm_first")],
        evidence="practice",
    )
    return answer, basis


def once_confirmed(circumstances: clearance.Circumstances) -> list[Message]:
    """What holds for circumstances that were confirmed."""
    return [message(f"confirmed_{one.id}") for one in clearance.to_confirm(circumstances)]
