"""Thigh angle at the bottom of a repetition, from a stated depth, a box or the height of a bar."""

from __future__ import annotations

from collections.abc import Callable
from math import acos, asin, cos, pi, radians, sin, sqrt

from msgspec import Struct

from service.errors import Refusal
from service.knowledge.posture_rules import POSTURES, ExerciseRule
from service.mechanics.balance import Carry, hang_below, line_of_load, supported_moments, upper_body_statics
from service.mechanics.body import Body
from service.mechanics.posture import shin_shape
from service.messages import message
from service.units import angle, length

_QUARTER = pi / 2
_LOWEST_THIGH = radians(POSTURES.limits.thigh_angle.low)
_HIGHEST_THIGH = radians(POSTURES.limits.thigh_angle.high)
_ROOT_TOLERANCE = 1e-9  # [m or rad]


class Depth(Struct, frozen=True, gc=False):
    """Depth of the bottom, stated in exactly one of three ways.

    Attributes:
        thigh_below_horizontal: thigh below the horizontal, negative above it [rad]
        box_height: box under the seat, under the lead foot (step-up) or under the bar (block pull) [m]
        knee_flexion: shank against thigh, 0 with a straight leg [rad]
    """

    thigh_below_horizontal: float | None = None
    box_height: float | None = None
    knee_flexion: float | None = None

    @property
    def stated(self) -> int:
        """In how many ways it is stated [count]; anything but one is a fault."""
        return sum(way is not None for way in (self.thigh_below_horizontal, self.box_height, self.knee_flexion))


class Legs(Struct, frozen=True, gc=False):
    """Properties of the legs that hold at any depth.

    Attributes:
        shin_angle: preferred shin angle, at a level thigh where it follows depth and at any bottom otherwise [rad]
        follows_depth: whether the shin angle follows the usual squat's as depth changes
        shin_limit: greatest shin angle that ankle and heel lift allow [rad]
        pitch: heel-up inclination of the foot [rad]
        thigh_projection: share of the thigh's horizontal extent that lies in the sagittal plane [1]
        balance: balance point of body and load from the heel, as a fraction of foot length [1]
    """

    shin_angle: float
    follows_depth: bool
    shin_limit: float
    pitch: float
    thigh_projection: float
    balance: float

    def shin(self, thigh_angle: float) -> float:
        """Shin angle at the bottom.

        Args:
            thigh_angle: thigh above the horizontal at the bottom [rad]

        Returns:
            shin from the vertical [rad]
        """
        preferred = self.shin_angle * shin_shape(thigh_angle) if self.follows_depth else self.shin_angle
        return min(preferred, self.shin_limit)


class HandHeld(Struct, frozen=True, gc=False):
    """A load in the hands, whose reach decides the depth.

    Attributes:
        load: mass of the implement [kg]
        carry: how the load is carried
    """

    load: float
    carry: Carry


def stated_thigh_angle(depth: Depth) -> float | None:
    """Thigh angle at the bottom where the depth is stated as such.

    Returns:
        thigh above the horizontal [rad]; None where it has to be solved for
    """
    return None if depth.thigh_below_horizontal is None else -depth.thigh_below_horizontal


def thigh_angle_at_bottom(body: Body, rule: ExerciseRule, depth: Depth | None, legs: Legs, held: HandHeld) -> float:
    """Thigh angle at the bottom, solved from the requested depth or else from the height of the bar.

    Args:
        body: the lifter
        rule: posture rule of the exercise
        depth: requested depth; None for the exercise's own
        legs: properties of the legs
        held: load in the hands

    Returns:
        thigh above the horizontal [rad]

    Raises:
        Refusal: for a depth that this lifter does not reach
    """
    if depth is not None and depth.knee_flexion is not None:
        knee_flexion = depth.knee_flexion
        return _depth_root(
            lambda thigh: knee_flexion - (legs.shin(thigh) + _QUARTER - thigh),
            "knee_flexion",
        )
    if depth is not None and depth.box_height is not None and rule.grip_height is None:
        box = depth.box_height
        # A step-up begins with the trailing leg straight on the floor, a box squat ends with the seat on the box.
        target = body.ankle_height + body.shank + body.thigh - box if rule.family == "split" else box + body.seat_to_hip
        return _depth_root(lambda thigh: _hip_height(body, legs, thigh) - target, "box_height")
    block = rule.block_height if depth is None or depth.box_height is None else depth.box_height
    return thigh_angle_for_grip(body, held, legs, _grip_height(body, rule, block))


