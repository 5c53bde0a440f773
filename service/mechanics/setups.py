"""Setups: an exercise, a depth and a technique resolved by the posture rules of postures.toml.

A setup fixes everything that statics needs except the thigh angle, so that the same setup is solved at any depth
between standing and the bottom.
"""

from __future__ import annotations

from math import cos, inf, radians

from msgspec.structs import replace

from service.errors import Refusal
from service.knowledge.posture_rules import EXERCISE_RULES, POSTURE_RULES, POSTURES, ExerciseRule
from service.mechanics.balance import ON_TRUNK, Carry
from service.mechanics.body import Body
from service.mechanics.depth import Depth, Legs, stated_thigh_angle, thigh_angle_at_bottom
from service.mechanics.habits import Maximum, habit_with, share_of_maximum
from service.mechanics.hinges import legs_of_hinge
from service.mechanics.posture import ankle_above_floor, foot_pitch, shin_shape
from service.mechanics.pull_setups import pull_setup
from service.mechanics.pulls import pull_of
from service.mechanics.resolved_setup import Setup, limits_binding, shin_at
from service.mechanics.seen import Departure, departing_in, depth_seen
from service.mechanics.split_inputs import SplitLift, Stated
from service.mechanics.split_stance import in_equilibrium
from service.mechanics.stance import (
    SAGITTAL,
    Feet,
    StanceWidth,
    feet_of,
    shin_of_practice,
    stance_of_squat,
    turned_out,
)
from service.mechanics.technique import USUAL_TECHNIQUE, Technique
from service.mechanics.tipping import refuse_balance
from service.messages import message

__all__ = [
    "USUAL_TECHNIQUE",
    "Depth",
    "Maximum",
    "Setup",
    "StanceWidth",
    "Technique",
    "at_thigh_angle",
    "limits_binding",
    "resolve_setup",
    "rule_for",
    "shin_at",
]

_DEFAULT_BALANCE = POSTURES.defaults.balance.mean
_DEFAULT_ANKLE_LIMIT = radians(POSTURES.defaults.ankle_limit.value)


def rule_for(exercise_id: str) -> ExerciseRule:
    """The posture rule of an exercise, or of an exercise with another implement, by its id.

    Raises:
        Refusal: for an exercise that the planar model does not cover
    """
    rule = POSTURE_RULES.get(exercise_id)
    if rule is None:
        raise Refusal.one(
            "exercise_id",
            message("no_posture_rule", exercise=exercise_id),
            ", ".join(sorted(EXERCISE_RULES)),
        )
    return rule


def resolve_setup(
    body: Body,
    exercise_id: str,
    load: float,
    *,
    depth: Depth | None = None,
    technique: Technique = USUAL_TECHNIQUE,
) -> Setup:
    """The setup of one lifter from an exercise's rule, a depth and a technique.

    Ranges are not checked here; service.mechanics.validation does that.

    Args:
        body: the lifter
        exercise_id: id of a posture rule, of an exercise or of one with another implement
        load: mass of the implement [kg]
        depth: requested depth; None for the exercise's own
        technique: departures from the rule

    Raises:
        Refusal: where the lifter does not reach the depth
    """
    rule = rule_for(exercise_id)
    pitch = foot_pitch(technique.heel_lift, body.foot) if technique.heel_lift else 0.0
    stance = turned_out(rule.abduction)
    feet, foot_ahead, upright, rotated = None, stance.foot_ahead, 0.0, False
    if rule.family == "squat":
        feet, rotated = feet_of(
            body,
            technique.stance,
            technique.stance_width,
            technique.toe_out,
            technique.hip_external_rotation,
            over_toes=technique.knee_over_toe,
        )
        foot_ahead, upright = cos(feet.toe_out), shin_of_practice(body, feet.width)
    departure = departing_in(exercise_id, technique.departure)
    preferred, limit, shift = _habits(body, exercise_id, rule, load, technique, departure)
    if technique.shin_angle is None:
        preferred, limit = preferred - upright, limit + pitch
    if rule.family == "pull":
        pull = pull_of(
            body,
            exercise_id,
            load,
            shin_angle=preferred,
            shin_is_stated=technique.shin_angle is not None,
            shin_limit=limit,
            ankle_y=ankle_above_floor(body, pitch),
            leg_projection=stance.thigh_ahead,
            drift=technique.bar_forward_of_midfoot,
            lean=technique.trunk_lean,
            departure=departure,
        )
        return pull_setup(exercise_id, pull, depth, limit, pitch)
    follows_depth = technique.shin_angle is None
    balance, carry = _balance(body, load, rule, technique.bar_forward_of_midfoot, foot_ahead, shift)
    if rule.family == "hinge":
        return _hinge_setup(body, exercise_id, load, balance, carry, limit, pitch, depth, technique)
    thigh_angle = depth_seen(exercise_id, depth, technique.seen)
    if rule.family == "split":
        stated = Stated(technique.trunk_lean, technique.shin_angle, technique.foot_spacing, technique.lead_share)
        lift = SplitLift(body, rule, load, carry, balance, stated, limit, pitch, departure)
        bottom = lift.bottom(depth) if thigh_angle is None else thigh_angle + departure.depth
        return _split_setup(exercise_id, lift, bottom)
    if thigh_angle is None:
        thigh_angle = rule.thigh_angle if depth is None else stated_thigh_angle(depth)
    if thigh_angle is None:
        thigh_angle = thigh_angle_at_bottom(body, depth or Depth(), Legs(preferred, follows_depth, limit, pitch))
    thigh_angle += _deeper(depth, departure)
    shape = shin_shape(thigh_angle)
    shin = preferred * shape if follows_depth else preferred
    if feet is not None:
        stance = stance_of_squat(
            body,
            feet,
            min(shin, limit),
            thigh_angle,
            technique.hip_abduction,
            stated=technique.stance_width is not None,
        )
        if rotated:
            stance = replace(stance, limited_by=(*stance.limited_by, "hip_external_rotation"))
    return Setup(
        exercise_id,
        rule.family,
        carry,
        load,
        balance,
        thigh_angle,
        shin,
        limit,
        pitch,
        stance,
        0.0,
        shape,
    )


