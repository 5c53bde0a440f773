"""From "this exercise, this deep, done like that" to legs that can be placed: the rules of knowledge/postures.toml.

A setup fixes everything that statics needs except the thigh angle, so that the same setup can be looked at anywhere
between standing and the bottom.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, degrees, inf, pi, radians, sin
from typing import Literal

from msgspec import Struct

from service.knowledge.mechanics_data import EXERCISE_RULES, POSTURES, ExerciseRule, Family
from service.mechanics.balance import Carry, acts_on_trunk, falling_root, thigh_angle_for_grip
from service.mechanics.body import Body
from service.mechanics.posture import Posture, foot_pitch, shin_shape, split_posture, squat_posture
from service.refusals import Refusal

Stance = Literal["narrow", "shoulder", "wide"]

_QUARTER = pi / 2
_DEFAULT_BALANCE = POSTURES.defaults.balance.value
_DEFAULT_ANKLE_LIMIT = radians(POSTURES.defaults.ankle_limit.value)
_WIDE_ABDUCTION = radians(POSTURES.defaults.abduction_wide.value)
_WIDE_SHIN_REDUCTION = radians(POSTURES.defaults.wide_shin_reduction.value)
_LOWEST_THIGH = radians(POSTURES.limits.thigh_angle.low)
_HIGHEST_THIGH = radians(POSTURES.limits.thigh_angle.high)


class Depth(Struct, frozen=True):
    """How deep: exactly one of the three.

    thigh_below_horizontal [rad]; box_height: the box under the seat, under the lead foot (step-up) or under the bar
    (block pull) [m]; knee_flexion [rad].
    """

    thigh_below_horizontal: float | None = None
    box_height: float | None = None
    knee_flexion: float | None = None


class Technique(Struct, frozen=True):
    """What is done otherwise than the exercise's usual rule.

    heel_lift: solid lift under the heels [m]; stance; shin_angle: at the bottom, instead of the preferred one [rad];
    bar_forward_of_midfoot: drift of the load ahead of its usual line [m]; trunk_lean: split stances only [rad].
    ankle_dorsiflexion, hip_flexion: the lifter's own limits [rad]; the latter is the trunk-to-thigh angle reached in a
    squat, not a clinical hip range, since pelvis and spine contribute to it.
    """

    heel_lift: float = 0.0
    stance: Stance = "shoulder"
    shin_angle: float | None = None
    bar_forward_of_midfoot: float = 0.0
    trunk_lean: float | None = None
    ankle_dorsiflexion: float | None = None
    hip_flexion: float | None = None


class Nudge(Struct, frozen=True):
    """A small departure from the rule, for sweeps: angles [rad], balance and share [1], bar place [m]."""

    shin_angle: float = 0.0
    balance: float = 0.0
    bar_anterior: float = 0.0
    abduction: float = 0.0
    trunk_lean: float = 0.0


class Setup(Struct, frozen=True):
    """One lifter's exercise with everything settled but the thigh angle.

    load [kg]; balance: of body and load, fraction of foot length from the heel [1]; thigh_angle: at the bottom [rad];
    shin_angle: preferred at the bottom [rad]; shin_limit: what ankle and heel lift allow [rad], infinite for a stated
    shin angle; shin_nudge [rad]; pitch: of the foot [rad]; thigh_projection [1]; trunk_lean: split stances [rad].
    """

    exercise: str
    family: Family
    carry: Carry
    load: float
    balance: float
    thigh_angle: float
    shin_angle: float
    shin_limit: float
    shin_nudge: float
    pitch: float
    thigh_projection: float
    trunk_lean: float


NO_NUDGE = Nudge()
USUAL_TECHNIQUE = Technique()


def rule_for(exercise_id: str) -> ExerciseRule:
    """The posture rule of an exercise; raises Refusal for one that the planar model does not cover."""
    rule = EXERCISE_RULES.get(exercise_id)
    if rule is None:
        raise Refusal.one(
            "exercise_id",
            f"The planar model has no posture rule for {exercise_id!r}.",
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
    nudge: Nudge = NO_NUDGE,
) -> Setup:
    """The setup that an exercise's rule, a depth and a technique make for one lifter.

    load [kg]; nudge: departure from the rule.
    Raises Refusal where the depth cannot be had. Values are taken as they are: check_setup looks at their ranges.
    """
    rule = rule_for(exercise_id)
    pitch = foot_pitch(technique.heel_lift, body.foot) if technique.heel_lift else 0.0
    wide = technique.stance == "wide" and rule.family == "squat"
    abduction = max(rule.abduction, _WIDE_ABDUCTION) if wide else rule.abduction
    limit = inf
    if technique.shin_angle is not None:
        preferred = technique.shin_angle
    else:
        preferred = rule.shin_angle - (_WIDE_SHIN_REDUCTION if wide else 0.0)
        limit = (technique.ankle_dorsiflexion or _DEFAULT_ANKLE_LIMIT) + pitch
    follows_depth = technique.shin_angle is None and rule.family != "hinge"
    balance, carry = _balance(body, load, rule, technique.bar_forward_of_midfoot, nudge)

    def at_bottom(thigh_angle: float) -> Setup:
        return Setup(
            exercise_id,
            rule.family,
            carry,
            load,
            balance,
            thigh_angle,
            preferred * shin_shape(thigh_angle) if follows_depth else preferred,
            limit,
            nudge.shin_angle,
            pitch,
            cos(abduction + nudge.abduction) if abduction else 1.0,
            (rule.trunk_lean if technique.trunk_lean is None else technique.trunk_lean) + nudge.trunk_lean,
        )

    return at_bottom(_bottom(body, rule, depth, at_bottom))


def posture_at(body: Body, setup: Setup, thigh_angle: float) -> Posture:
    """The posture of a setup at any thigh angle [rad] between standing and the bottom."""
    shin_angle = shin_at(setup, thigh_angle)
    limited_by = ("ankle_dorsiflexion",) if shin_angle - setup.shin_nudge >= setup.shin_limit else ()
    if setup.family == "split":
        return split_posture(
            body,
            setup.carry,
            shin_angle,
            thigh_angle,
            setup.trunk_lean,
            balance=setup.balance,
            pitch=setup.pitch,
            limited_by=limited_by,
        )
    return squat_posture(
        body,
        setup.load,
        setup.carry,
        shin_angle,
        thigh_angle,
        balance=setup.balance,
        pitch=setup.pitch,
        thigh_projection=setup.thigh_projection,
        limited_by=limited_by,
    )


def shin_at(setup: Setup, thigh_angle: float) -> float:
    """Shin angle [rad] at a thigh angle [rad] on the way to the bottom, in proportion to the usual squat's."""
    if thigh_angle == setup.thigh_angle:
        return shin_at_bottom(setup)
    part = shin_shape(thigh_angle) / shin_shape(setup.thigh_angle)
    return min(setup.shin_angle * part, setup.shin_limit) + setup.shin_nudge * part


