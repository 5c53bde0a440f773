"""What joint-demand is asked and what it answers."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import Meta

from service.api.models.base import RequestModel, ResponseModel
from service.api.models.common import Basis, Estimate, Label, RepRange, SetCount
from service.api.models.ids import ExerciseId
from service.api.models.lifter import Lifter
from service.api.models.prescription import (
    NOT_FLAT,
    PrescribedReserve,
    RestOfPrescription,
    TempoText,
)
from service.api.models.setup import Depth, Technique
from service.api.models.split_stance import SplitStanceAnswer
from service.api.operations.joint_demand.arm_models import ArmAnswer
from service.knowledge.records import Known
from service.messages import Message
from service.units import Angle, Duration, Length, Mass
from service.vocabulary import DemandEvidence, Difference, Implement

MOST_SETUPS: Final = 10


class JointSetup(RestOfPrescription, kw_only=True, frozen=True):
    """One setup: a label of your own, the exercise and its load, and what is other than usual; or a label with a whole prescription.

    Attributes:
        label: A name of your own, by which the answer calls it.
        exercise: Id of the exercise, see GET /v1/exercises.
        load: Load on the implement: of two dumbbells their sum, of one-arm lifts that of one arm, of lifts of one's own
            body what is added to it.
        depth: How deep the lift goes. Null or left out: the exercise's usual depth.
        technique: What is done otherwise than usual. Null or left out: nothing.
        implement: What is lifted, where it is not what the exercise is usually done with.
        assistance: Pull-ups: what a band or machine takes off. Null or left out: nothing.
        tempo: The trade's four figures in seconds: lowering, bottom, lifting, top, such as 3-1-X-1; X is as fast as
            possible. Null or left out: controlled down and normal up.
        hold: How long each repetition is held still, up to 5 min. Null or left out: repetitions move.
        sets: Part of a prescription; not used here.
        reps: With the repetitions in reserve: how near the load is to the maximum, on which the posture depends above
            70 % of it, in the first setup and others of its exercise by what the first one states, and the force at the
            turn where lifting is X. Null or left out: not known.
        reps_in_reserve: With the repetitions: how near the load is to the maximum. Null or left out: not known.
    """

    label: Label
    exercise: ExerciseId
    load: Mass
    depth: Depth | None = None
    technique: Technique | None = None
    implement: Implement | None = None
    assistance: Mass | None = None
    tempo: TempoText | None = None
    hold: Duration | None = None
    sets: Annotated[SetCount | None, NOT_FLAT] = None
    reps: Annotated[RepRange | None, NOT_FLAT] = None
    reps_in_reserve: Annotated[PrescribedReserve | None, NOT_FLAT] = None


class JointDemand(RequestModel, kw_only=True, frozen=True):
    """One to ten setups of one lifter; the first is the reference.

    Attributes:
        lifter: Who lifts.
        setups: The setups, the reference first.
    """

    lifter: Lifter
    setups: Annotated[list[JointSetup], Meta(min_length=1, max_length=MOST_SETUPS)]


class PostureAnswer(ResponseModel, kw_only=True, frozen=True):
    """The posture at the bottom.

    Attributes:
        shin_angle: Shin from the vertical.
        thigh_angle: Thigh above the horizontal, negative below it.
        trunk_lean: Trunk from the vertical.
        knee_flexion: Angle of the bent knee, 0 for a straight leg.
        hip_flexion: Angle from trunk to thigh.
        ankle_dorsiflexion: Shin against foot.
        limited_by: Names of the limits that kept the lifter from the usual posture or the depth asked for, such as
            ankle_dorsiflexion; empty where none did.
        split: A split stance in its equilibrium; null on both feet.
    """

    shin_angle: Angle
    thigh_angle: Angle
    trunk_lean: Angle
    knee_flexion: Angle
    hip_flexion: Angle
    ankle_dorsiflexion: Angle
    limited_by: list[str]
    split: SplitStanceAnswer | None


class JointLengths(ResponseModel, kw_only=True, frozen=True):
    """Moment arms at the bottom, positive where they load the extensors.

    Attributes:
        ankle: From the ankle to the plumb line over the balance point.
        knee: From the knee to that line.
        hip: From the hip to that line.
        lumbosacral: From the lumbosacral joint to the centre of all weight above it.
    """

    ankle: Length
    knee: Length
    hip: Length
    lumbosacral: Length


class JointMoments(ResponseModel, kw_only=True, frozen=True):
    """Largest moments through the range in N·m; of a leg per leg, in split stances of the lead leg, of an arm of one arm. With the legs turned out a hip's moment moves from extensors to adductors and nothing is taken off the joint. A negative one asks flexors alone.

    Attributes:
        ankle: Plantar flexors at the ankle; null where it takes no part.
        knee: Extensors at the knee, with the legs turned out about the axis of the thigh's vertical plane; null where
            it takes no part.
        hip: Extensors at the hip; null where it takes no part.
        hip_adductor: Adductors at the hip where `hip` is largest, of a leg without a lateral floor force; null where it
            takes no part.
        hip_resultant: Both at the hip together; null where it takes no part.
        lumbosacral: Extensors of the lower back; null where it takes no part.
        shoulder: Net moment at one shoulder, whatever its direction; null where it takes no part.
        elbow: At one elbow about its hinge, whatever its direction; null where it takes no part and of a free hand, as
            at a dumbbell or a cable: next to nothing, of no known size.
        wrist: Net moment at one wrist, whatever its direction; null where it takes no part and of a free hand, as at a
            dumbbell or a cable: next to nothing, of no known size.
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
    """Of one repetition and not at rest, by tempo, hold and bounce; where no tempo is stated, controlled down and normal up.

    Attributes:
        factor: By how much the largest force exceeds the weight, at the turn at the bottom or at lift-off; 1 at rest.
        moments: The moments with it; above the turn with the part of the factor that is left there, in the sticking
            region with none.
    """

    factor: Estimate
    moments: JointMoments