def _habits(
    body: Body, exercise_id: str, rule: ExerciseRule, load: float, technique: Technique, departure: Departure
) -> tuple[float, float, float]:
    """The preferred shin angle and its limit without a heel lift [rad], and the balance point beyond the rule's [1]."""
    if technique.shin_angle is not None:
        return technique.shin_angle, inf, departure.balance
    habit = habit_with(body, rule, load, share_of_maximum(exercise_id, load, technique.maximum))
    limit = technique.ankle_dorsiflexion or _DEFAULT_ANKLE_LIMIT
    if technique.ankle_dorsiflexion is None and technique.seen is not None:
        limit = inf  # what was seen tells more of the ankle than what is assumed of it
    shin = rule.shin_angle.mean + habit.shin_angle + departure.shin_angle
    return shin, limit, habit.balance + departure.balance


def _deeper(depth: Depth | None, departure: Departure) -> float:
    """How much higher the thigh ends than asked for [rad]; a box ends it for everybody."""
    return departure.depth if depth is None or depth.box_height is None else 0.0


def at_thigh_angle(body: Body, setup: Setup, technique: Technique, thigh_angle: float) -> Setup:
    """The same setup with another bottom, the feet staying where they are.

    Args:
        body: the lifter
        setup: as resolved
        technique: by which it was resolved
        thigh_angle: thigh above the horizontal at the bottom [rad]

    Raises:
        Refusal: for a stated width that no thigh reaches there
    """
    if setup.lift is not None:
        return _split_setup(setup.exercise, setup.lift, thigh_angle)
    shin, stance = shin_at(setup, thigh_angle), setup.stance
    if stance.follows is not None and stance.width is not None:
        feet = Feet(stance.width, stance.toe_out, stance.toe_out if technique.knee_over_toe else 0.0)
        stated = technique.stance_width is not None
        stance = stance_of_squat(body, feet, shin, thigh_angle, technique.hip_abduction, stated=stated)
    return replace(
        setup, thigh_angle=thigh_angle, shin_angle=shin, shape_at_bottom=shin_shape(thigh_angle), stance=stance
    )


def _hinge_setup(
    body: Body,
    exercise_id: str,
    load: float,
    balance: float,
    carry: Carry,
    limit: float,
    pitch: float,
    depth: Depth | None,
    technique: Technique,
) -> Setup:
    departure = departing_in(exercise_id, technique.departure)
    shin, thigh_angle = legs_of_hinge(
        body,
        POSTURE_RULES[exercise_id],
        load,
        balance,
        carry,
        shin_angle=technique.shin_angle,
        shin_limit=limit,
        depth=depth,
        further=(departure.trunk_lean, departure.shin_angle, departure.depth),
    )
    shape = shin_shape(thigh_angle)
    return Setup(exercise_id, "hinge", carry, load, balance, thigh_angle, shin, limit, pitch, SAGITTAL, 0.0, shape)


def _split_setup(exercise_id: str, lift: SplitLift, thigh_angle: float) -> Setup:
    split = in_equilibrium(lift.at(thigh_angle))
    return Setup(
        exercise_id,
        "split",
        lift.carry,
        lift.load,
        lift.balance,
        thigh_angle,
        split.shin_angle,
        lift.shin_limit,
        lift.pitch,
        SAGITTAL,
        split.trunk_lean,
        shin_shape(thigh_angle),
        split=split,
        lift=lift,
    )


def _balance(
    body: Body, load: float, rule: ExerciseRule, drift: float, foot_ahead: float, habit: float
) -> tuple[float, Carry]:
    """The balance point of body and load along the foot as a fraction of its length [1], and where the load acts.

    The body itself keeps to its balance point. A load on a belt hangs over it, and a load that drifts forward takes the
    system's centre of mass with it by its share of the system's mass. The line of a load is where it lies ahead of the
    heel; of feet turned out foot_ahead [1] of their length does.
    """
    own = (_DEFAULT_BALANCE if rule.balance is None else rule.balance.mean) + habit
    shift = drift / (body.foot * foot_ahead)
    share = load / (body.mass + load)
    if rule.carry in ON_TRUNK:
        carry = Carry(rule.carry, rule.along, rule.anterior)
        balance = own + share * shift
    else:
        carry = Carry(rule.carry, line=(own + shift) * foot_ahead)
        balance = own + share * shift
    allowed = POSTURES.limits.balance
    if not allowed.low <= balance <= allowed.high:
        refuse_balance(balance)
    return balance, carry
