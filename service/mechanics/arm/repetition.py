"""One repetition of a press, a pull or a raise: its largest moments, where they are, and its postures."""

from __future__ import annotations

from collections.abc import Callable
from math import radians
from typing import Final

from msgspec import Struct

from service.knowledge.arm_figures import ARM
from service.mechanics.arm.lifts import ArmSetup, ArmState, state_at
from service.mechanics.arm.pose import behind_the_body, elevation, outward_rotation
from service.mechanics.arm.segments import Arm
from service.mechanics.arm.shoulder import STRENGTH, RelativeStrength, ShoulderDemand, shoulder_demand
from service.mechanics.arm.vectors import length
from service.mechanics.body import Body

PARTS: Final = 12
"""Into which the hand's way is cut: a largest moment between two cuts is missed by a few thousandths."""

_PROVOKING: Final = (radians(ARM.postures.elevation.low), radians(ARM.postures.elevation.high))


class Largest(Struct, frozen=True, gc=False):
    """The largest amount over a repetition.

    Attributes:
        value: with its sign [N·m]
        part: where: 0 at the bottom of the lift, 1 at its top [1]
    """

    value: float
    part: float


class ShoulderPeak(Struct, frozen=True, gc=False):
    """Where a repetition asks most of the shoulder.

    Attributes:
        demand: there
        net: net moment there [N·m]
        part: where: 0 at the bottom of the lift, 1 at its top [1]
    """

    demand: ShoulderDemand
    net: float
    part: float


class HumeralPeaks(Struct, frozen=True, gc=False):
    """The largest moment about each axis of the upper arm, each wherever it is largest.

    Attributes:
        axial: about the upper arm itself, positive inward
        elevation: raising it, positive upward
        horizontal: swinging it about the trunk, positive forward
    """

    axial: Largest
    elevation: Largest
    horizontal: Largest


class ArmPostures(Struct, frozen=True, gc=False):
    """Postures over a repetition that provoke a shoulder, whatever the moment.

    Attributes:
        behind_the_body: how far the upper arm goes behind the trunk at most [rad]
        elevation_low: least elevation of the upper arm from hanging [rad]
        elevation_high: most [rad]
        in_provoking_elevation: part of the way with the arm raised as far as narrows the space under the acromion [1]
        outward_rotation: most outward turn of the upper arm while raised so far; None where it never is [rad]
    """

    behind_the_body: float
    elevation_low: float
    elevation_high: float
    in_provoking_elevation: float
    outward_rotation: float | None


class ArmDemand(Struct, frozen=True, gc=False):
    """What one repetition asks of one arm.

    Attributes:
        shoulder: where most is asked of it, weighed by relative strength
        shoulder_net: largest net moment
        humeral: largest moment about each axis of the upper arm
        elbow: largest moment about the hinge, positive for extension
        elbow_valgus: largest moment beside the hinge
        wrist: largest net moment
        postures: beside the moments
    """

    shoulder: ShoulderPeak
    shoulder_net: Largest
    humeral: HumeralPeaks
    elbow: Largest
    elbow_valgus: Largest
    wrist: Largest
    postures: ArmPostures


def repetition(body: Body, arm: Arm, setup: ArmSetup) -> list[ArmState]:
    """One arm held still in each part of a repetition, from the bottom to the top.

    Args:
        body: the lifter
        arm: the lifter's arm
        setup: lift and load

    Raises:
        Refusal: where the hand cannot be where the lift has it
    """
    return [state_at(body, arm, setup, step / PARTS) for step in range(PARTS + 1)]


def arm_demand(states: list[ArmState], strength: RelativeStrength = STRENGTH) -> ArmDemand:
    """What a repetition asks of one arm.

    Args:
        states: the arm in each part of it
        strength: of the movements of the shoulder
    """
    weighed = [shoulder_demand(state.pose, state.moments.humeral, strength) for state in states]
    most = max(range(len(states)), key=lambda number: weighed[number].weighed)
    return ArmDemand(
        shoulder=ShoulderPeak(weighed[most], length(states[most].moments.shoulder), states[most].part),
        shoulder_net=_largest(states, lambda state: length(state.moments.shoulder)),
        humeral=HumeralPeaks(
            axial=_largest(states, lambda state: state.moments.humeral.axial),
            elevation=_largest(states, lambda state: state.moments.humeral.elevation),
            horizontal=_largest(states, lambda state: state.moments.humeral.horizontal),
        ),
        elbow=_largest(states, lambda state: state.moments.elbow_extension or 0.0),
        elbow_valgus=_largest(states, lambda state: state.moments.elbow_valgus or 0.0),
        wrist=_largest(states, lambda state: length(state.moments.wrist)),
        postures=_postures(states),
    )


def _largest(states: list[ArmState], of: Callable[[ArmState], float]) -> Largest:
    state = max(states, key=lambda state: abs(of(state)))
    return Largest(of(state), state.part)


def _postures(states: list[ArmState]) -> ArmPostures:
    elevations = [elevation(state.pose) for state in states]
    low, high = _PROVOKING
    provoking = [state for state, raised in zip(states, elevations, strict=True) if low <= raised <= high]
    turned = [turn for state in provoking if (turn := outward_rotation(state.pose)) is not None]
    return ArmPostures(
        behind_the_body=max(behind_the_body(state.pose) for state in states),
        elevation_low=min(elevations),
        elevation_high=max(elevations),
        in_provoking_elevation=len(provoking) / len(states),
        outward_rotation=max(turned, default=None),
    )
