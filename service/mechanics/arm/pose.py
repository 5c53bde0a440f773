"""Where the elbow is: the pose of one arm from the hand's position, or from joint angles.

Axes, from the shoulder joint: x out to the side of the arm, z along the load's line away from its pull, y across both,
so that a lifter lying face up under a weight has the head toward y and a standing one the back. They are right-handed
and the arm is the left one; the right arm is its mirror image, with the same moments about its own axes.

The elbow is a hinge and the forearm stays in the plane of x and the load's line, as a forearm does that a bar holds by
the hand; then elbow and hand have the same place across, and two circles of that plane meet in the elbow.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import asin, atan2, copysign, cos, hypot, sin, sqrt

from msgspec import Struct

from service.errors import Refusal
from service.mechanics.arm.segments import Arm
from service.mechanics.arm.vectors import Vector, cross, dot, length, plus, times, unit
from service.messages import message

SIDE = Vector(1.0, 0.0, 0.0)

_FARTHEST_ACROSS = 0.99  # of the upper arm: nearly straight across, so that the elbow is still at one side
_NEAREST = 1e-6  # squared distance of any hand from its shoulder
_FOLDED = 1.0001  # squared distance of the hand over that of an arm folded flat: so that the elbow is beside it
_PARALLEL = 1e-9  # sine below which two directions are one
_STRAIGHT = 1e-15  # elbow beside the line to the hand, over its length, squared: what rounding leaves of a straight arm


class Trunk(Struct, frozen=True, gc=False):
    """Where the lifter lies, sits or stands.

    Attributes:
        head: direction toward the head [1]
        front: direction forward [1]
    """

    head: Vector
    front: Vector


class ArmPose(Struct, frozen=True, gc=False):
    """One arm, from the shoulder joint.

    Attributes:
        elbow: elbow joint [m]
        wrist: wrist joint [m]
        grip: middle of the closed hand [m]
        upper_arm: direction from shoulder to elbow [1]
        forearm: direction from elbow to wrist [1]
        hinge: axis about which the elbow bends, None where the arm is straight [1]
        raising_axis: axis about which the upper arm is raised, or taken forward where it is in line with the trunk [1]
        trunk: of the lifter
    """

    elbow: Vector
    wrist: Vector
    grip: Vector
    upper_arm: Vector
    forearm: Vector
    hinge: Vector | None
    raising_axis: Vector
    trunk: Trunk


class JointAngles(Struct, frozen=True, gc=False):
    """An arm by its angles.

    Attributes:
        elevation: upper arm from hanging along the trunk [rad]
        plane: plane in which it is raised: 0 to the side, a quarter turn forward [rad]
        rotation: upper arm turned outward about itself; 0 where the bent forearm of an arm at the side points forward
            [rad]
        flexion: bend of the elbow [rad]
    """

    elevation: float
    plane: float
    rotation: float
    flexion: float


def trunk_at(trunk_angle: float) -> Trunk:
    """A trunk in the plane of y and z.

    Args:
        trunk_angle: 0 with the head toward y and the front toward z, a quarter turn with the head toward z [rad]
    """
    return Trunk(Vector(0.0, cos(trunk_angle), sin(trunk_angle)), Vector(0.0, -sin(trunk_angle), cos(trunk_angle)))


def pose_of_angles(arm: Arm, angles: JointAngles, trunk: Trunk) -> ArmPose:
    """The pose with a straight wrist from joint angles.

    Args:
        arm: lengths
        angles: of the joints
        trunk: of the lifter
    """
    head, front = trunk.head, trunk.front
    outward = plus(times(cos(angles.plane), SIDE), times(sin(angles.plane), front))
    upper_arm = plus(times(sin(angles.elevation), outward), times(-cos(angles.elevation), head))
    axis = plus(times(cos(angles.plane), front), times(-sin(angles.plane), SIDE))
    bent = plus(times(cos(angles.rotation), axis), times(sin(angles.rotation), cross(axis, upper_arm)))
    forearm = plus(times(cos(angles.flexion), upper_arm), times(sin(angles.flexion), bent))
    elbow = times(arm.upper_arm, upper_arm)
    wrist = plus(elbow, times(arm.forearm, forearm))
    return _posed(elbow, wrist, plus(wrist, times(arm.grip, forearm)), upper_arm, forearm, trunk)


def poses_of_hand(arm: Arm, grips: Iterable[Vector], trunk: Trunk, wrist_bend: float = 0.0) -> list[ArmPose]:
    """The poses of an arm whose hand is held at some points in turn.

    The elbow is the outer of the two places where it can be. A hand beyond reach is drawn in along the load's line, for
    a straight arm ends the lift, and one nearer than a folded arm lets it come is held off along it; a hand too far
    across is drawn in to where the upper arm points straight across.

    Args:
        arm: lengths
        grips: middle of the closed hand
        trunk: of the lifter
        wrist_bend: hand bent back [rad]

    Raises:
        Refusal: where the hands are farther apart than the arms reach
    """
    longest, forearm = arm.upper_arm, arm.forearm
    beyond_elbow, off_forearm = forearm + arm.grip * cos(wrist_bend), arm.grip * sin(wrist_bend)
    poses = []
    for grip in grips:
        side, along = grip.x, grip.z
        upward = copysign(1.0, along)
        across = _drawn_across(longest, grip.y - upward * off_forearm)
        upper = sqrt(longest * longest - across * across)
        reach, folded = upper + beyond_elbow, upper - beyond_elbow
        squared = side * side + along * along
        if squared > reach * reach:
            along, squared = _drawn_in(side, along, reach), reach * reach
        if squared <= folded * folded:
            squared = max(_FOLDED * folded * folded, _NEAREST)
            along = upward * sqrt(squared - side * side)
        on_way = 0.5 + folded * reach / (2.0 * squared)  # foot of the elbow on the way to the hand, and how far the
        beside = upper * upper / squared - on_way * on_way  # elbow is beside it, squared; of the length of the way
        beside = upward * sqrt(beside) if beside > _STRAIGHT else 0.0
        x, z = on_way * side + beside * along, on_way * along - beside * side
        forward, upright = (side - x) / beyond_elbow, (along - z) / beyond_elbow
        poses.append(
            _posed(
                Vector(x, across, z),
                Vector(x + forearm * forward, across, z + forearm * upright),
                Vector(side, across + upward * off_forearm, along),
                Vector(x / longest, across / longest, z / longest),
                Vector(forward, 0.0, upright),
                trunk,
            )
        )
    return poses


def pose_of_free_hand(arm: Arm, across: float, along: float, trunk: Trunk) -> ArmPose:
    """The pose of an arm whose forearm lies along the load's line, as under a dumbbell or on a cable.

    Args:
        arm: lengths
        across: the hand across the load's line [m]
        along: the hand along it; both are drawn in where the arm does not reach so far [m]
        trunk: of the lifter
    """
    across = _drawn_across(arm.upper_arm, across)
    upper = sqrt(arm.upper_arm**2 - across**2)
    upward = copysign(1.0, along)
    elbow_along = min(max(along - upward * (arm.forearm + arm.grip), -upper), upper)
    elbow_side = sqrt(max(0.0, upper**2 - elbow_along**2))
    wrist_along = elbow_along + upward * arm.forearm
    return _posed(
        elbow=Vector(elbow_side, across, elbow_along),
        wrist=Vector(elbow_side, across, wrist_along),
        grip=Vector(elbow_side, across, wrist_along + upward * arm.grip),
        upper_arm=Vector(elbow_side / arm.upper_arm, across / arm.upper_arm, elbow_along / arm.upper_arm),
        forearm=Vector(0.0, 0.0, upward),
        trunk=trunk,
    )


def elevation(pose: ArmPose) -> float:
    """Upper arm from hanging along the trunk [rad]."""
    upper_arm, head, front = pose.upper_arm, pose.trunk.head, pose.trunk.front
    forward = upper_arm.y * front.y + upper_arm.z * front.z
    return atan2(hypot(upper_arm.x, forward), -upper_arm.y * head.y - upper_arm.z * head.z)


def plane_of_elevation(pose: ArmPose) -> float:
    """Plane in which the upper arm is raised: 0 to the side, a quarter turn forward, negative behind the body [rad]."""
    axis = pose.raising_axis
    return atan2(-axis.x, dot(axis, pose.trunk.front))


def behind_the_body(poses: list[ArmPose]) -> float:
    """How far the upper arm points behind the trunk's frontal plane at most, 0 before it [rad]."""
    front = poses[0].trunk.front
    y, z = front.y, front.z
    least = min([y * pose.upper_arm.y + z * pose.upper_arm.z for pose in poses])
    return asin(min(1.0, max(0.0, -least)))


