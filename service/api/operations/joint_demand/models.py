"""What joint-demand is asked and what it answers."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import Meta

from service.api.models.base import RequestModel, ResponseModel
from service.api.models.common import Basis, Estimate, Label, RepRange, SetCount
from service.api.models.effort import EFFORT
from service.api.models.ids import ExerciseId
from service.api.models.lifter import Lifter
from service.api.models.prescription import (
    NOT_USED,
    Hold,
    ImplementUsed,
    PrescribedReserve,
    RestOfPrescription,
    TempoText,
)
from service.api.models.setup import Depth, Technique
from service.api.models.split_stance import SplitStanceAnswer
from service.api.operations.joint_demand.arm_models import ArmAnswer
from service.knowledge.records import Known
from service.messages import Message
from service.units import Angle, Length, Mass
from service.vocabulary import DemandEvidence, Difference

MOST_SETUPS: Final = 10


class JointSetup(RestOfPrescription, kw_only=True, frozen=True):
    """One setup: a label of your own, the exercise, its load, and if other than usual the depth and technique; or a label with a whole prescription."""

    label: Label
    exercise: ExerciseId
    load: Mass
    depth: Depth | None = None
    technique: Technique | None = None
    implement: ImplementUsed | None = None
    assistance: Annotated[Mass, Meta(description="Pull-ups: what a band or machine takes off.")] | None = None
    tempo: TempoText | None = None
    hold: Hold | None = None
    sets: Annotated[SetCount | None, NOT_USED] = None
    reps: Annotated[RepRange | None, EFFORT] = None
    reps_in_reserve: Annotated[PrescribedReserve | None, EFFORT] = None


class JointDemand(RequestModel, kw_only=True, frozen=True):
    """One to ten setups of one lifter; the first is the reference."""

    lifter: Lifter
    setups: Annotated[list[JointSetup], Meta(min_length=1, max_length=MOST_SETUPS)]


class PostureAnswer(ResponseModel, kw_only=True, frozen=True):
    """The posture at the bottom: shin and trunk from the vertical, thigh above the horizontal, hip_flexion from trunk to thigh; limited_by names the limits that bind; split: of a split stance."""

    shin_angle: Angle
    thigh_angle: Angle
    trunk_lean: Angle
    knee_flexion: Angle
    hip_flexion: Angle
    ankle_dorsiflexion: Angle
    limited_by: list[str]
    split: SplitStanceAnswer | None


class JointLengths(ResponseModel, kw_only=True, frozen=True):
    """Moment arms at the bottom, positive where they load the extensors: from ankle, knee and hip to the plumb line over the balance point, from the lumbosacral joint to the centre of all weight above it."""

    ankle: Length
    knee: Length
    hip: Length
    lumbosacral: Length


class JointMoments(ResponseModel, kw_only=True, frozen=True):
    """Largest moments through the range of the joints that take part, null elsewhere: extensor at knee, hip and lower back, plantar flexor at the ankle, ankle, knee and hip per leg, in split stances the lead leg's; negative: only flexors are asked.

    shoulder, elbow and wrist are of one arm, sizes whatever their direction: net at shoulder and wrist, about the hinge at the elbow; of a free hand, as at a dumbbell or a cable, elbow and wrist are null: next to nothing, of no known size. With the legs turned out the knee's is about the axis of the thigh's vertical plane. hip_adductor, of a leg without a lateral floor force, and hip_resultant
    of both stand where hip is largest: turning the legs out moves a hip's moment from extensors to adductors and takes nothing off the joint.
    """

    ankle: Estimate | None
    knee: Estimate | None
    hip: Estimate | None
    hip_adductor: Estimate | None
    hip_resultant: Estimate | None
    lumbosacral: Estimate | None
    shoulder: Estimate | None
    elbow: Estimate | None
    wrist: Estimate | None


class JointDynamics(ResponseModel, kw_only=True, frozen=True):
    """Of one repetition and not at rest: by how much the largest force exceeds the weight, at the turn at the bottom or at lift-off, and the moments with it.

    By tempo, hold and bounce; where no tempo is stated, controlled down and normal up. Above the turn a moment is met with the part of the factor that is left there, in the sticking region with none.
    """

    factor: Estimate
    moments: JointMoments


class JointPeaks(ResponseModel, kw_only=True, frozen=True):
    """Knee flexion at which each moment of a leg and of the back is largest."""

    ankle: Angle
    knee: Angle
    hip: Angle
    lumbosacral: Angle


class JointRatios(ResponseModel, kw_only=True, frozen=True):
    """Moments against the first setup; null where either takes no part, and where the first's is near nil or changes sign within its uncertainty.

    At the shoulder it is that of the moment weighed by relative strength (arm.shoulder.weighed), which is what adjustments takes for its demand.
    """

    ankle: Estimate | None
    knee: Estimate | None
    hip: Estimate | None
    hip_adductor: Estimate | None
    hip_resultant: Estimate | None
    lumbosacral: Estimate | None
    shoulder: Estimate | None
    elbow: Estimate | None
    wrist: Estimate | None


class JointDifferences(ResponseModel, kw_only=True, frozen=True):
    """Whether each joint is asked for less or more than in the first setup, null where either takes no part; a span across 1 is no clear difference. For a sore hip hip_resultant counts.

    At the shoulder net moment and the one weighed by relative strength have to agree.
    """

    ankle: Difference | None
    knee: Difference | None
    hip: Difference | None
    hip_adductor: Difference | None
    hip_resultant: Difference | None
    lumbosacral: Difference | None
    shoulder: Difference | None
    elbow: Difference | None
    wrist: Difference | None


class PublishedFinding(ResponseModel, kw_only=True, frozen=True):
    """One published finding on the lift, or on it against the first setup's: what was compared, region, measure, value or direction."""

    condition: str
    region: str
    measure: str
    value: str
    unit: str
    source: str
    known: Known


