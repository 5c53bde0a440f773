"""What hurts, as requests describe it."""

from __future__ import annotations

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from service.adjustment import complaint as domain
from service.adjustment.triage import Judgement, Pain, judged
from service.api.models.base import RequestModel, stated
from service.api.models.ids import SignId
from service.api.models.tolerated import PainScore, ToleratedLoad
from service.errors import Refusal
from service.knowledge.signs import SIGNS
from service.vocabulary import Onset, PainfulRange, Provocation, Region, Side


class Complaint(RequestModel, kw_only=True, frozen=True):
    """What hurts, how much and how; any red flag ends in a referral.

    Attributes:
        region: The region that hurts most.
        also: Further regions that are sore, up to two; no option may ask them for more than now.
        side: The side that hurts. Changes the order of options that are as safe and as sure, and what is said. Left
            out: not known.
        provoked_by: What brings the pain on. Changes the order of options that are as safe and as sure. Empty: not
            known.
        painful_range: Part of the movement in which it hurts. Changes the order of options that are as safe and as
            sure. Left out: not known.
        weeks: Weeks since the complaint began, 0 to 520. Left out: not known.
        onset: How it began. A sudden onset brings the red flags to ask about. Left out: not known.
        pain_in_session: Worst pain in the session, 0 (none) to 10 (worst imaginable).
        pain_next_morning: Pain the morning after, 0 to 10. Left out: not known.
        usual_pain: Pain that is usual in the morning without training, 0 to 10, against which the next morning is
            judged. Left out: not known.
        pain_at_rest: Pain at rest now, 0 to 10. Left out: not known.
        after_adjustment: Whether this pain was felt with a prescription that had been adjusted for it already.
        signs: Ids of the red flags that the lifter reports, see GET /v1/signs. Any of them ends in `refer`.
        tolerated: A load of this lift that does not hurt, or hardly: the adjustment starts from there. Left out: not
            known.
    """

    region: Region
    also: Annotated[list[Region], Meta(max_length=2)] = []
    side: Side | UnsetType = UNSET
    provoked_by: Annotated[list[Provocation], Meta(max_length=4)] = []
    painful_range: PainfulRange | UnsetType = UNSET
    weeks: Annotated[float, Meta(ge=0, le=520)] | UnsetType = UNSET
    onset: Onset | UnsetType = UNSET
    pain_in_session: PainScore
    pain_next_morning: PainScore | UnsetType = UNSET
    usual_pain: PainScore | UnsetType = UNSET
    pain_at_rest: PainScore | UnsetType = UNSET
    after_adjustment: bool = False
    signs: Annotated[list[SignId], Meta(max_length=len(SIGNS))] = []
    tolerated: ToleratedLoad | UnsetType = UNSET


def pain_of(complaint: Complaint) -> Pain:
    """The pain as reported."""
    return Pain(
        complaint.pain_in_session,
        stated(complaint.pain_next_morning),
        stated(complaint.usual_pain),
        stated(complaint.pain_at_rest),
    )


def judged_of(complaint: Complaint) -> Judgement:
    """What the pain of a complaint allows."""
    return judged(pain_of(complaint), after_adjustment=complaint.after_adjustment)


def told_of(complaint: Complaint) -> domain.Complaint:
    """The complaint as the domain takes it. Raises Refusal for a further region that is named already."""
    for index, region in enumerate(complaint.also):
        if region in (complaint.region, *complaint.also[:index]):
            raise Refusal.one(f"complaint/also/{index}", "This region is named already.", "another region, or none")
    return domain.Complaint(
        complaint.region,
        tuple(complaint.also),
        stated(complaint.side),
        tuple(dict.fromkeys(complaint.provoked_by)),
        stated(complaint.painful_range),
        stated(complaint.weeks),
        stated(complaint.onset),
    )
