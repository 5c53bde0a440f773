"""What adjustments is asked and what it answers."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import UNSET, UnsetType

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

Detail = Literal["full"]


class Adjustments(RequestModel, kw_only=True, frozen=True):
    """A consultation: the lifter, the prescription that hurts, the complaint and the aim.

    Attributes:
        lifter: Who lifts.
        prescription: What is done now and hurts.
        complaint: What hurts, how much and how.
        aim: What the lifter trains for.
        circumstances: What a professional has to confirm first. Left out: nothing of the kind.
        constraints: What may be changed and what there is. Left out: everything.
        limit: Most options in the answer.
        detail: With `full` also what stands behind the options: every trial that gave none, the basis of each option and of
            the whole answer, the parts of what is kept, all reasons, and the caveats of the model. Left out: a short
            answer.
    """

    lifter: Lifter
    prescription: Prescription
    complaint: Complaint
    aim: Aim
    circumstances: Circumstances | UnsetType = UNSET
    constraints: Constraints | UnsetType = UNSET
    limit: Annotated[float, whole(1, 20)] = 5
    detail: Detail | UnsetType = UNSET


class KeptPartAnswer(ResponseModel, kw_only=True, frozen=True, omit_defaults=True):
    """A part of the training effect that is kept, against the present: 1 is all of it.

    Attributes:
        value: The most probable value.
        low: Low end of its span. Left out where no span is known.
        high: High end of its span. Left out where no span is known.
    """

    value: float
    low: float | None = None
    high: float | None = None


class KeptParts(Sparse[KeptPartAnswer], kw_only=True, frozen=True):
    """The parts of the training effect that are not kept whole; a part that is left out is kept.

    Attributes:
        relative_load: Of the load against the lifter's own maximum in the lift. Left out where it is kept.
        untested_load: Of a load that has to be found yet, which is taken to train less until then. Left out where none
            is.
        sets: Of the hard sets a week. Left out where they are kept.
        effort: Of how near to failure the sets go. Left out where it is kept.
        carry_over: Of what another lift or range does for the present one. Left out where nothing is lost.
        tendon_load: Of how heavy the load is for a tendon. Left out where it is kept, and for other aims.
        time_under_tension: Of how long a set lasts. Left out where it is kept.
    """

    relative_load: KeptPartAnswer | UnsetType = UNSET
    untested_load: KeptPartAnswer | UnsetType = UNSET
    sets: KeptPartAnswer | UnsetType = UNSET
    effort: KeptPartAnswer | UnsetType = UNSET
    carry_over: KeptPartAnswer | UnsetType = UNSET
    tendon_load: KeptPartAnswer | UnsetType = UNSET
    time_under_tension: KeptPartAnswer | UnsetType = UNSET


class KeptAnswer(ResponseModel, kw_only=True, frozen=True, omit_defaults=True):
    """The training effect that is taken to be kept: an index of our own, 1 for all of it; in full the parts of which it is the product.

    Attributes:
        value: The most probable value.
        low: Low end of its span. Left out where no span is known.
        high: High end of its span. Left out where no span is known.
        parts: Those that are not kept whole. Left out unless in full.
        muscles: For the aim muscle_size, by id of each muscle that the present lift trains, what is kept of its hard
            sets and range of motion. Left out unless in full.
    """

    value: float
    low: float | None = None
    high: float | None = None
    parts: KeptParts | UnsetType = UNSET
    muscles: dict[str, KeptPartAnswer] | UnsetType = UNSET


class StimulusAnswer(ResponseModel, kw_only=True, frozen=True):
    """An index of the training effect kept, and in full what the muscle is asked to do against the present: ratios of the week, and the share of the lift's own maximum.

    Attributes:
        kept: The index of the training effect.
        weekly_sets: Hard sets a week against now, 1 for as many. Left out unless in full.
        volume_load: Sets × repetitions × load a week against now. Left out unless in full.
        relative_load: Load as a share of the maximum in the lift; null where the maximum is not known. Left out unless
            in full.
        reps_in_reserve: Repetitions left in reserve after the top of the range, as expected. Left out unless in full.
        muscle_moment: Moment asked of hip and knee together against now; null where it is not computed. Left out unless
            in full.
        seconds_a_set: Time under tension of a set; null without a tempo or hold. Left out unless in full.
    """

    kept: KeptAnswer
    weekly_sets: float | UnsetType = UNSET
    volume_load: float | UnsetType = UNSET
    relative_load: float | UnsetType | None = UNSET
    reps_in_reserve: float | UnsetType = UNSET
    muscle_moment: float | UnsetType | None = UNSET
    seconds_a_set: Estimate | UnsetType | None = UNSET


class BaselineMoments(Sparse[Estimate], kw_only=True, frozen=True):
    """Peak moments of a repetition of the present prescription, of the joints that a model computes; ankle, knee and hip per leg.

    Attributes:
        ankle: Plantar flexors at the ankle. Left out where it is not computed.
        knee: Extensors at the knee. Left out where it is not computed.
        hip: Extensors at the hip. Left out where it is not computed.
        hip_adductor: Adductors at the hip, of a leg without a lateral floor force. Left out where it is not computed.
        hip_resultant: Extensors and adductors at the hip together. Left out where it is not computed.
        lumbosacral: Extensors of the lower back, at the lumbosacral joint. Left out where it is not computed.
        shoulder: At one shoulder, weighed by the strength of its movements. Left out where it is not computed.
        elbow: At one elbow, about its hinge. Left out where it is not computed.
        wrist: At one wrist. Left out where it is not computed.
    """

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
    """What the present prescription asks for.

    Attributes:
        moments: Peak moments of a repetition in N·m; empty where no model covers the lift.
        trunk_lean: Trunk from the vertical at the bottom, in deg; null where no planar model covers the lift.
    """

    moments: BaselineMoments
    trunk_lean: Estimate | None


class TargetAnswer(ResponseModel, kw_only=True, frozen=True):
    """The share of its present demand to which the sore region is brought.

    Attributes:
        region: The sore region.
        ratio: That share: 0.85 is 15 % less.
        rule: The rule that says so.
    """

    region: Region
    ratio: float
    rule: Message


class LoadRange(ResponseModel, kw_only=True, frozen=True):
    """From a load to a load.

    Attributes:
        low: The lighter end.
        high: The heavier end.
    """

    low: Mass
    high: Mass


class RampAnswer(ResponseModel, kw_only=True, frozen=True):
    """How the load of a new lift is found: sets from `start` in steps, while no fewer repetitions than stated are left in reserve, up to `at_most`.

    Attributes:
        start: Load of the first set.
        step: From each set to the next; null where nothing heavier is to be tried.
        at_most: The heaviest set.
        reps_in_reserve: Repetitions that have to be left; with fewer the set before is the load.
        expected: What the published ratio of the two lifts says of the load; null where none is published. Left out
            unless in full.
        sources: Ids of the sources of that ratio. Left out unless in full.
    """

    start: Mass
    step: Mass | None
    at_most: Mass
    reps_in_reserve: float
    expected: LoadRange | UnsetType | None = UNSET
    sources: list[str] | UnsetType = UNSET


class Option(ResponseModel, kw_only=True, frozen=True, omit_defaults=True):
    """One adjusted prescription: demand of each region against the present, and what it keeps of the training effect.

    Attributes:
        rank: Its place in the order in which to try them, from 1: what is surer first, then what keeps more of the
            training effect for its changes, so that the smallest change is not always the first.
        levers: What is changed, the main change first.
        program: A program of its own, for tendons. Left out where it is none.
        prescription: What to do; any operation takes it as it is.
        words: The prescription as a coach would say it.
        demand: Demand against now by region, where a number is known.
        direction: Which way the demand moves where no number is known: of the sore region, and of others that are asked
            for more; in full of all. Left out where there is nothing to say.
        session_exposure: The sore region's demand summed over a session against now; null where no number is known.
            Left out unless in full.
        meets_by: What brings the sore region to its target.
        ramp: How the load of another lift is found. Left out where the lift stays.
        stimulus: What it keeps of the training effect.
        why: What it takes off and what it moves elsewhere; in full also what is to be done and what it costs.
        cautions: Codes of what to mind, whose words are among the cautions of the answer. Left out where there is none.
        sources: Ids of its own sources, beside those of the answer's basis. Left out where there is none.
        basis: Where the numbers of this option come from. Left out unless in full.
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
    """One trial that gave no option.

    Attributes:
        levers: What would have been changed.
        reason: Why it gave none.
        tried: The prescription that was tried, in words; null where it came to none.
    """

    levers: list[Lever]
    reason: Message
    tried: Message | None


