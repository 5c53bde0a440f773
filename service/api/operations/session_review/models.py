"""What session-review is asked and what it answers."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, ResponseModel
from service.api.models.clearance import Circumstances, ConfirmationAnswer
from service.api.models.common import Basis, whole
from service.api.models.gym import EarlierBar, EarlierStep, Gym
from service.api.models.ids import SignId
from service.api.models.lifter import Lifter
from service.api.models.pause import MeanwhileGroup, PauseAnswer
from service.api.models.prescription import Prescription
from service.api.models.referral import ReferralAnswer
from service.api.models.way_back import Keep, TrialSetAnswer
from service.api.models.week_of_lift import WeekOfLift, WeekRatioAnswer
from service.knowledge.records import Known
from service.knowledge.signs import SIGNS
from service.messages import Message
from service.vocabulary import Aim, Change, Region, ReviewDecision, Tier

MOST_SESSIONS: Final = 28  # four weeks of daily ones
PainFelt = Annotated[
    float, Meta(ge=0, le=10, description="Pain from 0 (none) to 10 (worst imaginable); decimals are fine.")
]


class SessionDone(RequestModel, kw_only=True, frozen=True):
    """One session of the lift under review and its night. pain_in_session is the worst in its own working sets alone.

    Other lifts of that day do not count, in a week neither; pain_at_rest: the worst since. reps_done: of each set in
    order, with a hold how many were held their full time; reps_in_reserve: left after the hardest set;
    earlier_prescription: true where another prescription was done in it, so that it counts for pain alone.
    """

    pain_in_session: PainFelt
    pain_next_morning: PainFelt | UnsetType = UNSET
    pain_at_rest: PainFelt | UnsetType = UNSET
    swelling: bool = False
    sleep_lost: bool = False
    new_stiffness: bool = False
    form_lost: bool = False
    reps_done: (
        Annotated[
            list[Annotated[float, whole(0, 100, "Whole repetitions, 0 to 100.")]], Meta(min_length=1, max_length=50)
        ]
        | UnsetType
    ) = UNSET
    reps_in_reserve: (
        Annotated[float, Meta(ge=0, le=30, description="Repetitions left, 0 (failure) to 30; halves are fine.")]
        | UnsetType
    ) = UNSET
    earlier_prescription: bool = False


class SessionReview(RequestModel, kw_only=True, frozen=True):
    """How a prescription was tolerated: the sessions of the last weeks, the newest last.

    original: what the lifter wants back, for which a lifter must be stated: then a step on is the next one of the way
    back. aim: of training; for a tendon stable amber pain is no reason to wait. previous: the last prescription that was
    tolerated, to which a step back returns; one that asks no less than the present one is left out of account. week: the
    lifts of the week, for which a lifter must be stated: then a step on comes once a week and raises what the whole week
    asks of the region by no more than a tenth of what it asks now; it is smaller or waits where it would. The
    other lifts of the week are not reviewed by this: each that hurt is by itself, with its own sessions.
    """

    prescription: Prescription
    region: Region
    sessions: Annotated[list[SessionDone], Meta(min_length=1, max_length=MOST_SESSIONS)]
    original: Prescription | None = None
    lifter: Lifter | None = None
    week: WeekOfLift = []
    keep: Keep = []
    aim: Aim | None = None
    usual_pain: PainFelt | UnsetType = UNSET
    weekly_pain: (
        Annotated[list[PainFelt], Meta(max_length=52, description="Mean pain of each week, oldest first.")] | UnsetType
    ) = UNSET
    weeks_since_start: (
        Annotated[float, Meta(ge=0, le=520, description="Weeks since the plan began, 0 to 520.")] | UnsetType
    ) = UNSET
    pain_at_start: PainFelt | UnsetType = UNSET
    signs: Annotated[list[SignId], Meta(max_length=len(SIGNS))] = []
    circumstances: Circumstances | UnsetType = UNSET
    previous: Prescription | None = None
    gym: Gym | None = None
    bar: EarlierBar | UnsetType = UNSET
    increment: EarlierStep | UnsetType = UNSET


class RuleFired(ResponseModel, kw_only=True, frozen=True):
    """A rule that fired; its id is stable. known says how far its source is known to us."""

    id: str
    message: Message
    sources: list[str]
    known: Known


class ProfessionalReview(ResponseModel, kw_only=True, frozen=True):
    """A doctor or physical therapist should look at this before anything is added."""

    urgency: str
    what_to_do: Message
    reasons: list[Message]


class SessionReviewAnswer(ResponseModel, kw_only=True, frozen=True):
    """The decision and the rule behind it, and the whole prescription for next time, which may be sent back as it is.

    tier: what the highest pain of the last session, at rest and the next morning allows; other_rules: further rules that
    lead to the same decision; next: null on referral, on a pause, where something must be confirmed first, or where
    nothing smaller is left; pause: why nothing that loads the region is prescribed; meanwhile: what can be trained then; changed: by what it differs from the present
    prescription, nothing else does; test_first: a set that has to go well before a step of the way back; of_week: where a
    week is stated, what a step on makes of it, null where there is none or a moment is not computed.
    """

    decision: ReviewDecision
    tier: Tier
    rule: RuleFired
    other_rules: list[RuleFired]
    referral: ReferralAnswer | None
    confirmation: ConfirmationAnswer | None
    pause: PauseAnswer | None
    meanwhile: list[MeanwhileGroup]
    professional_review: ProfessionalReview | None
    good_sessions_in_a_row: int
    next: Prescription | None
    test_first: TrialSetAnswer | None
    changed: list[Change]
    of_week: WeekRatioAnswer | UnsetType | None = UNSET
    why: list[Message]
    would_change: list[Message]
    basis: Basis
    cautions: list[Message]
