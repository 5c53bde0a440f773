"""Thigh angle at the bottom of a repetition, from a stated depth or a box."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, radians, sin

from msgspec import Struct

from service.errors import Refusal
from service.knowledge.posture_rules import POSTURES
from service.mechanics.body import Body
from service.mechanics.posture import shin_shape
from service.messages import Message, message
from service.units import angle

_QUARTER = pi / 2
_LOWEST_THIGH = radians(POSTURES.limits.thigh_angle.low)
_HIGHEST_THIGH = radians(POSTURES.limits.thigh_angle.high)
_ROOT_TOLERANCE = 1e-9  # [m or rad]


class Depth(Struct, frozen=True, gc=False):
    """Depth of the bottom, stated in exactly one of four ways.

    Attributes:
        thigh_below_horizontal: thigh below the horizontal, negative above it [rad]
        box_height: box under the seat, under the lead foot (step-up) or under the bar (block pull) [m]
        knee_flexion: shank against thigh, 0 with a straight leg [rad]
        above_bottom: load above the lowest point of the full range of a press or a pull, or the lifter in lifts of the
            own body [m]
    """

    thigh_below_horizontal: float | None = None
    box_height: float | None = None
    knee_flexion: float | None = None
    above_bottom: float | None = None

    @property
    def stated(self) -> int:
        """In how many ways it is stated [count]; anything but one is a fault."""
        return sum(
            way is not None
            for way in (self.thigh_below_horizontal, self.box_height, self.knee_flexion, self.above_bottom)
        )


class Legs(Struct, frozen=True, gc=False):
    """Properties of the legs that hold at any depth.

    Attributes:
        shin_angle: preferred shin angle, at a level thigh where it follows depth and at any bottom otherwise [rad]
        follows_depth: whether the shin angle follows the usual squat's as depth changes
        shin_limit: greatest shin angle that ankle and heel lift allow [rad]
        pitch: heel-up inclination of the foot [rad]
    """

    shin_angle: float
    follows_depth: bool
    shin_limit: float
    pitch: float

    def shin(self, thigh_angle: float) -> float:
        """Shin angle at the bottom.

        Args:
            thigh_angle: thigh above the horizontal at the bottom [rad]

        Returns:
            shin from the vertical [rad]
        """
        preferred = self.shin_angle * shin_shape(thigh_angle) if self.follows_depth else self.shin_angle
        return min(preferred, self.shin_limit)


def stated_thigh_angle(depth: Depth) -> float | None:
    """Thigh angle at the bottom where the depth is stated as such.

    Returns:
        thigh above the horizontal [rad]; None where it has to be solved for
    """
    return None if depth.thigh_below_horizontal is None else -depth.thigh_below_horizontal


def thigh_angle_at_bottom(body: Body, depth: Depth, legs: Legs) -> float:
    """Thigh angle at the bottom, solved from an angle of the knee or a box.

    Args:
        body: the lifter
        depth: requested depth, not that of the thigh
        legs: properties of the legs

    Returns:
        thigh above the horizontal [rad]

    Raises:
        Refusal: for a depth that this lifter does not reach
    """
    if depth.knee_flexion is not None:
        knee_flexion = depth.knee_flexion
        return bottom_where(
            lambda thigh: knee_flexion - (legs.shin(thigh) + _QUARTER - thigh),
            "knee_flexion",
        )
    box = depth.box_height or 0.0
    target = box + body.seat_to_hip
    return bottom_where(lambda thigh: _hip_height(body, legs, thigh) - target, "box_height", falls=True)


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


def _hip_height(body: Body, legs: Legs, thigh_angle: float) -> float:
    lifted = (body.ball_from_heel - body.ankle_from_heel) * sin(legs.pitch)
    return body.ankle_height + lifted + body.shank * cos(legs.shin(thigh_angle)) + body.thigh * sin(thigh_angle)


def no_deeper(thigh_angle: float, wanted: str) -> Message:
    """That the model does not go as deep as is wanted, on whichever side of level its deepest is.

    Args:
        thigh_angle: thigh above the horizontal in its deepest posture [rad]
        wanted: what the depth was stated by
    """
    deepest = angle(abs(thigh_angle), "deg")
    if thigh_angle > 0.0:
        return message("model_stops_above_level", highest=deepest, wanted=wanted)
    return message("model_goes_no_deeper", deepest=deepest, wanted=wanted)


def bottom_where(rises: Callable[[float], float], wanted: str, *, falls: bool = False) -> float:
    """Thigh angle at which a condition of the bottom is met.

    Args:
        rises: function of the thigh angle that rises with it and is nil at the bottom
        wanted: how the depth is stated
        falls: whether the condition falls by what is stated more, and does not rise by it

    Returns:
        thigh above the horizontal [rad]

    Raises:
        Refusal: for a depth that this lifter does not reach
    """
    below_horizontal = falling_root(lambda below: rises(-below), -_HIGHEST_THIGH, -_LOWEST_THIGH)
    if below_horizontal is not None:
        return -below_horizontal
    sign = 1.0 if falls else -1.0
    if rises(_HIGHEST_THIGH) < 0.0:
        raise Refusal.one(
            f"depth/{wanted}",
            message("lower_than_wanted_when_upright", wanted=wanted),
            "a lower one, or another exercise",
            change=rises(_HIGHEST_THIGH) * sign,
        )
    raise Refusal.one(
        f"depth/{wanted}",
        no_deeper(_LOWEST_THIGH, wanted),
        "less depth",
        change=rises(_LOWEST_THIGH) * sign,
    )
