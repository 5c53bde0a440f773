"""One arm in one part of a lift: the setup, the arm's pose and its moments there."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import copysign, hypot, radians
from typing import Final

from msgspec import Struct

from service.errors import Refusal
from service.knowledge.anthropometry import Sex
from service.knowledge.arm_figures import ARM
from service.knowledge.arm_lifts import ARM_LIFTS, STATURE_OF_POINTS, AnglePoint, ArmLift, HandPoint
from service.knowledge.records import SourcedRange
from service.mechanics.arm.forces import hand_force, measured_outward
from service.mechanics.arm.moments import ArmMoments, arm_moments, own_weight
from service.mechanics.arm.pose import ArmPose, JointAngles, pose_of_angles, pose_of_free_hand, poses_of_hand, trunk_at
from service.mechanics.arm.segments import Arm
from service.mechanics.arm.touch import led_to, touch_of_abduction, touch_of_grip
from service.mechanics.arm.vectors import Vector
from service.mechanics.body import GRAVITY, Body


class ArmTechnique(Struct, frozen=True, gc=False, kw_only=True):
    """How a lift is done; None and 0 for as the lift's table has it.

    Attributes:
        grip: between the middles of the hands, over biacromial breadth [1]
        grip_measured: whether the width itself is known, whatever the breadth
        abduction: upper arm from the trunk at the bottom, lying level [rad]
        trunk_angle: 0 lying face up, a quarter turn upright [rad]
        outward: how hard the hands push what they hold apart, over the force along the load's line [1]
        outward_error: added to it [1]
        wrist_bend: hands bent back [rad]
        left_out: of the hand's way, left out at the bottom [1]
        touch: hand moved across the load's line [m]
        height: hand moved away from the shoulder along the load's line [m]
    """

    grip: float | None = None
    grip_measured: bool = False
    abduction: float | None = None
    trunk_angle: float | None = None
    outward: float | None = None
    outward_error: float = 0.0
    wrist_bend: float = 0.0
    left_out: float = 0.0
    touch: float = 0.0
    height: float = 0.0


AS_USUAL: Final = ArmTechnique()

_IN_THE_HAND: Final = HandPoint(0.0, 0.0)


class ArmSetup(Struct, frozen=True, gc=False):
    """A lift with its load.

    Attributes:
        lift: how the arms do it
        load: in both hands together, or on a belt; in the one hand where one arm lifts [kg]
        technique: departures from the lift's table
    """

    lift: ArmLift
    load: float
    technique: ArmTechnique = AS_USUAL


class ArmState(Struct, frozen=True, gc=False):
    """One arm in one part of a lift.

    Attributes:
        part: of the hand's way from the bottom to the top [1]
        pose: of the arm
        moments: that its muscles hold
        force: of the load on the hand [N]
    """

    part: float
    pose: ArmPose
    moments: ArmMoments
    force: Vector


class Stop(Struct, frozen=True, gc=False):
    """A part of a lift.

    Attributes:
        part: of the hand's way from the bottom to the top [1]
        point: where its table has the hand, and the part of body mass on it
        angles: of the arm instead, where the table has them
    """

    part: float
    point: HandPoint
    angles: JointAngles | None


def arm_setup(lift_id: str, load: float, technique: ArmTechnique = AS_USUAL) -> ArmSetup:
    """A lift of the catalogue with its load.

    Args:
        lift_id: of a table of arm_lifts.toml
        load: in both hands together, or on a belt; in the one hand where one arm lifts [kg]
        technique: departures from the lift's table

    Raises:
        Refusal: for an exercise without a table, and a technique outside what is computed for
    """
    lift = ARM_LIFTS.get(lift_id)
    if lift is None:
        raise Refusal.one("exercise", f"Nothing says how the arms do {lift_id}.", ", ".join(ARM_LIFTS))
    ranges = ARM.ranges
    _within("technique/grip", technique.grip, lift.grips or ranges.grip, 1.0)
    _within("technique/outward", technique.outward, ranges.outward, 1.0)
    _within("technique/wrist_bend", technique.wrist_bend, ranges.wrist_bend, radians(1.0))
    if technique.grip is not None and lift.grip is None:
        raise Refusal.one("technique/grip", "The hands are free in this lift.", "no grip width")
    return ArmSetup(lift, load, technique)


def state_at(body: Body, arm: Arm, setup: ArmSetup, part: float) -> ArmState:
    """The arm in one part of a lift.

    Args:
        body: the lifter
        arm: the lifter's arm
        setup: lift and load
        part: of the hand's way from the bottom to the top, 0 to 1 [1]

    Raises:
        Refusal: where the hand cannot be there
    """
    stops = stops_of(setup, (part,))
    [state] = held(arm, setup, stops, poses_of(arm, setup, stops), forces_of(body, setup, stops))
    return state


def stops_of(setup: ArmSetup, parts: Iterable[float]) -> list[Stop]:
    """Parts of a lift with where the table has the arm there.

    Args:
        setup: lift and load; only its lift and how much of the way is left out count
        parts: of the hand's way from the bottom to the top, 0 to 1 [1]
    """
    left_out = setup.technique.left_out
    ways = [(part, left_out + part * (1.0 - left_out)) for part in parts]
    if setup.lift.angles:
        return [Stop(part, _IN_THE_HAND, _angles_at(setup.lift.angles, way)) for part, way in ways]
    path = setup.lift.path
    lengths = [hypot(b.across - a.across, b.along - a.along) for a, b in pairwise(path)]
    whole = sum(lengths)
    return [Stop(part, _point_at(path, lengths, way * whole), None) for part, way in ways]


def poses_of(arm: Arm, setup: ArmSetup, stops: list[Stop]) -> list[ArmPose]:
    """The arm at each stop, whatever the load.

    Args:
        arm: the lifter's arm
        setup: lift and load
        stops: of the lift

    Raises:
        Refusal: where the hand cannot be there
    """
    lift, technique = setup.lift, setup.technique
    trunk_angle = radians(lift.trunk_angle) if technique.trunk_angle is None else technique.trunk_angle
    trunk = trunk_at(trunk_angle + radians(lift.line))
    if lift.angles:
        return [pose_of_angles(arm, stop.angles, trunk) for stop in stops if stop.angles]
    scale = arm.stature / STATURE_OF_POINTS
    points = [(stop.point.across, stop.point.along) for stop in stops]
    if (touch := _touch(arm, setup)) is not None:
        points = led_to(lift, touch, points)
    hands = [
        (scale * across + technique.touch, scale * along + technique.height * copysign(1.0, along))
        for across, along in points
    ]
    if lift.grip is None:
        return [pose_of_free_hand(arm, across, along, trunk) for across, along in hands]
    side = _grip(setup) * arm.shoulder_breadth / 2 - arm.shoulder_offset
    return poses_of_hand(arm, [Vector(side, across, along) for across, along in hands], trunk, technique.wrist_bend)


def forces_of(body: Body, setup: ArmSetup, stops: list[Stop]) -> list[Vector]:
    """Force of the load on the hand at each stop [N].

    Args:
        body: the lifter
        setup: lift and load
        stops: of the lift
    """
    lift = setup.lift
    upward = (1.0 if lift.pull == "up" else -1.0) * GRAVITY / (1 if lift.one_arm else 2)
    outward = outward_of(setup)
    if not lift.body:
        return [hand_force(upward * setup.load, outward)] * len(stops)
    return [hand_force(upward * (setup.load + _share(stop.point, body.sex) * body.mass), outward) for stop in stops]


def held(arm: Arm, setup: ArmSetup, stops: list[Stop], poses: list[ArmPose], forces: list[Vector]) -> list[ArmState]:
    """The arm at each stop with its moments.

    Args:
        arm: the lifter's arm
        setup: lift and load
        stops: of the lift
        poses: of the arm there
        forces: of the load on the hand there
    """
    weight = own_weight(arm, radians(setup.lift.line))
    return [
        ArmState(stop.part, pose, arm_moments(weight, pose, force), force)
        for stop, pose, force in zip(stops, poses, forces, strict=True)
    ]


def outward_of(setup: ArmSetup) -> float:
    """How hard the hands push what they hold apart, over the force along the load's line [1]."""
    lift, technique = setup.lift, setup.technique
    if technique.outward is not None:
        usual = technique.outward
    elif lift.outward is not None:
        usual = lift.outward.value
    else:
        usual = measured_outward(_grip(setup))
    return usual + technique.outward_error


