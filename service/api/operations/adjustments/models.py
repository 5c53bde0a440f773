"""What adjustments is asked and what it answers."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, ResponseModel
from service.api.models.by_region import NO_DIRECTION, DemandByRegion, DirectionByRegion
from service.api.models.clearance import Circumstances, ConfirmationAnswer
from service.api.models.common import Basis, Estimate, whole
from service.api.models.complaint import Complaint
from service.api.models.constraints import Constraints
from service.api.models.lifter import Lifter
from service.api.models.pause import MeanwhileGroup, PauseAnswer
from service.api.models.prescription import Prescription
from service.api.models.referral import ReferralAnswer
from service.api.models.sparse import Sparse
from service.messages import Message
from service.units import Mass
from service.vocabulary import (
    AdjustmentDecision,
    Aim,
    Lever,
    MeetsBy,
    Program,
    Region,
    Tier,
)

Detail = Annotated[
    Literal["full"],
    Meta(
        description="Full: also what stands behind the options: every trial that gave none, the basis of each option "
        "and of the whole answer, the parts of what is kept, all reasons, and the caveats of the model."
    ),
]


class Adjustments(RequestModel, kw_only=True, frozen=True):
    """A consultation: the lifter, the prescription that hurts, the complaint and the aim."""

    lifter: Lifter
    prescription: Prescription
    complaint: Complaint
    aim: Aim
    circumstances: Circumstances | UnsetType = UNSET
    constraints: Constraints | UnsetType = UNSET
    limit: Annotated[float, whole(1, 20, "Most options in the answer, 1 to 20.")] = 5
    detail: Detail | UnsetType = UNSET


class KeptPartAnswer(ResponseModel, kw_only=True, frozen=True, omit_defaults=True):
    """A part of the training effect that is kept, against the present; low and high are left out where no span is known."""

    value: float
    low: float | None = None
    high: float | None = None


class KeptParts(Sparse[KeptPartAnswer], kw_only=True, frozen=True):
    """The parts of the training effect that are not kept whole."""

    relative_load: KeptPartAnswer | UnsetType = UNSET
    untested_load: KeptPartAnswer | UnsetType = UNSET
    sets: KeptPartAnswer | UnsetType = UNSET
    effort: KeptPartAnswer | UnsetType = UNSET
    carry_over: KeptPartAnswer | UnsetType = UNSET
    tendon_load: KeptPartAnswer | UnsetType = UNSET
    time_under_tension: KeptPartAnswer | UnsetType = UNSET


class KeptAnswer(ResponseModel, kw_only=True, frozen=True, omit_defaults=True):
    """The training effect that is taken to be kept: an index of our own, and in full the parts of which it is the product.

    parts: those that are not kept whole. muscles: for the aim muscle_size, each muscle that the present lift trains, by
    its hard sets and its range of motion.
    """

    value: float
    low: float | None = None
    high: float | None = None
    parts: KeptParts | UnsetType = UNSET
    muscles: dict[str, KeptPartAnswer] | UnsetType = UNSET


class StimulusAnswer(ResponseModel, kw_only=True, frozen=True):
    """An index of the training effect kept, and in full what the muscle is asked to do against the present: ratios of the week, share of the lift's own maximum.

    seconds_a_set: time under tension of a set, null without a tempo or hold; muscle_moment: moment asked of hip and
    knee together, null where not computed.
    """

    kept: KeptAnswer
    weekly_sets: float | UnsetType = UNSET
    volume_load: float | UnsetType = UNSET
    relative_load: float | UnsetType | None = UNSET
    reps_in_reserve: float | UnsetType = UNSET
    muscle_moment: float | UnsetType | None = UNSET
    seconds_a_set: Estimate | UnsetType | None = UNSET


class BaselineMoments(Sparse[Estimate], kw_only=True, frozen=True):
    """Peak moments of a repetition, of the joints that a model computes."""

    ankle: Estimate | UnsetType = UNSET
    knee: Estimate | UnsetType = UNSET
    hip: Estimate | UnsetType = UNSET
    hip_adductor: Estimate | UnsetType = UNSET
    hip_resultant: Estimate | UnsetType = UNSET
    lumbosacral: Estimate | UnsetType = UNSET
    shoulder: Estimate | UnsetType = UNSET
    elbow: Estimate | UnsetType = UNSET
    wrist: Estimate | UnsetType = UNSET


class Baseline(ResponseModel, kw_only=True, frozen=True):
    """The present prescription: peak moments of a repetition (N·m; hip, knee and ankle per leg) and the trunk lean at the bottom (deg); both empty where no planar model covers the lift."""

    moments: BaselineMoments
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

    step is null where nothing heavier is to be tried. In full, why says the same in words, expected is what the published
    ratio says, null where none is, and sources are of it.
    """

    start: Mass
    step: Mass | None
    at_most: Mass
    reps_in_reserve: float
    expected: LoadRange | UnsetType | None = UNSET
    sources: list[str] | UnsetType = UNSET


