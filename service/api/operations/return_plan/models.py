"""What return-plan is asked and what it answers."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.adjustment.return_plan.problem import LARGEST_STEP
from service.api.models.base import RequestModel, ResponseModel
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

    step: the rise of the region's demand from step to step that is wished for, as a share of the original's; where left
    out a choice of our own (GET /v1/sources/design_choice), for no rule is published. Where no change stays within it,
    the smallest is taken after a test. tolerated: a load of the original lift that does not hurt, or hardly. What the adjusted prescription leaves out of tempo, rest and days
    is as in the original. week: the lifts of the week; then no step raises what the whole week asks of the region by
    more than `step` of what it asks before, and adjusted that stands in the week is done on those days.
    """

    lifter: Lifter
    original: Prescription
    adjusted: Prescription
    region: Region
    week: WeekOfLift = []
    keep: Keep = []
    step: (
        Annotated[float, Meta(ge=0.02, le=LARGEST_STEP, description="From 0.02 to 0.50 of the original's demand.")]
        | UnsetType
    ) = UNSET
    tolerated: ToleratedLoad | UnsetType = UNSET
    weeks_off: Annotated[
        float, Meta(ge=0, le=52, description="Weeks without training just before the return, 0 to 52.")
    ] = 0
    gym: Gym | None = None
    bar: EarlierBar | UnsetType = UNSET
    increment: EarlierStep | UnsetType = UNSET
    days_per_week_max: Annotated[float, whole(1, 7, "Most days a week, 1 to 7.")] | UnsetType = UNSET
    signs: Annotated[list[SignId], Meta(max_length=len(SIGNS))] = []
    circumstances: Circumstances | UnsetType = UNSET
    longest: (
        Annotated[float, whole(1, LONGEST, "Most weeks of the plan, 1 to 52; left out, as many as it takes.")]
        | UnsetType
    ) = UNSET


class GateAnswer(ResponseModel, kw_only=True, frozen=True):
    """What must hold at a step before the next one: so many sessions in a row with pain up to a limit of 10, the next morning less than so much above the usual (or a real change, where it is green and was as high shortly before), and repetitions left; and what else to do, in plain words."""

    sessions: int
    pain_in_session_up_to: float
    next_morning_above_usual_below: float
    stop_above: float
    reps_in_reserve_at_least: float
    text: list[Message]


class ByTrialSetAnswer(ResponseModel, kw_only=True, frozen=True):
    """A step's load after weeks off as a share of the load that the first week's test gives, and what that comes to: low as planned, high if no strength was lost."""

    share: float
    load: Estimate


class ExposureAnswer(ResponseModel, kw_only=True, frozen=True):
    """The sore region's demand of a repetition, and summed over a session and a week, against the original's; week is null where days are not stated, all are with body mass alone where neither a number nor a load says it."""

    repetition: float | None
    session: float | None
    week: float | None


class StepAnswer(ResponseModel, kw_only=True, frozen=True):
    """One step: the week in which it is first done if every gate before was passed the first time, and what changes.

    demand: of every region with a known number against the original's; sore_region: what the step's limit is held to;
    rise: the largest rise of a repetition, of a session and on as many days of a week against the step before, null where
    the two have no common scale or nothing was done before; over_step: whether that, or the rise of the whole week, is more than was wished for, since no
    smaller change leads on. of_week: where a week is stated, null where a moment is not computed. test_first: what has to go well before. by_test: after weeks off. relative_volume: sets × repetitions × share of the maximum, in the first
    weeks after a break. fallback: the week of the step to go back to, 0 for the adjusted prescription.
    """

    week: int
    prescription: Prescription
    changed: list[Change]
    demand: dict[str, Estimate]
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
    """Weeks until the original: low with every gate passed the first time, high with a share of the steps done twice."""

    low: int
    high: int
    interval: str


class ReturnPlanAnswer(ResponseModel, kw_only=True, frozen=True):
    """The steps in order, the last of them the original prescription; none where the decision is to refer or to confirm first."""

    decision: ReturnDecision
    referral: ReferralAnswer | None
    confirmation: ConfirmationAnswer | None
    region: Region
    step: float | None
    steps: list[StepAnswer]
    weeks: WeeksAnswer | None
    basis: Basis
    cautions: list[Message]
