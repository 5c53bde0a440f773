"""One repetition of a press, a pull or a raise: its largest moments, where they are, and its postures."""

from __future__ import annotations

from math import radians
from typing import Final

from msgspec import Struct

from service.knowledge.arm_figures import ARM
from service.mechanics.arm.lifts import ArmSetup, ArmState, forces_of, held, poses_of, stops_of
from service.mechanics.arm.pose import behind_the_body, elevation, outward_rotation
from service.mechanics.arm.segments import Arm
from service.mechanics.arm.shoulder import STRENGTH, RelativeStrength, ShoulderDemand, shoulder_demand, weighed
from service.mechanics.body import Body

PARTS: Final = 12
"""Into which the hand's way is cut: a largest moment between two cuts is missed by a few thousandths."""

OF_REPETITION: Final = tuple(step / PARTS for step in range(PARTS + 1))
"""Parts of a repetition, from the bottom of the lift to its top [1]."""

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


class ArmPeaks(Struct, frozen=True, gc=False):
    """The most that a repetition asks of one arm, each wherever it is largest.

    Attributes:
        shoulder: where most is asked of it, weighed by relative strength
        shoulder_net: largest net moment
        elbow: largest moment about the hinge, positive for extension
        elbow_valgus: largest moment beside the hinge
        wrist: largest net moment
        behind_the_body: how far the upper arm goes behind the trunk at most [rad]
    """

    shoulder: ShoulderPeak
    shoulder_net: Largest
    elbow: Largest
    elbow_valgus: Largest
    wrist: Largest
    behind_the_body: float


class ArmDemand(ArmPeaks, frozen=True, gc=False):
    """What one repetition asks of one arm.

    Attributes:
        postures: beside the moments
        states: the arm in each part of it
    """

    postures: ArmPostures
    states: list[ArmState]


def arm_demand(body: Body, arm: Arm, setup: ArmSetup) -> ArmDemand:
    """What one repetition asks of one arm, with all as assumed: some sixty microseconds, for a search.

    `arm_of` gives the arm once for a lifter and `arm_setup` the lift with load and technique; `uncertain.uncertain_arm`
    is the same with what is not known moved.

    Args:
        body: the lifter
        arm: the lifter's arm
        setup: lift and load

    Raises:
        Refusal: where the hand cannot be where the lift has it
    """
    return demand_of(repetition(body, arm, setup))


def repetition(body: Body, arm: Arm, setup: ArmSetup) -> list[ArmState]:
    """One arm held still in each part of a repetition, from the bottom to the top.

    Args:
        body: the lifter
        arm: the lifter's arm
        setup: lift and load

    Raises:
        Refusal: where the hand cannot be where the lift has it
    """
    stops = stops_of(setup, OF_REPETITION)
    return held(arm, setup, stops, poses_of(arm, setup, stops), forces_of(body, setup, stops))


def demand_of(states: list[ArmState]) -> ArmDemand:
    """What a repetition asks of one arm.

    Args:
        states: the arm in each part of it
    """
    peaks = peaks_of(states)
    return ArmDemand(
        peaks.shoulder,
        peaks.shoulder_net,
        peaks.elbow,
        peaks.elbow_valgus,
        peaks.wrist,
        peaks.behind_the_body,
        _postures(states, peaks.behind_the_body),
        states,
    )


def peaks_of(states: list[ArmState]) -> ArmPeaks:
    """The most that a repetition asks of one arm.

    Args:
        states: the arm in each part of it
    """
    moments = [state.moments for state in states]
    return ArmPeaks(
        shoulder=shoulder_peak(states, STRENGTH),
        shoulder_net=_largest(states, [moment.shoulder for moment in moments]),
        elbow=_largest(states, [moment.elbow_extension or 0.0 for moment in moments]),
        elbow_valgus=_largest(states, [moment.elbow_valgus or 0.0 for moment in moments]),
        wrist=_largest(states, [moment.wrist for moment in moments]),
        behind_the_body=behind_the_body([state.pose for state in states]),
    )


def shoulder_peak(states: list[ArmState], strength: RelativeStrength) -> ShoulderPeak:
    """Where a repetition asks most of the shoulder.

    Args:
        states: the arm in each part of it
        strength: of the movements of the shoulder
    """
    asked = [weighed(state.pose, state.moments, strength) for state in states]
    state = states[asked.index(max(asked))]
    return ShoulderPeak(shoulder_demand(state.pose, state.moments, strength), state.moments.shoulder, state.part)


def _largest(states: list[ArmState], values: list[float]) -> Largest:
    most, least = max(values), min(values)
    value = most if most >= -least else least
    return Largest(value, states[values.index(value)].part)


def _postures(states: list[ArmState], behind: float) -> ArmPostures:
    elevations = [elevation(state.pose) for state in states]
    low, high = _PROVOKING
    provoking = [state.pose for state, raised in zip(states, elevations, strict=True) if low <= raised <= high]
    turned = [turn for turn in map(outward_rotation, provoking) if turn is not None]
    return ArmPostures(
        behind_the_body=behind,
        elevation_low=min(elevations),
        elevation_high=max(elevations),
        in_provoking_elevation=len(provoking) / len(states),
        outward_rotation=max(turned, default=None),
    )