class Option(ResponseModel, kw_only=True, frozen=True, omit_defaults=True):
    """One adjusted prescription: demand of each region against the present, and what it keeps of the stimulus.

    words: the prescription as a coach would say it. demand: by region where a number is known. direction: of the sore
    region where it has no number, and of those others without one that are asked for more; in full of all. meets_by: peak, where each repetition asks less;
    direction_only, where that is said and no number is known; session_exposure, where only the session's sum falls;
    week_exposure, where only the week's does. ramp: how the load of another lift is found, left out where the lift
    stays. program: a program of its own, for tendons, else left out.
    why: what it takes off and what it moves elsewhere, in full also what is to be done and what it costs. cautions:
    codes, whose words are among the cautions of the answer. sources: its own, beside those of the answer's basis.
    In full, session_exposure: the sore region's demand summed over a session against the present, null where no number
    is known; basis: of this option alone.
    """

    rank: int
    levers: list[Lever]
    program: Program | None = None
    prescription: Prescription
    words: str
    demand: DemandByRegion
    direction: DirectionByRegion = NO_DIRECTION
    session_exposure: float | UnsetType | None = UNSET
    meets_by: MeetsBy
    ramp: RampAnswer | None = None
    stimulus: StimulusAnswer
    why: list[Message]
    cautions: list[str] = []
    sources: list[str] = []
    basis: Basis | UnsetType = UNSET


class TrialAnswer(ResponseModel, kw_only=True, frozen=True):
    """One trial that gave no option: what would have been changed, why it gave none, and the prescription that was tried, null where it came to none."""

    levers: list[Lever]
    reason: Message
    tried: Message | None


class RuledOutAnswer(ResponseModel, kw_only=True, frozen=True):
    """How many trials of a lever gave no option for one reason.

    lever: what would have been changed first. code: the reason; GET /v1/messages/ruled_out_{code} has its words. What
    another option outdoes (beaten, unloading_not_needed) is counted in full alone, and trials, each of them, come there.
    """

    lever: Lever
    code: str
    count: int
    trials: list[TrialAnswer] | UnsetType = UNSET


class AdjustmentsAnswer(ResponseModel, kw_only=True, frozen=True, omit_defaults=True):
    """The decision and why, in words for the lifter; options in the order in which to try them; what was considered and why it fell.

    tier: what the highest pain allows. pause: why nothing that loads the region is prescribed, left out where something may
    be; meanwhile: what can be trained where there is no option for the region.
    signs_to_ask: ids of the red flags to ask about before anything else, where the complaint came on suddenly.
    baseline: in full alone. basis: in full with all that was assumed. cautions: of the whole answer, and once those that
    options name.
    """

    decision: AdjustmentDecision
    tier: Tier
    why: list[Message]
    signs_to_ask: list[str] = []
    referral: ReferralAnswer | None = None
    confirmation: ConfirmationAnswer | None = None
    pause: PauseAnswer | None = None
    meanwhile: list[MeanwhileGroup] = []
    baseline: Baseline | None = None
    target: TargetAnswer | None = None
    options: list[Option]
    considered: int
    ruled_out: list[RuledOutAnswer]
    basis: Basis
    cautions: list[Message]