def _touch(arm: Arm, setup: ArmSetup) -> float | None:
    """The hand at the bottom across the load's line, for a stature of 1.75 m; None for the table's place [m]."""
    lift, technique = setup.lift, setup.technique
    if technique.abduction is not None:
        return touch_of_abduction(arm, lift, technique.abduction, technique.wrist_bend)
    if technique.grip is not None and lift.touch_by_grip:
        return touch_of_grip(lift, technique.grip)
    return None


def _angles_at(angles: tuple[AnglePoint, ...], way: float) -> JointAngles:
    """The angles at a part of a lift that is described by them."""
    steps = len(angles) - 1
    number = min(int(way * steps), steps - 1)
    first, last, part = angles[number], angles[number + 1], way * steps - number
    return JointAngles(
        elevation=radians(first.elevation + part * (last.elevation - first.elevation)),
        plane=radians(first.plane + part * (last.plane - first.plane)),
        rotation=radians(first.rotation + part * (last.rotation - first.rotation)),
        flexion=radians(first.flexion + part * (last.flexion - first.flexion)),
    )


def _point_at(path: tuple[HandPoint, ...], lengths: list[float], gone: float) -> HandPoint:
    """The point of a path so far from its bottom.

    Args:
        path: of the hand
        lengths: between its points [m]
        gone: along the path [m]
    """
    number = 0
    while number < len(lengths) - 1 and gone > lengths[number]:
        gone -= lengths[number]
        number += 1
    first, last, part = path[number], path[number + 1], gone / lengths[number]
    return HandPoint(
        first.across + part * (last.across - first.across),
        first.along + part * (last.along - first.along),
        first.share_female + part * (last.share_female - first.share_female),
        first.share_male + part * (last.share_male - first.share_male),
    )


def _share(point: HandPoint, sex: Sex | None) -> float:
    """Of body mass on both hands [1]."""
    if sex is None:
        return (point.share_female + point.share_male) / 2
    return point.share_female if sex == "female" else point.share_male


def _grip(setup: ArmSetup) -> float:
    grip = setup.lift.grip if setup.technique.grip is None else setup.technique.grip
    return grip or 0.0


def _within(pointer: str, stated: float | None, allowed: SourcedRange, unit: float) -> None:
    if stated is not None and not allowed.low * unit <= stated <= allowed.high * unit:
        raise Refusal.one(pointer, f"{stated / unit:g} is outside what is computed for.", allowed.allowed(""))
