"""Ranges of a setup, checked before anything is computed."""

from __future__ import annotations

from math import degrees

from service.errors import Refusal
from service.knowledge.posture_rules import POSTURES, ExerciseRule
from service.knowledge.records import SourcedRange
from service.mechanics.body import Body
from service.mechanics.posture import foot_pitch
from service.mechanics.setups import Depth, Technique, rule_for

_TOLERANCE = 1e-9  # an angle converted from degrees may lie a rounding error beyond its range


def check_setup(body: Body, exercise_id: str, load: float, depth: Depth | None, technique: Technique) -> None:
    """Check a setup against the ranges of postures.toml and for contradictions.

    Args:
        body: the lifter
        exercise_id: exercise with a posture rule
        load: mass of the implement [kg]
        depth: requested depth; None for the exercise's own
        technique: departures from the posture rule

    Raises:
        Refusal: for the first value that is out of range or contradicts another
    """
    rule = rule_for(exercise_id)
    limits = POSTURES.limits
    _within("load", load / body.mass, limits.load_ratio, "times body mass")
    _within("technique/heel_lift", technique.heel_lift, limits.heel_lift, "m")
    _within("technique/bar_forward_of_midfoot", technique.bar_forward_of_midfoot, limits.bar_forward_of_midfoot, "m")
    for name, angle, allowed in (
        ("technique/shin_angle", technique.shin_angle, limits.shin_angle),
        ("technique/trunk_lean", technique.trunk_lean, limits.trunk_lean),
        ("technique/ankle_dorsiflexion", technique.ankle_dorsiflexion, limits.ankle_limit),
        ("technique/hip_flexion", technique.hip_flexion, limits.hip_limit),
    ):
        if angle is not None:
            _within(name, degrees(angle), allowed, "deg")
    if technique.trunk_lean is not None and rule.family != "split":
        raise Refusal.one(
            "technique/trunk_lean",
            "On both feet the trunk lean follows from balance and cannot be chosen.",
            "split stances",
        )
    if technique.shin_angle is not None and technique.ankle_dorsiflexion is not None:
        available = technique.ankle_dorsiflexion + foot_pitch(technique.heel_lift, body.foot)
        if technique.shin_angle > available + _TOLERANCE:
            raise Refusal.one(
                "technique/shin_angle",
                f"A shin angle of {degrees(technique.shin_angle):.0f} deg is more than the lifter's ankle and the heel "
                "lift allow.",
                f"at most {degrees(available):.1f} deg, or a higher heel lift",
            )
    if depth is not None:
        _check_depth(rule, depth)


def _check_depth(rule: ExerciseRule, depth: Depth) -> None:
    stated = [depth.thigh_below_horizontal, depth.box_height, depth.knee_flexion]
    if sum(value is not None for value in stated) != 1:
        raise Refusal.one(
            "depth", "A depth is given in exactly one way.", "thigh_below_horizontal, box_height or knee_flexion"
        )
    if depth.thigh_below_horizontal is not None:
        thigh = POSTURES.limits.thigh_angle
        if not thigh.low <= -degrees(depth.thigh_below_horizontal) <= thigh.high:
            raise Refusal.one(
                "depth/thigh_below_horizontal",
                "The model covers no such thigh angle.",
                f"{-thigh.high:g} to {-thigh.low:g} deg (negative while the thigh slopes up to the hip)",
            )
    if depth.box_height is not None:
        lifted_from_a_height = rule.accepts_box or rule.grip_height is not None
        if rule.family != "squat" and not lifted_from_a_height:
            raise Refusal.one(
                "depth/box_height",
                "Neither box nor block belongs to this exercise.",
                "squats and step-ups take a box, lifts from the floor a block under the bar",
            )
        _within("depth/box_height", depth.box_height, POSTURES.limits.box_height, "m")


def _within(parameter: str, value: float, allowed: SourcedRange, unit: str) -> None:
    if not allowed.low - _TOLERANCE <= value <= allowed.high + _TOLERANCE:
        raise Refusal.one(parameter, f"{value:g} {unit} is outside what the model supports.", allowed.allowed(unit))
