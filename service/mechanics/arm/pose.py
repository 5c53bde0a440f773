"""Where the elbow is: the pose of one arm from the hand's position, or from joint angles.

Axes, from the shoulder joint: x out to the side of the arm, z along the load's line away from its pull, y across both,
so that a lifter lying face up under a weight has the head toward y and a standing one the back. They are right-handed
and the arm is the left one; the right arm is its mirror image, with the same moments about its own axes.

The elbow is a hinge and the forearm stays in the plane of x and the load's line, as a forearm does that a bar holds by
the hand; then elbow and hand have the same place across, and two circles of that plane meet in the elbow.
"""

from __future__ import annotations

from math import atan2, copysign, cos, hypot, sin, sqrt

from msgspec import Struct

from service.errors import Refusal
from service.mechanics.arm.segments import Arm
from service.mechanics.arm.vectors import Vector, cross, dot, length, minus, plus, times, unit

SIDE = Vector(1.0, 0.0, 0.0)
ACROSS = Vector(0.0, 1.0, 0.0)

_PARALLEL = 1e-9  # sine below which two directions are one


class ArmPose(Struct, frozen=True, gc=False):
    """One arm, from the shoulder joint.

    Attributes:
        elbow: elbow joint [m]
        wrist: wrist joint [m]
        grip: middle of the closed hand [m]
        upper_arm: direction from shoulder to elbow [1]
        forearm: direction from elbow to wrist [1]
        head: direction of the trunk toward the head [1]
        front: direction of the trunk forward [1]
    """

    elbow: Vector
    wrist: Vector
    grip: Vector
    upper_arm: Vector
    forearm: Vector
    head: Vector
    front: Vector

    @property
    def hinge(self) -> Vector | None:
        """Axis about which the elbow bends, None where the arm is straight [1]."""
        axis = cross(self.upper_arm, self.forearm)
        return unit(axis) if length(axis) > _PARALLEL else None

    @property
    def raising_axis(self) -> Vector:
        """Axis about which the upper arm is raised, or taken forward where it is in line with the trunk [1]."""
        axis = cross(self.upper_arm, self.head)
        return unit(axis) if length(axis) > _PARALLEL else unit(cross(self.upper_arm, self.front))


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


def trunk_axes(trunk_angle: float) -> tuple[Vector, Vector]:
    """Directions toward the head and forward.

    Args:
        trunk_angle: trunk in the plane of y and z: 0 with the head toward y and the front toward z, a quarter turn with
            the head toward z [rad]
    """
    return Vector(0.0, cos(trunk_angle), sin(trunk_angle)), Vector(0.0, -sin(trunk_angle), cos(trunk_angle))


def pose_of_directions(arm: Arm, upper_arm: Vector, forearm: Vector, trunk_angle: float) -> ArmPose:
    """The pose with a straight wrist from the directions of its two segments.

    Args:
        arm: lengths
        upper_arm: direction from shoulder to elbow [1]
        forearm: direction from elbow to wrist [1]
        trunk_angle: as in `trunk_axes` [rad]
    """
    elbow = times(arm.upper_arm, upper_arm)
    wrist = plus(elbow, times(arm.forearm, forearm))
    head, front = trunk_axes(trunk_angle)
    return ArmPose(elbow, wrist, plus(wrist, times(arm.grip, forearm)), upper_arm, forearm, head, front)


def pose_of_angles(arm: Arm, angles: JointAngles, trunk_angle: float) -> ArmPose:
    """The pose with a straight wrist from joint angles.

    Args:
        arm: lengths
        angles: of the joints
        trunk_angle: as in `trunk_axes` [rad]
    """
    head, front = trunk_axes(trunk_angle)
    outward = plus(times(cos(angles.plane), SIDE), times(sin(angles.plane), front))
    upper_arm = plus(times(sin(angles.elevation), outward), times(-cos(angles.elevation), head))
    axis = plus(times(cos(angles.plane), front), times(-sin(angles.plane), SIDE))
    bent = plus(times(cos(angles.rotation), axis), times(sin(angles.rotation), cross(axis, upper_arm)))
    forearm = plus(times(cos(angles.flexion), upper_arm), times(sin(angles.flexion), bent))
    return pose_of_directions(arm, upper_arm, forearm, trunk_angle)