def shin_at_bottom(setup: Setup) -> float:
    """Shin angle at the bottom [rad]: the preferred one within the limits, and the nudge."""
    return min(setup.shin_angle, setup.shin_limit) + setup.shin_nudge


def _balance(body: Body, load: float, rule: ExerciseRule, drift: float, nudge: Nudge) -> tuple[float, Carry]:
    """The system's balance point and where the load acts.

    The body itself keeps to its balance point. A load at the foot or the side has its own line, and a load that drifts
    forward takes the system's centre of mass with it by its share of the system's mass.
    """
    own = (_DEFAULT_BALANCE if rule.balance is None else rule.balance) + nudge.balance
    shift = drift / body.foot
    share = load / (body.mass + load)
    carry = Carry(rule.carry, rule.along, rule.anterior + nudge.bar_anterior)
    if acts_on_trunk(carry):
        balance = own + share * shift
    else:
        line = (own if rule.line is None else rule.line) + shift
        balance = own + share * (line - own)
        carry = Carry(rule.carry, line=line)
    allowed = POSTURES.limits.balance
    if not allowed.low <= balance <= allowed.high:
        raise Refusal.one(
            "technique/bar_forward_of_midfoot",
            f"The centre of mass of body and load would stand at {balance:.2f} of the foot and the lifter would tip.",
            f"a balance point of {allowed.allowed('of foot length from the heel')}",
        )
    return balance, carry


def _bottom(body: Body, rule: ExerciseRule, depth: Depth | None, at_bottom: Callable[[float], Setup]) -> float:
    """Thigh angle at the bottom [rad]."""
    if depth is not None and depth.thigh_below_horizontal is not None:
        return -depth.thigh_below_horizontal
    if depth is not None and depth.knee_flexion is not None:
        knee_flexion = depth.knee_flexion
        return _depth_root(
            lambda thigh: knee_flexion - (shin_at_bottom(at_bottom(thigh)) + _QUARTER - thigh),
            "depth/knee_flexion",
            "this much knee bend",
        )
    if depth is not None and depth.box_height is not None and rule.grip_height is None:
        box = depth.box_height
        target = body.ankle_height + body.shank + body.thigh - box if rule.family == "split" else box + body.seat_to_hip
        return _depth_root(
            lambda thigh: _hip_height(body, at_bottom(thigh)) - target, "depth/box_height", "a box of this height"
        )
    if rule.thigh_angle is not None:
        return rule.thigh_angle
    block = rule.block_height if depth is None or depth.box_height is None else depth.box_height
    start = at_bottom(0.0)
    return thigh_angle_for_grip(
        body,
        start.load,
        start.carry,
        shin_at_bottom(start),
        _grip_height(body, rule, block),
        balance=start.balance,
        pitch=start.pitch,
        thigh_projection=start.thigh_projection,
    )


def _grip_height(body: Body, rule: ExerciseRule, block: float) -> float:
    if rule.grip_shank_fraction is not None:
        return body.ankle_height + rule.grip_shank_fraction * body.shank
    return (rule.grip_height or 0.0) + block


def _hip_height(body: Body, setup: Setup) -> float:
    lifted = (body.ball_from_heel - body.ankle_from_heel) * sin(setup.pitch)
    shin = shin_at_bottom(setup)
    return body.ankle_height + lifted + body.shank * cos(shin) + body.thigh * sin(setup.thigh_angle)


def _depth_root(rises: Callable[[float], float], parameter: str, wanted: str) -> float:
    """The thigh angle [rad] at which a function that rises with it is nil."""
    below_horizontal = falling_root(lambda below: rises(-below), -_HIGHEST_THIGH, -_LOWEST_THIGH)
    if below_horizontal is not None:
        return -below_horizontal
    if rises(_HIGHEST_THIGH) < 0.0:
        raise Refusal.one(
            parameter, f"Even nearly upright the lifter is below {wanted}.", "a lower one, or another exercise"
        )
    raise Refusal.one(
        parameter,
        f"The model goes no deeper than {-degrees(_LOWEST_THIGH):.0f} deg below the horizontal, short of {wanted}.",
        "less depth",
    )