class RuledOutAnswer(ResponseModel, kw_only=True, frozen=True):
    """How many trials of a lever gave no option for one reason.

    Attributes:
        lever: What would have been changed first.
        code: The reason; GET /v1/messages/ruled_out_{code} has its words. What another option outdoes (beaten,
            unloading_not_needed) is counted in full alone.
        count: How many trials.
        trials: Each of them. Left out unless in full.
    """

    lever: Lever
    code: str
    count: int
    trials: list[TrialAnswer] | UnsetType = UNSET


class AdjustmentsAnswer(ResponseModel, kw_only=True, frozen=True, omit_defaults=True):
    """The decision and why, options in the order in which to try them, what was considered and why it fell.

    Attributes:
        decision: What follows for the prescription.
        tier: What the highest pain allows.
        why: The decision in words for the lifter.
        signs_to_ask: Ids of the red flags to ask about before anything else, where the complaint came on suddenly, see
            GET /v1/signs. Left out where there is nothing to ask.
        referral: How urgently and because of which signs. Left out where no red flag was reported.
        confirmation: What a professional has to confirm first. Left out where nothing has to.
        pause: Why nothing that loads the region is prescribed. Left out where something may be.
        meanwhile: What can be trained where there is no option for the region. Left out where there are options.
        baseline: What the present prescription asks for. Left out unless in full.
        target: What the region is brought to. Left out where nothing is adjusted.
        options: The options, the first to try first; empty unless the decision is `adjust`.
        considered: How many changes were tried.
        ruled_out: Why the others gave no option, by lever and reason.
        basis: Where the numbers come from; in full with all that was assumed.
        cautions: What to mind, of the whole answer, and once what options name by code.
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