class StrengthRatio(ResponseModel, kw_only=True, frozen=True):
    """What lifters manage in this exercise as a share of the first setup's, with the standard deviation where published."""

    ratio: float
    sd: float | None
    source: str
    known: Known


LATERAL_FORCE: Final = "without a lateral floor force, and with the one that empties the knee out of its plane"


class LegsTurnedOut(ResponseModel, kw_only=True, frozen=True):
    """How far the legs are turned out at the bottom, angles about the vertical from straight ahead; thigh mixes a clinician's abduction and rotation.

    stance_width of a sumo pull is the published one in proportion to stature (escamilla_2000) and enters no moment: there the thigh follows the foot. Their moments to the side, per leg, are open to a lateral floor force that no lifter feels, inward where positive; knee_out_of_plane pushes the knee inward where positive.
    """

    stance_width: Length | None
    toe_out: Angle
    shank: Angle
    thigh: Angle
    lateral_force: Estimate
    knee_out_of_plane: Estimate
    knee: Estimate
    hip_adductor: Estimate


class JointSetupAnswer(ResponseModel, kw_only=True, frozen=True):
    """One setup. Moments and comparison are null for lifts that no model covers; posture, moment_arms, peaks_at_knee_flexion and legs_turned_out are those of squats, hinges and split stances, arm that of presses, pulls and raises.

    total_load counts the part of the body that lifts of one's own move, less assistance.
    """

    label: str
    total_load: Mass
    posture: PostureAnswer | None
    moment_arms: JointLengths | None
    moments: JointMoments | None
    dynamic: JointDynamics | None
    peaks_at_knee_flexion: JointPeaks | None
    legs_turned_out: LegsTurnedOut | None
    arm: ArmAnswer | None
    relative: JointRatios | None
    difference: JointDifferences | None
    strength_ratio: StrengthRatio | None
    published: list[PublishedFinding]
    evidence: DemandEvidence


class JointDemandAnswer(ResponseModel, kw_only=True, frozen=True):
    """Every setup against the reference."""

    reference: str
    setups: list[JointSetupAnswer]
    basis: Basis
    cautions: list[Message]
