"""Where a lifter's joints are when the system's centre of mass stands over the balance point of the feet.

Sagittal plane, x forward from the heel, y up from the floor, everything at rest. Angles in radians: the shin from the
vertical (knee forward positive), the thigh above the horizontal (0 level, negative below), the trunk from the vertical
(forward positive).
"""

from __future__ import annotations

from bisect import bisect_right
from math import asin, cos, pi, radians, sin, sqrt

from msgspec import Struct

from service.knowledge.anthropometry import BODY
from service.knowledge.posture_rules import POSTURES
from service.mechanics.balance import (
    Carry,
    acts_on_trunk,
    bar_on_trunk,
    line_of_load,
)
from service.mechanics.body import Body
from service.mechanics.stance import SAGITTAL, Stance

__all__ = [
    "Carry",
    "Point",
    "Posture",
    "ankle_above_floor",
    "foot_pitch",
    "joint_positions",
    "shin_shape",
    "shin_shape_slope",
    "shin_shape_spread",
]

_QUARTER = pi / 2
_SHAPE = POSTURES.shin_shape
_SHAPE_KNOTS = tuple(-radians(angle) for angle in _SHAPE.thigh_angle)
_SHAPE_VALUES = _SHAPE.fraction
_SHAPE_SPREAD = _SHAPE.between


class Point(Struct, frozen=True, gc=False):
    """A point in the sagittal plane.

    Attributes:
        x: ahead of the heel [m]
        y: above the floor [m]
    """

    x: float
    y: float


class Posture(Struct, frozen=True, gc=False):
    """A balanced posture, its points as seen from the side.

    Legs that are turned out keep the angles that they have in the vertical planes of shank and thigh; with shank and
    thigh in two different ones the knee is bent a degree or two less than knee_flexion says.

    Attributes:
        shin_angle: shin from the vertical, knee forward positive [rad]
        thigh_angle: thigh above the horizontal [rad]
        trunk_lean: trunk from the vertical, forward positive [rad]
        knee_flexion: shank against thigh, 0 with a straight leg [rad]
        hip_flexion: trunk against thigh, which is not the hip joint's own flexion, 0 in standing [rad]
        ankle_dorsiflexion: shin against foot [rad]
        ankle: ankle joint
        knee: knee joint
        hip: hip joint
        lumbosacral: lumbosacral joint
        shoulder: shoulder joint where the trunk ends
        arms_from: where the arms begin, below the shoulder joint where girdle and upper back let it down
        load_point: where the load's weight acts
        balance_point: balance point ahead of the heel [m]
        limited_by: limits that kept the lifter from the preferred posture
    """

    shin_angle: float
    thigh_angle: float
    trunk_lean: float
    knee_flexion: float
    hip_flexion: float
    ankle_dorsiflexion: float
    ankle: Point
    knee: Point
    hip: Point
    lumbosacral: Point
    shoulder: Point
    arms_from: Point
    load_point: Point
    balance_point: float
    limited_by: tuple[str, ...] = ()


def foot_pitch(heel_lift: float, foot: float) -> float:
    """Heel-up inclination of a foot on a solid heel lift.

    Args:
        heel_lift: height under the heel [m]
        foot: heel to toe [m]

    Returns:
        inclination of the foot [rad]
    """
    return asin(heel_lift / (BODY.foot.ball_from_heel.value * foot))


def ankle_above_floor(body: Body, pitch: float) -> float:
    """Height of the ankle on a foot tipped about its ball.

    Args:
        body: the lifter
        pitch: heel-up inclination of the foot [rad]

    Returns:
        ankle joint above the floor [m]
    """
    return body.ankle_height + (body.ball_from_heel - body.ankle_from_heel) * sin(pitch)


def shin_shape(thigh_angle: float) -> float:
    """Shin angle of the usual squat as a fraction of its value at a level thigh.

    Piecewise linear through the points of postures.toml.

    Args:
        thigh_angle: thigh above the horizontal [rad]

    Returns:
        fraction of the shin angle [1]
    """
    return _through(_SHAPE_VALUES, thigh_angle)