def outward_rotation(pose: ArmPose) -> float | None:
    """Upper arm turned outward about itself, as in `JointAngles`; None where a straight arm does not show it [rad]."""
    if pose.hinge is None:
        return None
    axis = pose.raising_axis
    return atan2(dot(pose.forearm, cross(axis, pose.upper_arm)), dot(pose.forearm, axis))


def elbow_flexion(pose: ArmPose) -> float:
    """Bend of the elbow [rad]."""
    return atan2(length(cross(pose.upper_arm, pose.forearm)), dot(pose.upper_arm, pose.forearm))


def _posed(elbow: Vector, wrist: Vector, grip: Vector, upper_arm: Vector, forearm: Vector, trunk: Trunk) -> ArmPose:
    head = trunk.head
    a, b, c, d, e, f = upper_arm.x, upper_arm.y, upper_arm.z, forearm.x, forearm.y, forearm.z
    x, y, z = b * f - c * e, c * d - a * f, a * e - b * d
    sine = sqrt(x * x + y * y + z * z)
    hinge = Vector(x / sine, y / sine, z / sine) if sine > _PARALLEL else None
    e, f = head.y, head.z
    x, y, z = b * f - c * e, -a * f, a * e
    sine = sqrt(x * x + y * y + z * z)
    raising_axis = Vector(x / sine, y / sine, z / sine) if sine > _PARALLEL else unit(cross(upper_arm, trunk.front))
    return ArmPose(elbow, wrist, grip, upper_arm, forearm, hinge, raising_axis, trunk)


def _drawn_across(upper_arm: float, across: float) -> float:
    """How far across the load's line the elbow of an upper arm can be [m]."""
    farthest = _FARTHEST_ACROSS * upper_arm
    return min(max(across, -farthest), farthest)


def _drawn_in(side: float, along: float, reach: float) -> float:
    """How far along the load's line a straight arm has the hand [m]."""
    if abs(side) >= reach:
        raise Refusal.one("technique/grip_width", message("hands_beyond_reach"), "a narrower grip")
    return copysign(sqrt(reach * reach - side * side), along)
