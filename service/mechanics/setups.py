"""From "this exercise, this deep, done like that" to legs that can be placed: the posture rules of knowledge/postures.toml.

A setup fixes everything that statics needs except the thigh angle, so that the same setup can be looked at anywhere
between standing and the bottom.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, degrees, inf, pi, radians, sin
from typing import Literal

from msgspec import Struct

from service.knowledge.mechanics_data import EXERCISE_RULES, POSTURES, ExerciseRule, Family, SourcedRange
from service.mechanics.body import Body
from service.mechanics.posture import Carry, Posture, foot_pitch, shin_shape, split_posture, squat_posture
from service.refusals import Refusal

Stance = Literal["narrow", "shoulder", "wide"]

_QUARTER = pi / 2
_TYPICAL_START = radians(55.0)  # where the search for a hinge's start position begins
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
            "exercise_id", f"The planar model has no posture rule for {exercise_id!r}.", ", ".join(sorted(EXERCISE_RULES))
        )
    return rule


def resolve_setup(
    body: Body,
    exercise_id: str,
    load: float,
    depth: Depth | None = None,
    technique: Technique = USUAL_TECHNIQUE,
    nudge: Nudge = NO_NUDGE,
    near: float | None = None,
) -> Setup:
    """The setup that an exercise's rule, a depth and a technique make for one lifter.

    load [kg]; near: a thigh angle [rad] close to the bottom position, where the search for it may begin.
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

    return at_bottom(_bottom(body, rule, depth, at_bottom, near))


def posture_at(body: Body, setup: Setup, thigh_angle: float) -> Posture:
    """The posture of a setup at any thigh angle [rad] between standing and the bottom."""
    if thigh_angle == setup.thigh_angle:
        shin_angle, limited = shin_at_bottom(setup), setup.shin_angle > setup.shin_limit
    else:
        part = shin_shape(thigh_angle) / shin_shape(setup.thigh_angle)
        limited = setup.shin_angle * part > setup.shin_limit
        shin_angle = min(setup.shin_angle * part, setup.shin_limit) + setup.shin_nudge * part
    limited_by = ("ankle_dorsiflexion",) if limited else ()
    if setup.family == "split":
        return split_posture(
            body, setup.carry, shin_angle, thigh_angle, setup.trunk_lean, setup.balance, setup.pitch, limited_by
        )
    return squat_posture(
        body,
        setup.load,
        setup.carry,
        shin_angle,
        thigh_angle,
        setup.balance,
        setup.pitch,
        setup.thigh_projection,
        limited_by,
    )


def shin_at_bottom(setup: Setup) -> float:
    """Shin angle at the bottom [rad]: the preferred one within the limits, and the nudge."""
    return min(setup.shin_angle, setup.shin_limit) + setup.shin_nudge


def check_setup(body: Body, exercise_id: str, load: float, depth: Depth | None, technique: Technique) -> None:
    """Refuse what lies outside the ranges of knowledge/postures.toml, or contradicts itself."""
    rule = rule_for(exercise_id)
    limits = POSTURES.limits
    _within("load", load / body.mass, limits.load_ratio, "times body mass")
    _within("technique/heel_lift", technique.heel_lift, limits.heel_lift, "m")
    _within(
        "technique/bar_forward_of_midfoot", technique.bar_forward_of_midfoot, limits.bar_forward_of_midfoot, "m"
    )
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
            "technique/trunk_lean", "On both feet the trunk lean follows from balance and cannot be chosen.", "split stances"
        )
    if technique.shin_angle is not None and technique.ankle_dorsiflexion is not None:
        available = technique.ankle_dorsiflexion + foot_pitch(technique.heel_lift, body.foot)
        if technique.shin_angle > available + 1e-9:
            raise Refusal.one(
                "technique/shin_angle",
                f"A shin angle of {degrees(technique.shin_angle):.0f} deg asks for more than the lifter's ankle and the "
                "heel lift allow.",
                f"at most {degrees(available):.1f} deg, or a higher heel lift",
            )
    if depth is not None:
        _check_depth(rule, depth)


def _check_depth(rule: ExerciseRule, depth: Depth) -> None:
    given = [depth.thigh_below_horizontal, depth.box_height, depth.knee_flexion]
    if sum(value is not None for value in given) != 1:
        raise Refusal.one("depth", "A depth is given in exactly one way.", "thigh_below_horizontal, box_height or knee_flexion")
    if depth.thigh_below_horizontal is not None:
        thigh = POSTURES.limits.thigh_angle
        if not thigh.low <= -degrees(depth.thigh_below_horizontal) <= thigh.high:
            raise Refusal.one(
                "depth/thigh_below_horizontal",
                "The model covers no such thigh angle.",
                f"{-thigh.high:g} to {-thigh.low:g} deg (negative while the thigh slopes up to the hip)",
            )
    if depth.box_height is not None:
        if rule.family != "squat" and not rule.accepts_box:
            raise Refusal.one(
                "depth/box_height", "No box belongs to this exercise.", "squats, step-ups and block pulls take a box"
            )
        _within("depth/box_height", depth.box_height, POSTURES.limits.box_height, "m")