def shin_shape_spread(thigh_angle: float) -> float:
    """Standard deviation of shin_shape between lifters.

    Args:
        thigh_angle: thigh above the horizontal [rad]

    Returns:
        of the fraction [1]
    """
    return _through(_SHAPE_SPREAD, thigh_angle)


def _through(values: tuple[float, ...], thigh_angle: float) -> float:
    """Values at the knots of the shape, piecewise linear between them."""
    right = bisect_right(_SHAPE_KNOTS, -thigh_angle)
    if right == 0:
        return 0.0
    if right == len(_SHAPE_KNOTS):
        return values[-1]
    before = _SHAPE_KNOTS[right - 1]
    part = (-thigh_angle - before) / (_SHAPE_KNOTS[right] - before)
    return values[right - 1] + part * (values[right] - values[right - 1])


def shin_shape_slope(thigh_angle: float) -> float:
    """Derivative of shin_shape.

    Args:
        thigh_angle: thigh above the horizontal [rad]

    Returns:
        change of the fraction with the thigh angle [1/rad]
    """
    right = bisect_right(_SHAPE_KNOTS, -thigh_angle)
    if right in (0, len(_SHAPE_KNOTS)):
        return 0.0
    return (_SHAPE_VALUES[right - 1] - _SHAPE_VALUES[right]) / (_SHAPE_KNOTS[right] - _SHAPE_KNOTS[right - 1])


def joint_positions(
    body: Body,
    carry: Carry,
    shin_angle: float,
    thigh_angle: float,
    trunk_lean: float,
    *,
    hip_x: float,
    balance_x: float,
    pitch: float,
    limited_by: tuple[str, ...],
    stance: Stance = SAGITTAL,
) -> Posture:
    """The posture, seen from the side, of a lifter whose shin, thigh and trunk are at known angles.

    Args:
        body: the lifter
        carry: how the load is carried
        shin_angle: shin from the vertical [rad]
        thigh_angle: thigh above the horizontal [rad]
        trunk_lean: trunk from the vertical [rad]
        hip_x: hip ahead of the heel [m]
        balance_x: balance point ahead of the heel [m]
        pitch: heel-up inclination of the foot [rad]
        limited_by: limits that kept the lifter from the preferred posture
        stance: how far the legs are turned out of the sagittal plane
    """
    line_x = line_of_load(body, carry, balance_x)
    ankle_x = stance.foot_ahead * body.ankle_from_heel
    knee_x = ankle_x + stance.shank_ahead * body.shank * sin(shin_angle)
    ankle_y = ankle_above_floor(body, pitch)
    knee_y = ankle_y + body.shank * cos(shin_angle)
    hip_y = knee_y + body.thigh * sin(thigh_angle)
    trunk_sin, trunk_cos = sin(trunk_lean), cos(trunk_lean)
    joint = body.lumbosacral_level * body.trunk
    shoulder_x, shoulder_y = hip_x + body.trunk * trunk_sin, hip_y + body.trunk * trunk_cos
    if acts_on_trunk(carry):
        along, anterior = bar_on_trunk(body, carry)
        load_point = Point(
            hip_x + along * trunk_sin + anterior * trunk_cos, hip_y + along * trunk_cos - anterior * trunk_sin
        )
    elif carry.kind == "pelvis":
        load_point = Point(line_x, hip_y)
    else:
        load_point = Point(line_x, shoulder_y - carry.lowered - sqrt(body.arm**2 - carry.ahead**2))
    return Posture(
        shin_angle,
        thigh_angle,
        trunk_lean,
        shin_angle + _QUARTER - thigh_angle,
        trunk_lean + _QUARTER - thigh_angle,
        shin_angle - pitch,
        Point(ankle_x, ankle_y),
        Point(knee_x, knee_y),
        Point(hip_x, hip_y),
        Point(hip_x + joint * trunk_sin, hip_y + joint * trunk_cos),
        Point(shoulder_x, shoulder_y),
        Point(shoulder_x, shoulder_y - carry.lowered),
        load_point,
        balance_x,
        limited_by,
    )
