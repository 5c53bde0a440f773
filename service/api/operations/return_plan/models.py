"""What return-plan is asked and what it answers."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.adjustment.return_plan.problem import LARGEST_STEP
from service.api.models.base import RequestModel, ResponseModel
from service.api.models.by_region import DemandByRegion
from service.api.models.clearance import Circumstances, ConfirmationAnswer
from service.api.models.common import (
    Basis,
    Estimate,
    whole,
)
from service.api.models.gym import EarlierBar, EarlierStep, Gym
from service.api.models.ids import SignId
from service.api.models.lifter import Lifter
from service.api.models.prescription import Prescription
from service.api.models.referral import ReferralAnswer
from service.api.models.tolerated import ToleratedLoad
from service.api.models.way_back import Keep, TrialSetAnswer
from service.api.models.week_of_lift import WeekOfLift, WeekRatioAnswer
from service.knowledge.design_choices import CHOICES
from service.knowledge.signs import SIGNS
from service.messages import Message
from service.vocabulary import Change, Evidence, Region, ReturnDecision

LONGEST: Final = CHOICES.return_plan.longest


class ReturnPlan(RequestModel, kw_only=True, frozen=True):
    """A way back: the lifter, the original prescription, the adjusted one that is done now, and the region that is sore.

    Attributes:
        lifter: Who lifts.
        original: What the lifter wants back.
        adjusted: What is done now; what it leaves out of tempo, rest and days is as in the original.
        region: The region that was sore.
        week: The lifts of the week, up to 40: then no step raises what the whole week asks of the region by more than
            `step` of what it asks before. Entries that are `adjusted` or `original` (tempo, rest, effort and cues
            aside) are the lift's own days, where it states no days_per_week, and their number tells how long a step
            takes; it may as well be left out of the week. Where none is, entries of these exercises are taken for its
            own days. Empty: the lift bounds its steps by itself.
        keep: What of `adjusted` is kept for good, say on a clinician's word: it is neither taken away nor a step that
            is left, and the original counts as done with it. Depth and technique belong to the lift: of another one
            they are left with it. Empty: nothing.
        step: Rise of the region's demand from step to step that is wished for, as a share of the original's: 0.1 is a
            tenth. Where no change stays within it, the smallest is taken after a test. Left out: a choice of our own
            (GET /v1/sources/design_choice), for no rule is published.
        tolerated: A load of the original lift that does not hurt, or hardly. Left out: not known.
        weeks_off: Weeks without training just before the return.
        gym: What there is to lift with. Null or left out: the usual bar and everything else in usual steps.
        bar: Deprecated: use `gym`. The bar with its plates.
        increment: Deprecated: use `gym`. The step of what goes on no bar.
        days_per_week_max: Most days a week on which the lift may be trained, not fewer than either prescription has.
            Left out: no such limit.
        signs: Ids of the red flags that the lifter reports, see GET /v1/signs. Any of them ends in `refer`.
        circumstances: What a professional has to confirm first. Left out: nothing of the kind.
        longest: Most weeks of the plan. Left out: as many as it takes.
    """

    lifter: Lifter
    original: Prescription
    adjusted: Prescription
    region: Region
    week: WeekOfLift = []
    keep: Keep = []
    step: Annotated[float, Meta(ge=0.02, le=LARGEST_STEP)] | UnsetType = UNSET
    tolerated: ToleratedLoad | UnsetType = UNSET
    weeks_off: Annotated[float, Meta(ge=0, le=52)] = 0
    gym: Gym | None = None
    bar: EarlierBar | UnsetType = UNSET
    increment: EarlierStep | UnsetType = UNSET
    days_per_week_max: Annotated[float, whole(1, 7)] | UnsetType = UNSET
    signs: Annotated[list[SignId], Meta(max_length=len(SIGNS))] = []
    circumstances: Circumstances | UnsetType = UNSET
    longest: Annotated[float, whole(1, LONGEST)] | UnsetType = UNSET


class GateAnswer(ResponseModel, kw_only=True, frozen=True):
    """What must hold at a step before the next one.

    Attributes:
        sessions: In so many sessions in a row.
        pain_in_session_up_to: Pain in the session of 10 at most.
        next_morning_above_usual_below: Pain the next morning less than so many points above the usual; where it is
            green and was as high shortly before, a rise short of a real change will do.
        stop_above: Pain above which the session ends at once.
        reps_in_reserve_at_least: Repetitions that have to be left after the hardest set.
        text: The same and what else to do, in plain words.
    """

    sessions: int
    pain_in_session_up_to: float
    next_morning_above_usual_below: float
    stop_above: float
    reps_in_reserve_at_least: float
    text: list[Message]


class ByTrialSetAnswer(ResponseModel, kw_only=True, frozen=True):
    """A step's load after weeks off, which a test in the first week decides.

    Attributes:
        share: Share of the load that the test gives.
        load: What that comes to: low as planned, high if no strength was lost.
    """

    share: float
    load: Estimate


class ExposureAnswer(ResponseModel, kw_only=True, frozen=True):
    """The sore region's demand against the original's: 0.8 is a fifth less.

    Attributes:
        repetition: Of the hardest repetition; null with body mass alone, where neither a number nor a load says it.
        session: Summed over a session; null with body mass alone, where neither a number nor a load says it.
        week: Summed over a week; null where days are not stated, and with body mass alone, where neither a number nor a
            load says it.
    """

    repetition: float | None
    session: float | None
    week: float | None


class StepAnswer(ResponseModel, kw_only=True, frozen=True):
    """One step and what changes with it.

    Attributes:
        week: The week in which it is first done if every gate before was passed the first time, from 1.
        prescription: What to do; any operation takes it as it is.
        changed: By what it differs from the step before.
        demand: Demand of regions with a known number against the original's.
        sore_region: The sore region's demand, which the step's limit is held to.
        rise: The largest rise of a repetition, of a session and on as many days of a week against the step before, as a
            share of the original's; null where the two have no common scale or nothing was done before.
        over_step: Whether that, or the rise of the whole week, is more than was wished for, since no smaller change
            leads on.
        of_week: What the step makes of the week; null where a moment is not computed. Left out where no week is stated.
        test_first: A set that has to go well before it; null where none has to.
        by_test: How the test after weeks off decides its load; null where nothing was left off.
        evidence: On what the comparison with the step before rests.
        relative_volume: Sets × repetitions × share of the maximum, in the first weeks after a break; null elsewhere.
        gate: What must hold before the next step.
        fallback: The week of the step to go back to, 0 for the adjusted prescription.
        why: The step in words for the lifter.
    """

    week: int
    prescription: Prescription
    changed: list[Change]
    demand: DemandByRegion
    sore_region: ExposureAnswer
    rise: float | None
    over_step: bool
    of_week: WeekRatioAnswer | UnsetType | None = UNSET
    test_first: TrialSetAnswer | None
    by_test: ByTrialSetAnswer | None
    evidence: Evidence
    relative_volume: float | None
    gate: GateAnswer
    fallback: int
    why: list[Message]


class WeeksAnswer(ResponseModel, kw_only=True, frozen=True):
    """Weeks until the original.

    Attributes:
        low: With every gate passed the first time.
        high: With a share of the steps done twice.
        interval: What low and high mean.
    """

    low: int
    high: int
    interval: str


class ReturnPlanAnswer(ResponseModel, kw_only=True, frozen=True):
    """The steps in order, the last of them the original prescription.

    Attributes:
        decision: Whether there is a plan.
        referral: How urgently and because of which signs; null where no red flag was reported.
        confirmation: What a professional has to confirm first; null where nothing has to.
        region: The region that was sore.
        step: The rise from step to step that was held to, as a share of the original's demand; null where there is no
            plan.
        steps: The steps; empty where there is no plan.
        weeks: How long it takes; null where there is no plan.
        basis: Where the plan comes from.
        cautions: What to mind.
    """

    decision: ReturnDecision
    referral: ReferralAnswer | None
    confirmation: ConfirmationAnswer | None
    region: Region
    step: float | None
    steps: list[StepAnswer]
    weeks: WeeksAnswer | None
    basis: Basis
    cautions: list[Message]