def _within(parameter: str, value: float, allowed: SourcedRange, unit: str) -> None:
    if not allowed.low - 1e-9 <= value <= allowed.high + 1e-9:
        raise Refusal.one(parameter, f"{value:g} {unit} is outside what the model supports.", allowed.allowed(unit))


def _balance(body: Body, load: float, rule: ExerciseRule, drift: float, nudge: Nudge) -> tuple[float, Carry]:
    """The system's balance point and where the load acts.

    The body itself keeps to its balance point. A load at the foot or the side has its own line, and a load that drifts
    forward takes the system's centre of mass with it by its share of the system's mass.
    """
    own = (_DEFAULT_BALANCE if rule.balance is None else rule.balance) + nudge.balance
    shift = drift / body.foot
    share = load / (body.mass + load)
    if rule.carry == "trunk" or rule.carry == "hands_at_shoulder":
        balance = own + share * shift
        carry = Carry(rule.carry, rule.along, rule.anterior + nudge.bar_anterior)
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


def _bottom(
    body: Body, rule: ExerciseRule, depth: Depth | None, at_bottom: Callable[[float], Setup], near: float | None
) -> float:
    """Thigh angle at the bottom [rad]."""
    if depth is not None and depth.thigh_below_horizontal is not None:
        return -depth.thigh_below_horizontal
    if depth is not None and depth.knee_flexion is not None:
        knee_flexion = depth.knee_flexion
        return _root(
            lambda thigh: knee_flexion - (shin_at_bottom(at_bottom(thigh)) + _QUARTER - thigh),
            near,
            "depth/knee_flexion",
            "this much knee bend",
        )
    if depth is not None and depth.box_height is not None and rule.grip_height is None:
        box = depth.box_height
        target = body.ankle_height + body.shank + body.thigh - box if rule.family == "split" else box + body.seat_to_hip
        return _root(
            lambda thigh: _hip_height(body, at_bottom(thigh)) - target, near, "depth/box_height", "a box of this height"
        )
    if rule.thigh_angle is not None:
        return rule.thigh_angle
    block = rule.block_height if depth is None or depth.box_height is None else depth.box_height
    grip = _grip_height(body, rule, block)
    return _root(
        lambda thigh: posture_at(body, at_bottom(thigh), thigh).load_point.y - grip,
        _TYPICAL_START if near is None else near,
        "depth",
        f"the bar at {grip:.2f} m",
    )


def _grip_height(body: Body, rule: ExerciseRule, block: float) -> float:
    if rule.grip_shank_fraction is not None:
        return body.ankle_height + rule.grip_shank_fraction * body.shank
    return (rule.grip_height or 0.0) + block


def _hip_height(body: Body, setup: Setup) -> float:
    lifted = (body.ball_from_heel - body.ankle_from_heel) * sin(setup.pitch)
    shin = shin_at_bottom(setup)
    return body.ankle_height + lifted + body.shank * cos(shin) + body.thigh * sin(setup.thigh_angle)


def _root(rises: Callable[[float], float], near: float | None, parameter: str, wanted: str) -> float:
    """The thigh angle [rad] at which a function that rises with it is nil: secant steps, else halving.

    A posture that cannot be balanced is one with the thigh too low, and counts as below nil.
    """
    if near is not None:
        found = _secant(rises, near)
        if found is not None:
            return found
    low, high = _LOWEST_THIGH, _HIGHEST_THIGH
    if _or_below(rises, high) < 0.0:
        raise Refusal.one(parameter, f"Even nearly upright the lifter is below {wanted}.", "a lower one, or another exercise")
    if _or_below(rises, low) > 0.0:
        raise Refusal.one(parameter, f"The model goes no deeper than its lowest thigh angle, short of {wanted}.", "less depth")
    for _ in range(48):
        middle = (low + high) / 2
        if _or_below(rises, middle) < 0.0:
            low = middle
        else:
            high = middle
    if abs(rises(high)) > 1e-6:
        raise Refusal.one(
            parameter,
            f"No balanced posture of this lifter reaches {wanted}: the hip would be too far behind the foot.",
            "less depth or a higher start, more shin angle, or another variation",
        )
    return high


def _secant(rises: Callable[[float], float], near: float) -> float | None:
    try:
        before, value_before = near, rises(near)
        here = near + 0.02
        for _ in range(8):
            value = rises(here)
            if abs(value) < 1e-10:
                return here if _LOWEST_THIGH <= here <= _HIGHEST_THIGH else None
            slope = (value - value_before) / (here - before)
            if slope <= 0.0:
                return None
            before, value_before, here = here, value, here - value / slope
    except Refusal:
        return None
    return None


def _or_below(rises: Callable[[float], float], thigh_angle: float) -> float:
    try:
        return rises(thigh_angle)
    except Refusal:
        return -inf
