"""Ranges of a setup, checked before anything is computed."""

from __future__ import annotations

from math import degrees, radians

from service.errors import Refusal, into
from service.knowledge.posture_rules import POSTURES, ExerciseRule, exercise_of
from service.knowledge.records import SourcedRange
from service.mechanics.body import Body
from service.mechanics.posture import foot_pitch
from service.mechanics.seen import Seen
from service.mechanics.setups import Depth, Technique, rule_for
from service.mechanics.technique import OF_ARMS
from service.messages import message
from service.units import SI, angle

_TOLERANCE = 1e-9  # an angle converted from degrees may lie a rounding error beyond its range


def check_setup(body: Body, exercise_id: str, load: float, depth: Depth | None, technique: Technique) -> None:
    """Check a setup against the ranges of postures.toml and for contradictions.

    Args:
        body: the lifter
        exercise_id: id of a posture rule, of an exercise or of one with another implement
        load: mass of the implement [kg]
        depth: requested depth; None for the exercise's own
        technique: departures from the posture rule

    Raises:
        Refusal: for the first value that is out of range or contradicts another
    """
    rule = rule_for(exercise_id)
    limits = POSTURES.limits
    ratio = load / body.mass
    if not limits.load_ratio.low <= ratio <= limits.load_ratio.high:
        allowed_ratio = limits.load_ratio.allowed("times body mass")
        change = into(ratio, limits.load_ratio.low, 1.0) * body.mass  # nobody is shown the heaviest there is
        raise Refusal.one("load", message("load_outside_the_model", ratio=ratio), allowed_ratio, change=change)
    _within("technique/heel_lift", technique.heel_lift, limits.heel_lift, "m")
    _within("technique/bar_forward_of_midfoot", technique.bar_forward_of_midfoot, limits.bar_forward_of_midfoot, "m")
    for name, stated, allowed in (
        ("technique/shin_angle", technique.shin_angle, limits.shin_angle),
        (
            "technique/trunk_lean",
            technique.trunk_lean,
            limits.pull_lean if rule.family == "pull" else limits.trunk_lean,
        ),
        ("technique/ankle_dorsiflexion", technique.ankle_dorsiflexion, limits.ankle_limit),
        ("technique/hip_flexion", technique.hip_flexion, limits.hip_limit),
        ("technique/toe_out", technique.toe_out, limits.toe_out),
        ("technique/hip_abduction", technique.hip_abduction, limits.hip_abduction),
        ("technique/hip_external_rotation", technique.hip_external_rotation, limits.hip_external_rotation),
    ):
        if stated is not None:
            _within(name, degrees(stated), allowed, "deg")
    if technique.stance_width is not None:
        _within("technique/stance_width", technique.stance_width, limits.stance_width, "m")
        if technique.stance != "shoulder":
            raise Refusal.one("technique/stance_width", message("stance_stated_twice"), "stance or stance_width")
    if technique.foot_spacing is not None:
        _check_spacing(exercise_id, rule, technique.foot_spacing)
    for name in OF_ARMS:
        if getattr(technique, name) is not None:
            raise Refusal.one(f"technique/{name}", message("of_presses_and_pulls"), "left out")
    _check_lean(technique, rule)
    _check_ankle(body, technique)
    if depth is not None:
        _check_depth(rule, depth)


def _check_ankle(body: Body, technique: Technique) -> None:
    if technique.shin_angle is not None and technique.ankle_dorsiflexion is not None:
        available = technique.ankle_dorsiflexion + foot_pitch(technique.heel_lift, body.foot)
        if technique.shin_angle > available + _TOLERANCE:
            raise Refusal.one(
                "technique/shin_angle",
                message("shin_beyond_ankle", angle=angle(technique.shin_angle, "deg")),
                f"at most {degrees(available):.1f} deg, or a higher heel lift",
                change=into(technique.shin_angle, high=available),
            )


def _check_spacing(exercise_id: str, rule: ExerciseRule, foot_spacing: float) -> None:
    if rule.foot_spacing is None:
        raise Refusal.one(
            "technique/foot_spacing",
            message("no_foot_spacing", exercise=exercise_of(exercise_id)),
            "split squats and lunges; the trail foot of a step-up stands below the hip",
        )
    _within("technique/foot_spacing", foot_spacing, POSTURES.limits.foot_spacing, "m")


def _check_lean(technique: Technique, rule: ExerciseRule) -> None:
    if technique.trunk_lean is not None and rule.family not in ("pull", "split"):
        raise Refusal.one(
            "technique/trunk_lean",
            message("lean_follows_from_balance"),
            "split stances and pulls, or as it was seen, with seen_by",
        )
    if technique.seen is not None:
        _check_seen(technique.seen)


def _check_seen(seen: Seen) -> None:
    limits = POSTURES.limits
    if seen.by is None:
        raise Refusal.one(
            "technique/seen_by",
            message("angle_seen_how"),
            "eye, phone_video or inclinometer; a depth that is asked for is stated as depth",
            one_of=("eye",),
        )
    if seen.shin_angle is None and seen.trunk_lean is None and seen.thigh_angle is None:
        raise Refusal.one("technique/seen_by", message("nothing_seen"), "with shin_angle, trunk_lean or thigh_angle")
    for name, allowed in (
        ("shin_angle", limits.shin_angle),
        ("trunk_lean", limits.seen_lean),
        ("thigh_angle", limits.thigh_angle),
    ):
        angle_seen = getattr(seen, name)
        if angle_seen is not None:
            _within(f"technique/{name}", degrees(angle_seen), allowed, "deg")


def _check_depth(rule: ExerciseRule, depth: Depth) -> None:
    if depth.stated != 1:
        raise Refusal.one("depth", message("depth_in_one_way"), "thigh_below_horizontal, box_height or knee_flexion")
    if depth.above_bottom is not None:
        raise Refusal.one("depth/above_bottom", message("of_presses_and_pulls"), "another depth")
    if depth.thigh_below_horizontal is not None:
        thigh = POSTURES.limits.thigh_angle
        if not thigh.low <= -degrees(depth.thigh_below_horizontal) <= thigh.high:
            raise Refusal.one(
                "depth/thigh_below_horizontal",
                message("no_such_thigh_angle"),
                f"{-thigh.high:g} to {-thigh.low:g} deg (negative while the thigh slopes up to the hip)",
                change=into(depth.thigh_below_horizontal, radians(-thigh.high), radians(-thigh.low)),
            )
    if depth.box_height is not None:
        lifted_from_a_height = rule.accepts_box or rule.grip_height is not None
        if rule.family != "squat" and not lifted_from_a_height:
            raise Refusal.one(
                "depth/box_height",
                message("neither_box_nor_block"),
                "squats and step-ups take a box, lifts from the floor a block under the bar",
            )
        _within("depth/box_height", depth.box_height, POSTURES.limits.box_height, "m")


def _within(parameter: str, value: float, allowed: SourcedRange, unit: str) -> None:
    if not allowed.low - _TOLERANCE <= value <= allowed.high + _TOLERANCE:
        detail = message("outside_the_model", value={"value": value, "unit": unit})
        change = into(value, allowed.low, allowed.high) * SI[unit]
        raise Refusal.one(parameter, detail, allowed.allowed(unit), change=change)
