"""Moments that the muscles of a still arm hold at shoulder, elbow and wrist, from the forces on it."""

from __future__ import annotations

from math import cos, sin, sqrt

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


class ArmMoments(HumeralMoment, frozen=True, gc=False):
    """Moments of one arm, as the muscles make them; of the shoulder by its parts.

    Attributes:
        elbow_extension: positive where the triceps works, negative for the biceps; None for a straight arm, whose
            hinge does not show [N·m]
        elbow_valgus: beside the hinge, positive where the load bends the forearm outward; None likewise [N·m]
        shoulder: net moment [N·m]
        elbow: net moment [N·m]
        wrist: net moment [N·m]
    """

    elbow_extension: float | None
    elbow_valgus: float | None
    shoulder: float
    elbow: float
    wrist: float


def weight_direction(line: float) -> Vector:
    """Direction of gravity about the axes of `pose` [1].

    Args:
        line: the load's line from the vertical, positive toward y: 0 for a weight, a quarter turn for a level cable
            that pulls a sitting lifter forward [rad]
    """
    return Vector(0.0, sin(line), -cos(line))


class OwnWeight(Struct, frozen=True, gc=False):
    """The weight of an arm's segments and the levers of what is beyond them, whatever the pose.

    Attributes:
        upper_arm: length [m]
        forearm: length [m]
        gravity_across: along y [m/s²]
        gravity_along: along z [m/s²]
        of_hand: first moment of the hand about the wrist [kg·m]
        of_forearm: of the forearm about the elbow, with all beyond it at the wrist [kg·m]
        of_arm: of the upper arm about the shoulder, with all beyond it at the elbow [kg·m]
    """

    upper_arm: float
    forearm: float
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
    return OwnWeight(
        upper_arm=arm.upper_arm,
        forearm=arm.forearm,
        gravity_across=gravity.y,
        gravity_along=gravity.z,
        of_hand=arm.hand_mass * arm.hand_centre,
        of_forearm=arm.forearm_mass * arm.forearm_centre + arm.hand_mass * arm.forearm,
        of_arm=arm.upper_arm_mass * arm.upper_arm_centre + (arm.forearm_mass + arm.hand_mass) * arm.upper_arm,
    )


def arm_moments(weight: OwnWeight, pose: ArmPose, hand_force: Vector) -> ArmMoments:
    """The moments of statics, from the hand inward: what is held beyond a segment, and the forces on the segment.

    Written out by parts, since every search and every interval asks it hundreds of times.

    Args:
        weight: of the arm itself
        pose: where the arm is
        hand_force: of the load on the hand [N]

    Source: statics. The hand's own mass is kept on the line of the forearm.
    """
    upper_arm, forearm, wrist, grip = pose.upper_arm, pose.forearm, pose.wrist, pose.grip
    ux, uy, uz, fx, fy, fz = upper_arm.x, upper_arm.y, upper_arm.z, forearm.x, forearm.y, forearm.z
    across, along = weight.gravity_across, weight.gravity_along
    px, py, pz = hand_force.x, hand_force.y, hand_force.z

    x, y, z, first = grip.x - wrist.x, grip.y - wrist.y, grip.z - wrist.z, weight.of_hand
    wx = py * z - pz * y + first * (across * fz - along * fy)
    wy = pz * x - px * z + first * along * fx
    wz = px * y - py * x - first * across * fx

    lever, first = weight.forearm, weight.of_forearm
    x, y, z = lever * px, lever * py + first * across, lever * pz + first * along
    ex, ey, ez = wx + y * fz - z * fy, wy + z * fx - x * fz, wz + x * fy - y * fx

    lever, first = weight.upper_arm, weight.of_arm
    x, y, z = lever * px, lever * py + first * across, lever * pz + first * along
    sx, sy, sz = ex + y * uz - z * uy, ey + z * ux - x * uz, ez + x * uy - y * ux

    raising = pose.raising_axis
    rx, ry, rz = raising.x, raising.y, raising.z
    extension = valgus = None
    hinge = pose.hinge
    if hinge is not None:
        hx, hy, hz = hinge.x, hinge.y, hinge.z
        extension = -(ex * hx + ey * hy + ez * hz)
        valgus = ex * (fy * hz - fz * hy) + ey * (fz * hx - fx * hz) + ez * (fx * hy - fy * hx)
    return ArmMoments(
        sx * ux + sy * uy + sz * uz,
        sx * rx + sy * ry + sz * rz,
        sx * (uy * rz - uz * ry) + sy * (uz * rx - ux * rz) + sz * (ux * ry - uy * rx),
        extension,
        valgus,
        sqrt(sx * sx + sy * sy + sz * sz),
        sqrt(ex * ex + ey * ey + ez * ez),
        sqrt(wx * wx + wy * wy + wz * wz),
    )
