"""What adjustments is asked and what it answers."""

from __future__ import annotations

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, ResponseModel
from service.api.models.clearance import Circumstances, ConfirmationAnswer
from service.api.models.common import (
    Basis,
    Estimate,
    whole,
)
from service.api.models.gym import EarlierBar, EarlierStep, Gym
from service.api.models.ids import ExerciseId, SignId
from service.api.models.lifter import Lifter
from service.api.models.pause import MeanwhileGroup, PauseAnswer
from service.api.models.prescription import Prescription
from service.api.models.referral import ReferralAnswer
from service.api.models.tolerated import PainScore, ToleratedLoad
from service.knowledge.signs import SIGNS
from service.messages import Message
from service.units import Mass
from service.vocabulary import (
    AdjustmentDecision,
    Aim,
    Direction,
    KeptPart,
    Lever,
    MeetsBy,
    Program,
    Region,
    Tier,
)


class Complaint(RequestModel, kw_only=True, frozen=True):
    """What hurts and how much; any sign (red flag, see GET /v1/signs) ends in a referral.

    after_adjustment: whether this pain was felt with a prescription that had been adjusted for it.
    """

    region: Region
    pain_in_session: PainScore
    pain_next_morning: PainScore | UnsetType = UNSET
    usual_pain: PainScore | UnsetType = UNSET
    pain_at_rest: PainScore | UnsetType = UNSET
    after_adjustment: bool = False
    signs: Annotated[list[SignId], Meta(max_length=len(SIGNS))] = []
    tolerated: ToleratedLoad | UnsetType = UNSET


class Constraints(RequestModel, kw_only=True, frozen=True):
    """What may be changed and what there is. Left out: every lever, every exercise, the usual bar.

    exercises: that may take the place of the present lift; exclude: that no option may use, the present one among them.
    spare: regions that may be asked for no more than now. gym: what there is to lift with; where it has nothing for the
    present lift, only other lifts are offered.
    lightest_load: no option is lighter, and the target is not set below its demand.
    """

    levers: Annotated[list[Lever], Meta(min_length=1, max_length=11)] | UnsetType = UNSET
    exercises: Annotated[list[ExerciseId], Meta(max_length=60)] | UnsetType = UNSET
    exclude: Annotated[list[ExerciseId], Meta(max_length=60)] = []
    spare: Annotated[list[Region], Meta(max_length=13)] = []
    gym: Gym | None = None
    bar: EarlierBar | UnsetType = UNSET
    increment: EarlierStep | UnsetType = UNSET
    lightest_load: Mass | UnsetType = UNSET
    days_per_week_max: Annotated[float, whole(1, 7, "Most days a week, 1 to 7.")] | UnsetType = UNSET


class Adjustments(RequestModel, kw_only=True, frozen=True):
    """A consultation: the lifter, the prescription that hurts, the complaint and the aim."""

    lifter: Lifter
    prescription: Prescription
    complaint: Complaint
    aim: Aim
    circumstances: Circumstances | UnsetType = UNSET
    constraints: Constraints | UnsetType = UNSET
    limit: Annotated[float, whole(1, 20, "Most options in the answer, 1 to 20.")] = 5


class KeptPartAnswer(ResponseModel, kw_only=True, frozen=True):
    """A part of the training effect that is kept, against the present; low and high are null where no span is known."""

    value: float
    low: float | None
    high: float | None


class KeptAnswer(ResponseModel, kw_only=True, frozen=True):
    """The training effect that is taken to be kept: an index of our own, and the parts of which it is the product.

    parts: those that are not kept whole. muscles: for the aim muscle_size, each muscle that the present lift trains, by
    its hard sets and its range of motion.
    """

    value: float
    low: float | None
    high: float | None
    parts: dict[KeptPart, KeptPartAnswer]
    muscles: dict[str, KeptPartAnswer]


class StimulusAnswer(ResponseModel, kw_only=True, frozen=True):
    """What the muscle is asked to do against the present: ratios of the week, share of the lift's own maximum, and an index of the effect kept.

    seconds_a_set: time under tension of a set, null without a tempo or hold; muscle_moment: moment asked of hip and
    knee together, null where not computed.
    """

    weekly_sets: float
    volume_load: float
    relative_load: float | None
    reps_in_reserve: float
    muscle_moment: float | None
    seconds_a_set: Estimate | None
    kept: KeptAnswer


class Baseline(ResponseModel, kw_only=True, frozen=True):
    """The present prescription: peak moments of a repetition (N·m; hip, knee and ankle per leg) and the trunk lean at the bottom (deg); both empty where no planar model covers the lift."""

    moments: dict[str, Estimate]
    trunk_lean: Estimate | None


class TargetAnswer(ResponseModel, kw_only=True, frozen=True):
    """The share of its present demand to which the sore region is brought, and the rule that says so."""

    region: Region
    ratio: float
    rule: Message


class LoadRange(ResponseModel, kw_only=True, frozen=True):
    """From a load to a load."""

    low: Mass
    high: Mass


class RampAnswer(ResponseModel, kw_only=True, frozen=True):
    """How the load of a new lift is found: sets from start in steps, while no fewer repetitions than stated are left in reserve, up to at_most.

    step is null where nothing heavier is to be tried; expected is what the published ratio says, null where none is.
    """

    start: Mass
    step: Mass | None
    at_most: Mass
    reps_in_reserve: float
    expected: LoadRange | None
    sources: list[str]


class Option(ResponseModel, kw_only=True, frozen=True):
    """One adjusted prescription: demand of each region against the present, and what it keeps of the stimulus.

    demand: by region where a number is known; direction: of every region that the lift loads. session_exposure: the
    sore region's demand summed over a session against the present, null where no number is known. meets_by: peak,
    where each repetition asks less; direction_only, where that is said and no number is known; session_exposure, where
    only the session's sum falls. ramp: how the load of another lift is found, null where the lift stays. program: a program of its own, for tendons.
    """

    rank: int
    levers: list[Lever]
    program: Program | None
    prescription: Prescription
    demand: dict[str, Estimate]
    direction: dict[str, Direction]
    session_exposure: float | None
    meets_by: MeetsBy
    ramp: RampAnswer | None
    stimulus: StimulusAnswer
    why: list[Message]
    basis: Basis
    cautions: list[Message]


class RuledOutAnswer(ResponseModel, kw_only=True, frozen=True):
    """What gave no option, why, and the prescription that was tried, if it came to one."""

    lever: str
    reason: Message
    tried: Message | None


class AdjustmentsAnswer(ResponseModel, kw_only=True, frozen=True):
    """The decision and why, in words for the lifter; options in the order in which to try them; what was considered and why it fell.

    tier: what the highest pain allows. pause: why nothing that loads the region is prescribed, null where something may
    be; meanwhile: what can be trained where there is no option for the region.
    """

    decision: AdjustmentDecision
    tier: Tier
    why: list[Message]
    referral: ReferralAnswer | None
    confirmation: ConfirmationAnswer | None
    pause: PauseAnswer | None
    meanwhile: list[MeanwhileGroup]
    baseline: Baseline | None
    target: TargetAnswer | None
    options: list[Option]
    considered: int
    ruled_out: list[RuledOutAnswer]
    basis: Basis
    cautions: list[Message]
