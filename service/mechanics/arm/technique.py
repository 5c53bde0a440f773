"""How the arms do a lift as it was asked for: grip, bench, wrists, upper arm and range, each where the lift has it."""

from __future__ import annotations

from itertools import pairwise
from math import hypot, pi, radians
from typing import Final

from service.errors import Refusal, into
from service.knowledge.arm_figures import ARM
from service.knowledge.arm_lifts import ARM_LIFTS, STATURE_OF_POINTS, ArmLift, HandPoint, arm_lift_of
from service.knowledge.catalogue import EXERCISES
from service.knowledge.records import SourcedRange
from service.mechanics.arm.lifts import ArmSetup, ArmTechnique, arm_setup
from service.mechanics.body import Body
from service.mechanics.depth import Depth
from service.mechanics.technique import USUAL_TECHNIQUE, Technique, asked_lean
from service.messages import message
from service.units import angle, length
from service.vocabulary import Implement

_TOLERANCE: Final = 1e-9
"""A figure converted from another unit may lie a rounding error beyond its range [any]."""


def asked_arm_setup(
    body: Body,
    exercise: str,
    implement: Implement | None,
    load: float,
    depth: Depth | None = None,
    technique: Technique | None = None,
) -> ArmSetup | None:
    """A lift as the arms do it when it is asked for.

    Args:
        body: the lifter
        exercise: id of the exercise
        implement: what is lifted; None for what the exercise is usually done with
        load: mass of the implement, for the whole lifter, or of the one arm where one arm lifts [kg]
        depth: None for the whole range
        technique: None for the usual one; what of it is of the legs does not enter

    Returns:
        The setup; None where nothing says how the arms do the lift.

    Raises:
        Refusal: with pointers under `technique` and `depth` for what the lift does not have and what is out of range
    """
    lift_id = arm_lift_of(exercise, implement)
    if lift_id is None:
        return None
    lift, technique = ARM_LIFTS[lift_id], technique or USUAL_TECHNIQUE
    return arm_setup(
        lift_id,
        load,
        ArmTechnique(
            grip=_grip(body, lift, technique.grip_width),
            grip_measured=technique.grip_width is not None,
            abduction=_abduction(lift, technique),
            trunk_angle=_trunk_angle(exercise, lift, technique),
            wrist_bend=_wrist_bend(lift, technique.wrist_bend),
            left_out=_left_out(body, lift, depth),
        ),
    )


def _grip(body: Body, lift: ArmLift, width: float | None) -> float | None:
    if width is None:
        return None
    if lift.grip is None:
        raise Refusal.one("technique/grip_width", message("hands_are_free"), "left out")
    allowed, breadth = lift.grips or ARM.ranges.grip, body.shoulder_breadth
    if not allowed.low - _TOLERANCE <= width / breadth <= allowed.high + _TOLERANCE:
        raise Refusal.one(
            "technique/grip_width",
            message("grip_outside_the_model", width=length(width, "m"), ratio=width / breadth),
            f"{allowed.low * breadth:.2f} to {allowed.high * breadth:.2f} m",
            change=into(width, allowed.low * breadth, allowed.high * breadth),
        )
    return min(max(width / breadth, allowed.low), allowed.high)


def _abduction(lift: ArmLift, technique: Technique) -> float | None:
    stated = technique.shoulder_abduction
    if stated is None:
        return None
    if lift.trunk_angle not in (0.0, 180.0) or lift.line or technique.bench_angle:
        raise Refusal.one("technique/shoulder_abduction", message("abduction_of_level_presses"), "left out")
    _within("technique/shoulder_abduction", stated, ARM.ranges.shoulder_abduction)
    return stated


def _trunk_angle(exercise: str, lift: ArmLift, technique: Technique) -> float | None:
    bench = technique.bench_angle
    if bench is None:
        usual, lean = EXERCISES[exercise].lean_in_radians, asked_lean(technique)
        return None if usual is None or lean is None else pi / 2 + lean
    if lift.bench is None:
        raise Refusal.one("technique/bench_angle", message("no_bench_that_tilts"), "left out")
    _within("technique/bench_angle", bench, lift.bench)
    return bench


def _wrist_bend(lift: ArmLift, stated: float | None) -> float:
    if stated is None:
        return 0.0
    if lift.grip is None:
        raise Refusal.one("technique/wrist_bend", message("hands_are_free"), "left out")
    allowed = ARM.ranges.wrist_bend
    _within("technique/wrist_bend", stated, allowed)
    return min(max(stated, radians(allowed.low)), allowed.high * radians(1.0))


def _left_out(body: Body, lift: ArmLift, depth: Depth | None) -> float:
    """The part of the hand's path that is left out at the bottom [1]."""
    if depth is None or depth.above_bottom is None:
        return 0.0
    if depth.stated != 1:
        raise Refusal.one("depth", message("depth_in_one_way"), "above_bottom")
    if not lift.path:
        raise Refusal.one("depth/above_bottom", message("range_by_angles"), "left out")
    scale = body.stature / STATURE_OF_POINTS
    rises = sum(abs(last.along - first.along) for first, last in pairwise(lift.path))
    least, most = scale * lift.left_out, scale * ARM.ranges.left_out.high * (lift.left_out + rises)
    if not least - _TOLERANCE <= depth.above_bottom <= most + _TOLERANCE:
        stated = length(depth.above_bottom, "m")
        allowed = f"{least:.2f} to {most:.2f} m"
        change = into(depth.above_bottom, least, most)
        raise Refusal.one("depth/above_bottom", message("outside_the_model", value=stated), allowed, change=change)
    return _part_of_path(lift.path, max(0.0, depth.above_bottom - least) / scale)


def _part_of_path(path: tuple[HandPoint, ...], rise: float) -> float:
    """The part of a path's length up to a height above its lowest point [1].

    Args:
        path: from its lowest point
        rise: along the load's line, for a stature of 1.75 m [m]
    """
    lengths = [hypot(last.across - first.across, last.along - first.along) for first, last in pairwise(path)]
    gone = 0.0
    for (first, last), step in zip(pairwise(path), lengths, strict=True):
        of_step = abs(last.along - first.along)
        if rise <= of_step:
            return (gone + step * rise / of_step) / sum(lengths)
        rise, gone = rise - of_step, gone + step
    return 1.0


def _within(pointer: str, stated: float, allowed: SourcedRange) -> None:
    if not radians(allowed.low) - _TOLERANCE <= stated <= radians(allowed.high) + _TOLERANCE:
        detail = message("outside_the_model", value=angle(stated, "deg"))
        change = into(stated, radians(allowed.low), radians(allowed.high))
        raise Refusal.one(pointer, detail, allowed.allowed("deg"), change=change)
