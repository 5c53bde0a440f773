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
PainFelt = Annotated[float, Meta(ge=0, le=10)]


class SessionDone(RequestModel, kw_only=True, frozen=True):
    """One session of the lift under review and its night.

    Attributes:
        pain_in_session: Worst pain in its own working sets alone, 0 (none) to 10 (worst imaginable); decimals are fine.
            Other lifts of that day do not count, in a week neither.
        pain_next_morning: Pain the morning after, 0 to 10. Left out: not known, and nothing is added on it.
        pain_at_rest: Worst pain at rest since, 0 to 10. Left out: not known.
        swelling: Whether the region swelled after it.
        sleep_lost: Whether pain cost sleep after it.
        new_stiffness: Whether the region was stiff after it in a way that is new.
        form_lost: Whether the technique broke down in it.
        reps_done: Repetitions of each set in order; with a hold, how many were held their full time. Left out: not
            known, and nothing is added on it, however good the session was.
        reps_in_reserve: Repetitions left after the hardest set, 0 (failure) to 30; halves are fine. Left out: not
            known, which keeps nothing from being added.
        earlier_prescription: Whether another prescription was done in it, so that it counts for pain alone.
    """

    pain_in_session: PainFelt
    pain_next_morning: PainFelt | UnsetType = UNSET
    pain_at_rest: PainFelt | UnsetType = UNSET
    swelling: bool = False
    sleep_lost: bool = False
    new_stiffness: bool = False
    form_lost: bool = False
    reps_done: Annotated[list[Annotated[float, whole(0, 100)]], Meta(min_length=1, max_length=50)] | UnsetType = UNSET
    reps_in_reserve: Annotated[float, Meta(ge=0, le=30)] | UnsetType = UNSET
    earlier_prescription: bool = False


class SessionReview(RequestModel, kw_only=True, frozen=True):
    """How a prescription was tolerated: the sessions of the last weeks, the newest last.

    Attributes:
        prescription: What was to be done in these sessions.
        region: The region that was sore.
        sessions: The sessions, the newest last.
        original: What the lifter wants back; then `lifter` must be stated, and a step on is the next one of the way
            back. Null or left out: the lift progresses by itself.
        lifter: Who lifts. Null or left out: where no way back is asked for.
        week: The lifts of the week, up to 40, for which `lifter` must be stated: then a step on comes once a week, and
            raises what the whole week asks of the region by no more than a tenth of what it asks now; it is smaller or
            waits where it would. Entries that are the present prescription, its previous or its original one (tempo,
            rest, effort and cues aside) are the lift's own days, where it states no days_per_week, and their number
            tells how long a step takes; it may as well be left out of the week. Where none is, entries of these
            exercises are taken for its own days. The other lifts are not reviewed by this: each that hurt is by itself,
            with its own sessions. Empty: the lift bounds its steps by itself.
        keep: What of the present prescription is kept for good, say on a clinician's word: it is neither taken away nor
            a step that is left, and the original counts as done with it. Depth and technique belong to the lift: of
            another one they are left with it. Empty: nothing.
        aim: What the lifter trains for; for a tendon stable amber pain is no reason to wait. Null or left out: not a
            tendon.
        usual_pain: Pain that is usual in the morning without training, 0 to 10, against which the next morning is
            judged. Left out: not known.
        weekly_pain: Mean pain of each week, oldest first. Left out: not known.
        weeks_since_start: Weeks since the plan began. Left out: not known.
        pain_at_start: Pain when the plan began, 0 to 10. Left out: not known.
        signs: Ids of the red flags that the lifter reports, see GET /v1/signs. Any of them ends in `refer`.
        circumstances: What a professional has to confirm first. Left out: nothing of the kind.
        previous: The last prescription that was tolerated, to which a step back returns; one that asks no less than the
            present one is left out of account. Null or left out: not known.
        gym: What there is to lift with. Null or left out: the usual bar and everything else in usual steps.
        bar: Deprecated: use `gym`. The bar with its plates.
        increment: Deprecated: use `gym`. The step of what goes on no bar.
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
    weekly_pain: Annotated[list[PainFelt], Meta(max_length=52)] | UnsetType = UNSET
    weeks_since_start: Annotated[float, Meta(ge=0, le=520)] | UnsetType = UNSET
    pain_at_start: PainFelt | UnsetType = UNSET
    signs: Annotated[list[SignId], Meta(max_length=len(SIGNS))] = []
    circumstances: Circumstances | UnsetType = UNSET
    previous: Prescription | None = None
    gym: Gym | None = None
    bar: EarlierBar | UnsetType = UNSET
    increment: EarlierStep | UnsetType = UNSET


class RuleFired(ResponseModel, kw_only=True, frozen=True):
    """A rule of the review that fired.

    Attributes:
        id: Stable id of the rule.
        message: The rule in a sentence, with the numbers that fired it.
        sources: Ids of its sources, see GET /v1/sources.
        known: How far these are known.
    """

    id: str
    message: Message
    sources: list[str]
    known: Known


class ProfessionalReview(ResponseModel, kw_only=True, frozen=True):
    """A doctor or physical therapist should look at this before anything is added.

    Attributes:
        urgency: Id of how soon.
        what_to_do: Whom to see, and how soon.
        reasons: Why.
    """

    urgency: str
    what_to_do: Message
    reasons: list[Message]


class SessionReviewAnswer(ResponseModel, kw_only=True, frozen=True):
    """The decision and the rule behind it, and the whole prescription for next time.

    Attributes:
        decision: What follows from the sessions.
        tier: What the highest pain of the last session, at rest and the next morning allows.
        rule: The rule that decided, `confirm_first` where something has to be confirmed first.
        other_rules: Further rules that lead to the same decision.
        referral: How urgently and because of which signs; null where no red flag was reported.
        confirmation: What a professional has to confirm first; null where nothing has to.
        pause: Why nothing that loads the region is prescribed; null where something may be.
        meanwhile: What can be trained where nothing of the lift is left; empty otherwise.
        professional_review: Why a professional should look at it first; null where none has to.
        good_sessions_in_a_row: How many of the last sessions went well, without a break.
        next: What to do next time; may be sent back as it is. Null on referral, on a pause, where something must be
            confirmed first, or where nothing smaller is left.
        test_first: A set that has to go well before a step of the way back; null where none has to.
        changed: By what `next` differs from the present prescription; nothing else does.
        of_week: What a step on makes of the week; null where there is none or a moment is not computed. Left out where
            no week is stated.
        why: The decision in words for the lifter.
        would_change: What would lead to another decision next time.
        basis: Where the decision comes from.
        cautions: What to mind.
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
