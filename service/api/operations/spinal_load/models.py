"""What spinal-load is asked and what it answers."""

from __future__ import annotations

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

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
from service.messages import Message
from service.units import Angle, Mass
from service.vocabulary import Difference


class SpinalSetup(RestOfPrescription, kw_only=True, frozen=True):
    """One setup: a label of your own, the exercise, its load, and the trunk lean from the vertical at the bottom (0 to 80 deg) if known; or a label with a whole prescription.

    Depth and technique enter where the lean is computed: without a stated lean, in squats, hinges and split stances.
    """

    label: Label
    exercise: ExerciseId
    load: Mass
    trunk_lean: Angle | UnsetType = UNSET
    depth: Depth | None = None
    technique: Technique | None = None
    implement: ImplementUsed | None = None
    tempo: TempoText | None = None
    hold: Hold | None = None
    sets: Annotated[SetCount | None, NOT_USED] = None
    reps: Annotated[RepRange | None, EFFORT] = None
    reps_in_reserve: Annotated[PrescribedReserve | None, EFFORT] = None


class SpinalLoad(RequestModel, kw_only=True, frozen=True):
    """Two to ten setups of one lifter; the first is the reference."""

    setups: Annotated[list[SpinalSetup], Meta(min_length=2, max_length=10)]
    lifter: Lifter | UnsetType = UNSET


class SpinalDynamics(ResponseModel, kw_only=True, frozen=True):
    """Of one repetition and not at rest: by how much the largest force exceeds the weight, at the turn at the bottom or at lift-off, and the loads with it.

    By tempo, hold and bounce; where no tempo is stated, controlled down and normal up.
    """

    factor: Estimate
    moment: Estimate
    compression: Estimate
    shear: Estimate


class SpinalRelative(ResponseModel, kw_only=True, frozen=True):
    """A setup against the first; load_through_spine is null where the first puts none through the spine."""

    load_through_spine: float | None
    moment: Estimate | None
    compression: Estimate | None


class SpinalSetupAnswer(ResponseModel, kw_only=True, frozen=True):
    """One setup: the load that passes through the spine, lean, moment, compression and shear at the lumbosacral joint."""

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
    """Every setup against the reference; a difference whose span on average over repetitions crosses 1 is no clear difference."""

    reference: str
    setups: list[SpinalSetupAnswer]
    basis: Basis
    cautions: list[Message]
