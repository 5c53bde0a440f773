"""Moments that the muscles of a still arm hold at shoulder, elbow and wrist, from the forces on it."""

from __future__ import annotations

from math import cos, sin

from msgspec import Struct

from service.mechanics.arm.pose import ArmPose
from service.mechanics.arm.segments import Arm
from service.mechanics.arm.vectors import Vector, times
from service.mechanics.body import GRAVITY


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


class OwnWeight(Struct, frozen=True, gc=False):
    """The weight of an arm's segments, whatever its pose.

    Attributes:
        gravity_across: along y [m/s²]
        gravity_along: along z [m/s²]
        of_hand: first moment of the hand about the wrist [kg·m]
        of_forearm: first moment of forearm and hand about the elbow [kg·m]
        of_arm: first moment of the upper arm about the shoulder, with all beyond it at the elbow [kg·m]
    """

    gravity_across: float
    gravity_along: float
    of_hand: float
    of_forearm: float
    of_arm: float


def own_weight(arm: Arm, line: float = 0.0) -> OwnWeight:
    """The weight of an arm.

    Args:
        arm: masses, centres and lengths
        line: the load's line from the vertical, as in `weight_direction` [rad]
    """
    gravity = times(GRAVITY, weight_direction(line))
    of_hand = arm.hand_mass * arm.hand_centre
    return OwnWeight(
        gravity_across=gravity.y,
        gravity_along=gravity.z,
        of_hand=of_hand,
        of_forearm=of_hand + arm.hand_mass * arm.forearm + arm.forearm_mass * arm.forearm_centre,
        of_arm=arm.upper_arm_mass * arm.upper_arm_centre + (arm.forearm_mass + arm.hand_mass) * arm.upper_arm,
    )


def arm_moments(weight: OwnWeight, pose: ArmPose, hand_force: Vector) -> ArmMoments:
    """The moments of statics: force on the hand times its lever, and gravity times the first moment of mass.

    Written out by parts, since every search and every interval asks it hundreds of times.

    Args:
        weight: of the arm itself
        pose: where the arm is
        hand_force: of the load on the hand [N]

    Source: statics. The hand's own mass is kept on the line of the forearm.
    """
    upper_arm, forearm, elbow, wrist, grip = pose.upper_arm, pose.forearm, pose.elbow, pose.wrist, pose.grip
    across, along = weight.gravity_across, weight.gravity_along
    push, pull, lift = hand_force.x, hand_force.y, hand_force.z

    # gravity on a unit of first moment along forearm and upper arm
    fx, fy, fz = forearm.x, forearm.y, forearm.z
    forearm_x, forearm_y, forearm_z = across * fz - along * fy, along * fx, -across * fx
    ux, uy, uz = upper_arm.x, upper_arm.y, upper_arm.z
    upper_x, upper_y, upper_z = across * uz - along * uy, along * ux, -across * ux

    gx, gy, gz = grip.x, grip.y, grip.z
    first = weight.of_hand
    x, y, z = gx - wrist.x, gy - wrist.y, gz - wrist.z
    at_wrist = Vector(
        pull * z - lift * y + first * forearm_x,
        lift * x - push * z + first * forearm_y,
        push * y - pull * x + first * forearm_z,
    )
    first = weight.of_forearm
    x, y, z = gx - elbow.x, gy - elbow.y, gz - elbow.z
    ex = pull * z - lift * y + first * forearm_x
    ey = lift * x - push * z + first * forearm_y
    ez = push * y - pull * x + first * forearm_z
    second = weight.of_arm
    sx = pull * gz - lift * gy + first * forearm_x + second * upper_x
    sy = lift * gx - push * gz + first * forearm_y + second * upper_y
    sz = push * gy - pull * gx + first * forearm_z + second * upper_z

    raising = pose.raising_axis
    rx, ry, rz = raising.x, raising.y, raising.z
    humeral = HumeralMoment(
        axial=sx * ux + sy * uy + sz * uz,
        elevation=sx * rx + sy * ry + sz * rz,
        horizontal=sx * (uy * rz - uz * ry) + sy * (uz * rx - ux * rz) + sz * (ux * ry - uy * rx),
    )
    extension = valgus = None
    hinge = pose.hinge
    if hinge is not None:
        hx, hy, hz = hinge.x, hinge.y, hinge.z
        extension = -(ex * hx + ey * hy + ez * hz)
        valgus = ex * (fy * hz - fz * hy) + ey * (fz * hx - fx * hz) + ez * (fx * hy - fy * hx)
    return ArmMoments(Vector(sx, sy, sz), humeral, Vector(ex, ey, ez), extension, valgus, at_wrist)