def pose_of_hand(arm: Arm, grip: Vector, trunk_angle: float, wrist_bend: float = 0.0) -> ArmPose:
    """The pose of an arm whose hand is held at a point.

    The elbow is the outer of the two places where it can be. A hand beyond reach is drawn in along the load's line: a
    straight arm ends the lift.

    Args:
        arm: lengths
        grip: middle of the closed hand [m]
        trunk_angle: as in `trunk_axes` [rad]
        wrist_bend: hand bent back [rad]

    Raises:
        Refusal: where the hand is too near the shoulder for the folded arm, or too far across the load's line
    """
    across = grip.y - copysign(arm.grip * sin(wrist_bend), grip.z)
    beyond_elbow = arm.forearm + arm.grip * cos(wrist_bend)
    upper = _upper_arm_in_plane(arm, across)
    along = _within_reach(grip.x, grip.z, upper + beyond_elbow)
    distance = hypot(grip.x, along)
    if distance <= abs(upper - beyond_elbow):
        raise Refusal.one(
            "grip", "The hand is nearer to the shoulder than the folded arm allows.", "a point farther away"
        )
    cosine = (upper**2 + distance**2 - beyond_elbow**2) / (2 * upper * distance)
    opening = atan2(sqrt(max(0.0, 1.0 - cosine**2)), cosine)
    angle = atan2(along, grip.x) - copysign(opening, along)
    elbow = Vector(upper * cos(angle), across, upper * sin(angle))
    forearm = unit(minus(Vector(grip.x, across, along), elbow))
    head, front = trunk_axes(trunk_angle)
    return ArmPose(
        elbow=elbow,
        wrist=plus(elbow, times(arm.forearm, forearm)),
        grip=Vector(grip.x, grip.y, along),
        upper_arm=unit(elbow),
        forearm=forearm,
        head=head,
        front=front,
    )


def pose_of_free_hand(arm: Arm, across: float, along: float, trunk_angle: float) -> ArmPose:
    """The pose of an arm whose forearm lies along the load's line, as under a dumbbell or on a cable.

    Args:
        arm: lengths
        across: the hand across the load's line [m]
        along: the hand along it; drawn in where the arm does not reach so far [m]
        trunk_angle: as in `trunk_axes` [rad]

    Raises:
        Refusal: where the hand is farther across than the upper arm is long
    """
    upper = _upper_arm_in_plane(arm, across)
    beyond_elbow = copysign(arm.forearm + arm.grip, along)
    elbow_along = min(max(along - beyond_elbow, -upper), upper)
    elbow = Vector(sqrt(max(0.0, upper**2 - elbow_along**2)), across, elbow_along)
    return pose_of_directions(arm, unit(elbow), Vector(0.0, 0.0, copysign(1.0, along)), trunk_angle)


def elevation(pose: ArmPose) -> float:
    """Upper arm from hanging along the trunk [rad]."""
    return atan2(length(cross(pose.upper_arm, pose.head)), -dot(pose.upper_arm, pose.head))


def plane_of_elevation(pose: ArmPose) -> float:
    """Plane in which the upper arm is raised: 0 to the side, a quarter turn forward, negative behind the body [rad]."""
    axis = pose.raising_axis
    return atan2(-axis.x, dot(axis, pose.front))


def behind_the_body(pose: ArmPose) -> float:
    """How far the upper arm points behind the trunk's frontal plane, 0 before it [rad]."""
    behind = -dot(pose.upper_arm, pose.front)
    return atan2(max(0.0, behind), sqrt(max(0.0, 1.0 - behind**2)))


def outward_rotation(pose: ArmPose) -> float | None:
    """Upper arm turned outward about itself, as in `JointAngles`; None where a straight arm does not show it [rad]."""
    if pose.hinge is None:
        return None
    axis = pose.raising_axis
    return atan2(dot(pose.forearm, cross(axis, pose.upper_arm)), dot(pose.forearm, axis))


def elbow_flexion(pose: ArmPose) -> float:
    """Bend of the elbow [rad]."""
    return atan2(length(cross(pose.upper_arm, pose.forearm)), dot(pose.upper_arm, pose.forearm))


def _upper_arm_in_plane(arm: Arm, across: float) -> float:
    """The upper arm as seen in the plane of x and the load's line [m]."""
    if abs(across) >= arm.upper_arm:
        raise Refusal.one(
            "grip",
            f"The elbow would have to be {abs(across):.2f} m before or behind the shoulder.",
            f"less than {arm.upper_arm:.2f} m",
        )
    return sqrt(arm.upper_arm**2 - across**2)


def _within_reach(side: float, along: float, reach: float) -> float:
    if hypot(side, along) <= reach:
        return along
    if abs(side) >= reach:
        raise Refusal.one("grip", "The hands are farther apart than the arms reach.", "a narrower grip")
    return copysign(sqrt(reach**2 - side**2), along)
