"""Moments that the muscles of a still arm hold at shoulder, elbow and wrist, from the forces on it."""

from __future__ import annotations

from math import cos, sin
from typing import Final

from msgspec import Struct

from service.mechanics.arm.pose import ArmPose
from service.mechanics.arm.segments import Arm
from service.mechanics.arm.vectors import Vector, cross, dot, minus, plus, times
from service.mechanics.body import GRAVITY

_NONE: Final = Vector(0.0, 0.0, 0.0)


class HumeralMoment(Struct, frozen=True, gc=False):
    """The shoulder's moment about three axes of the upper arm, as the muscles make it.

    Attributes:
        axial: about the upper arm itself, positive inward [N·m]
        elevation: raising the arm in its own plane, positive upward; of an arm in line with the trunk, forward [N·m]
        horizontal: swinging the raised arm about the trunk, positive forward [N·m]
    """

    axial: float
    elevation: float
    horizontal: float


class ArmMoments(Struct, frozen=True, gc=False):
    """Moments of one arm, as the muscles make them.

    Attributes:
        shoulder: about the axes of `pose` [N·m]
        humeral: the same about the upper arm's own axes
        elbow: about the axes of `pose` [N·m]
        elbow_extension: positive where the triceps works, negative for the biceps; None for a straight arm, whose
            hinge does not show [N·m]
        elbow_valgus: beside the hinge, positive where the load bends the forearm outward; None likewise [N·m]
        wrist: about the axes of `pose` [N·m]
    """

    shoulder: Vector
    humeral: HumeralMoment
    elbow: Vector
    elbow_extension: float | None
    elbow_valgus: float | None
    wrist: Vector


def weight_direction(line: float) -> Vector:
    """Direction of gravity about the axes of `pose` [1].

    Args:
        line: the load's line from the vertical, positive toward y: 0 for a weight, a quarter turn for a level cable
            that pulls a sitting lifter forward [rad]
    """
    return Vector(0.0, sin(line), -cos(line))


def arm_moments(arm: Arm, pose: ArmPose, hand_force: Vector, line: float = 0.0) -> ArmMoments:
    """The moments of statics.

    Args:
        arm: masses and centres
        pose: where the arm is
        hand_force: of the load on the hand [N]
        line: the load's line from the vertical, as in `weight_direction` [rad]

    Source: statics. The hand's own mass is kept on the line of the forearm.
    """
    down = times(GRAVITY, weight_direction(line))
    hand, forearm, upper_arm = (times(mass, down) for mass in (arm.hand_mass, arm.forearm_mass, arm.upper_arm_mass))
    of_hand = plus(hand_force, hand)
    of_forearm = plus(of_hand, forearm)
    hand_centre, forearm_centre = (times(centre, pose.forearm) for centre in (arm.hand_centre, arm.forearm_centre))
    wrist = _nearer(_NONE, hand_force, minus(pose.grip, pose.wrist), hand, hand_centre)
    elbow = _nearer(wrist, of_hand, minus(pose.wrist, pose.elbow), forearm, forearm_centre)
    shoulder = _nearer(elbow, of_forearm, pose.elbow, upper_arm, times(arm.upper_arm_centre, pose.upper_arm))
    hinge = pose.hinge
    return ArmMoments(
        shoulder=shoulder,
        humeral=humeral_moment(pose, shoulder),
        elbow=elbow,
        elbow_extension=None if hinge is None else -dot(elbow, hinge),
        elbow_valgus=None if hinge is None else dot(elbow, cross(pose.forearm, hinge)),
        wrist=wrist,
    )


def humeral_moment(pose: ArmPose, shoulder: Vector) -> HumeralMoment:
    """The shoulder's moment about the upper arm's own axes."""
    raising = pose.raising_axis
    return HumeralMoment(
        axial=dot(shoulder, pose.upper_arm),
        elevation=dot(shoulder, raising),
        horizontal=dot(shoulder, cross(pose.upper_arm, raising)),
    )


def _nearer(far: Vector, beyond: Vector, segment: Vector, weight: Vector, centre: Vector) -> Vector:
    """The moment that holds a segment's near end, from what its far end holds and the forces on both [N·m]."""
    return plus(far, plus(cross(beyond, segment), cross(weight, centre)))
