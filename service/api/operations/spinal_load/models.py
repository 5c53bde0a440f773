"""What spinal-load is asked and what it answers."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

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
from service.messages import Message
from service.units import Angle, Duration, Mass
from service.vocabulary import Difference, Implement

MOST_SETUPS: Final = 10


class SpinalSetup(RestOfPrescription, kw_only=True, frozen=True):
    """One setup: a label of your own, the exercise, its load, and the trunk lean if known; or a label with a whole prescription. Depth and technique enter where the lean is computed: without a stated lean, in squats, hinges and split stances.

    Attributes:
        label: A name of your own, by which the answer calls it.
        exercise: Id of the exercise, see GET /v1/exercises.
        load: Load on the implement: of two dumbbells their sum, of one-arm lifts that of one arm.
        trunk_lean: Trunk from the vertical at the bottom, 0 to 80 deg. Left out: computed where a model covers the
            lift, else the usual one.
        depth: How deep the lift goes. Null or left out: the exercise's usual depth.
        technique: What is done otherwise than usual. Null or left out: nothing.
        implement: What is lifted, where it is not what the exercise is usually done with.
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
    trunk_lean: Angle | UnsetType = UNSET
    depth: Depth | None = None
    technique: Technique | None = None
    implement: Implement | None = None
    tempo: TempoText | None = None
    hold: Duration | None = None
    sets: Annotated[SetCount | None, NOT_FLAT] = None
    reps: Annotated[RepRange | None, NOT_FLAT] = None
    reps_in_reserve: Annotated[PrescribedReserve | None, NOT_FLAT] = None


class SpinalLoad(RequestModel, kw_only=True, frozen=True):
    """Two to ten setups of one lifter; the first is the reference.

    Attributes:
        setups: The setups, the reference first.
        lifter: Who lifts. Left out: a lifter of 75 kg and 1.75 m is assumed.
    """

    setups: Annotated[list[SpinalSetup], Meta(min_length=2, max_length=MOST_SETUPS)]
    lifter: Lifter | UnsetType = UNSET


class SpinalDynamics(ResponseModel, kw_only=True, frozen=True):
    """Of one repetition and not at rest, by tempo, hold and bounce; where no tempo is stated, controlled down and normal up.

    Attributes:
        factor: By how much the largest force exceeds the weight, at the turn at the bottom or at lift-off; 1 at rest.
        moment: Lumbosacral moment with it, in N·m.
        compression: Compression with it, in N.
        shear: Shear with it, in N.
    """

    factor: Estimate
    moment: Estimate
    compression: Estimate
    shear: Estimate


class SpinalRelative(ResponseModel, kw_only=True, frozen=True):
    """A setup against the first: 0.8 is a fifth less.

    Attributes:
        load_through_spine: Ratio of the loads through the spine; null where the first puts none there.
        moment: Ratio of the moments; null where it cannot be said.
        compression: Ratio of the compressions; null where it cannot be said.
    """

    load_through_spine: float | None
    moment: Estimate | None
    compression: Estimate | None


class SpinalSetupAnswer(ResponseModel, kw_only=True, frozen=True):
    """One setup: the load that passes through the spine, and what it asks of the lumbosacral joint.

    Attributes:
        label: Its label from the request.
        load_through_spine: The part of the load that passes through the spine: shoulders and hands count, a belt at the
            pelvis does not.
        trunk_lean: Trunk from the vertical at the bottom, in deg.
        moment: Extensor moment at the lumbosacral joint at rest, in N·m.
        compression: Compression of the joint at rest, in N.
        shear: Shear across the joint at rest, in N.
        dynamic: The same in motion; null where nothing is known of it.
        relative: This setup against the first.
        difference: Which way the moment differs from the first setup's.
    """

    label: str
    load_through_spine: Mass
    trunk_lean: Estimate
    moment: Estimate
    compression: Estimate
    shear: Estimate
    dynamic: SpinalDynamics | None
    relative: SpinalRelative
    difference: Difference


class SpinalLoadAnswer(ResponseModel, kw_only=True, frozen=True):
    """Every setup against the reference; a difference whose span on average over repetitions crosses 1 is no clear difference.

    Attributes:
        reference: Label of the reference, the first setup.
        setups: The setups, in the order asked.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    reference: str
    setups: list[SpinalSetupAnswer]
    basis: Basis
    cautions: list[Message]