class JointPeaks(ResponseModel, kw_only=True, frozen=True):
    """Knee flexion at which each moment is largest.

    Attributes:
        ankle: Of the moment at the ankle.
        knee: Of the moment at the knee.
        hip: Of the moment at the hip.
        lumbosacral: Of the moment at the lower back.
    """

    ankle: Angle
    knee: Angle
    hip: Angle
    lumbosacral: Angle


class JointRatios(ResponseModel, kw_only=True, frozen=True):
    """Moments against the first setup: 0.8 is a fifth less.

    Null where either takes no part, and where the first's is near nil or changes sign within its uncertainty.

    Attributes:
        ankle: At the ankle; null where it cannot be said.
        knee: At the knee; null where it cannot be said.
        hip: Of the extensors at the hip; null where it cannot be said.
        hip_adductor: Of the adductors at the hip; null where it cannot be said.
        hip_resultant: Of both at the hip; null where it cannot be said.
        lumbosacral: At the lower back; null where it cannot be said.
        shoulder: Of the moment at the shoulder weighed by relative strength (arm.shoulder.weighed), which adjustments
            takes for its demand; null where it cannot be said.
        elbow: At the elbow; null where it cannot be said.
        wrist: At the wrist; null where it cannot be said.
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
    """Whether each joint is asked for less or more than in the first setup; a span across 1 is no clear difference.

    For a sore hip hip_resultant counts.

    Attributes:
        ankle: At the ankle; null where either takes no part.
        knee: At the knee; null where either takes no part.
        hip: Of the extensors at the hip; null where either takes no part.
        hip_adductor: Of the adductors at the hip; null where either takes no part.
        hip_resultant: Of both at the hip; null where either takes no part.
        lumbosacral: At the lower back; null where either takes no part.
        shoulder: At the shoulder, where net moment and the one weighed by relative strength have to agree; null where
            either takes no part.
        elbow: At the elbow; null where either takes no part.
        wrist: At the wrist; null where either takes no part.
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
    """One published finding on the lift, or on it against the first setup's.

    Attributes:
        condition: What was compared, and how.
        region: Id of the region or joint.
        measure: What was measured.
        value: The value or the direction, as published.
        unit: Its unit; empty for a ratio or a direction.
        source: Id of the source, see GET /v1/sources.
        known: How far it is known.
    """

    condition: str
    region: str
    measure: str
    value: str
    unit: str
    source: str
    known: Known


class StrengthRatio(ResponseModel, kw_only=True, frozen=True):
    """What lifters manage in this exercise as a share of the first setup's.

    Attributes:
        ratio: That share.
        sd: Its standard deviation between lifters; null where none is published.
        source: Id of the source, see GET /v1/sources.
        known: How far it is known.
    """

    ratio: float
    sd: float | None
    source: str
    known: Known


LATERAL_FORCE: Final = "without a lateral floor force, and with the one that empties the knee out of its plane"


class LegsTurnedOut(ResponseModel, kw_only=True, frozen=True):
    """How far the legs are turned out at the bottom, angles about the vertical from straight ahead.

    Their moments to the side, per leg, are open to a lateral floor force that no lifter feels.

    Attributes:
        stance_width: From ankle to ankle; of a sumo pull the published one in proportion to stature (escamilla_2000),
            which enters no moment. Null where the width is not computed.
        toe_out: Feet from straight ahead.
        shank: Shanks from straight ahead.
        thigh: Thighs from straight ahead, which mixes a clinician's abduction and rotation; in a sumo pull it follows
            the foot.
        lateral_force: Lateral force of the floor on a foot, inward where positive.
        knee_out_of_plane: Moment that pushes the knee out of the leg's plane, inward where positive.
        knee: Extensor moment at the knee over the span of that force.
        hip_adductor: Adductor moment at the hip over the span of that force.
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
    """One setup. Moments and comparison are null for lifts that no model covers.

    Attributes:
        label: Its label from the request.
        total_load: Load with the part of the body that lifts of one's own move, less assistance.
        posture: The posture at the bottom; null but in squats, hinges and split stances.
        moment_arms: Moment arms at the bottom; null but in squats, hinges and split stances.
        moments: Largest moments at rest; null where no model covers the lift.
        dynamic: The same in motion; null where no model covers the lift, or nothing is known of its motion.
        peaks_at_knee_flexion: Where the moments are largest; null but in squats, hinges and split stances.
        legs_turned_out: How the legs are turned out; null where they are not.
        arm: What is the arm's alone; null but in presses, pulls and raises.
        relative: Moments against the first setup; null where no model covers both.
        difference: Which way they differ; null where no model covers both.
        strength_ratio: What lifters manage against the first setup's exercise; null where none is published.
        published: Published findings on the lift; empty where there are none.
        evidence: On what the statement about demand rests.
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
    """Every setup against the reference.

    Attributes:
        reference: Label of the reference, the first setup.
        setups: The setups, in the order asked.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    reference: str
    setups: list[JointSetupAnswer]
    basis: Basis
    cautions: list[Message]