def thigh_angle_for_grip(body: Body, held: HandHeld, legs: Legs, grip_height: float) -> float:
    """Thigh angle at which straight arms reach a bar in balance.

    Solved for the trunk lean, over which unlike over the thigh angle the height of the grip has no turning point: each
    lean fixes by balance how far back the hip is, hence the heights of hip and grip, and the grip falls as the lean
    grows.

    Args:
        body: the lifter
        held: load in the hands
        legs: properties of the legs, with a shin angle that does not follow depth
        grip_height: grip above the floor [m]

    Returns:
        thigh above the horizontal [rad]

    Raises:
        Refusal: when the bar cannot be reached in balance
    """
    load, carry, thigh_projection = held.load, held.carry, legs.thigh_projection
    shin_angle = legs.shin(0.0)
    balance_x = legs.balance * body.foot
    line_x = line_of_load(body, carry, balance_x)
    mass = body.mass + load
    level = supported_moments(body, mass, shin_angle, 0.0, balance_x, thigh_projection=thigh_projection)
    upright = supported_moments(body, mass, shin_angle, _QUARTER, balance_x, thigh_projection=thigh_projection)
    along = upper_body_statics(body, load, carry, balance_x).amplitude
    # balance: along sin T = at_knee + per_reach cos t, with the hip above the knee and with the thigh level
    at_knee = upright.hip - load * (line_x - upright.hip_x)
    per_reach = level.hip - load * (line_x - level.hip_x) - at_knee
    knee_y = (
        body.ankle_height
        + (body.ball_from_heel - body.ankle_from_heel) * sin(legs.pitch)
        + body.shank * cos(shin_angle)
    )
    reach = thigh_projection * body.thigh
    trunk, arm = body.trunk, body.arm

    def above_grip(lean: float) -> float:
        lean_sine = sin(lean)
        cosine = (along * lean_sine - at_knee) / per_reach
        hip_y = knee_y + body.thigh * sqrt(max(0.0, 1.0 - cosine * cosine))
        shoulder_x = upright.hip_x - reach * cosine + trunk * lean_sine
        return hip_y + trunk * cos(lean) - hang_below(arm, shoulder_x - line_x) - grip_height

    lowest, highest = at_knee / along, min(1.0, (at_knee + per_reach) / along)
    lean = falling_root(above_grip, asin(lowest), asin(highest)) if -1.0 < lowest < highest else None
    if lean is None:
        raise Refusal.one(
            "depth",
            message("arms_do_not_reach_the_bar", height=length(grip_height, "m")),
            "a bar at another height, more shin angle, or another variation",
        )
    return acos(max(-1.0, min(1.0, (along * sin(lean) - at_knee) / per_reach)))


def falling_root(function: Callable[[float], float], low: float, high: float) -> float | None:
    """Root of a function that falls from positive to negative, by false position (Illinois variant).

    Args:
        function: of a length or an angle
        low: end where it is positive [m or rad]
        high: end where it is negative [m or rad]

    Returns:
        the root [m or rad]; None where the function does not change sign between the two
    """
    at_low, at_high = function(low), function(high)
    if at_low < 0.0 or at_high > 0.0:
        return None
    if at_low == at_high:
        return low
    side = 0
    middle = low
    for _ in range(60):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        value = function(middle)
        if abs(value) < _ROOT_TOLERANCE:
            break
        if value > 0.0:
            low, at_low = middle, value
            if side == 1:
                at_high /= 2
            side = 1
        else:
            high, at_high = middle, value
            if side == -1:
                at_low /= 2
            side = -1
    return middle


def _grip_height(body: Body, rule: ExerciseRule, block: float) -> float:
    if rule.grip_shank_fraction is not None:
        return body.ankle_height + rule.grip_shank_fraction * body.shank
    return (rule.grip_height or 0.0) + block


def _hip_height(body: Body, legs: Legs, thigh_angle: float) -> float:
    lifted = (body.ball_from_heel - body.ankle_from_heel) * sin(legs.pitch)
    return body.ankle_height + lifted + body.shank * cos(legs.shin(thigh_angle)) + body.thigh * sin(thigh_angle)


def _depth_root(rises: Callable[[float], float], wanted: str) -> float:
    """Root of a function that rises with the thigh angle [rad]; wanted: how the depth is stated."""
    below_horizontal = falling_root(lambda below: rises(-below), -_HIGHEST_THIGH, -_LOWEST_THIGH)
    if below_horizontal is not None:
        return -below_horizontal
    if rises(_HIGHEST_THIGH) < 0.0:
        raise Refusal.one(
            f"depth/{wanted}",
            message("lower_than_wanted_when_upright", wanted=wanted),
            "a lower one, or another exercise",
        )
    raise Refusal.one(
        f"depth/{wanted}",
        message("model_goes_no_deeper", deepest=angle(-_LOWEST_THIGH, "deg"), wanted=wanted),
        "less depth",
    )
