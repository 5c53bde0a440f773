"""How far the feet stand apart and point outward, and how far that turns shank and thigh out of the sagittal plane.

One leg is described and the other mirrors it. Azimuths are angles about the vertical from straight ahead, outward
positive, in radians. With the feet a width W apart, hip joints w apart and the shank over the foot, the thigh's azimuth
a follows from where the hip has to be: sin a = (W - w + 2 Ls sin s sin b) / (2 Lt cos t), b the shank's azimuth.

Where the hip does not turn so far, the thigh stops at its limit and the knee stays further in than the toes: then the
shank's azimuth follows from the width. Without a stated limit that is our own figure, which refuses nothing.

Azimuths are taken at the bottom and kept on the way up. A shank tilts in the vertical plane of its azimuth alone; near
standing, where real shanks lean outward as well, the equation would turn the thigh too far, so it is applied at no
steeper thigh than postures.toml says.
"""

from __future__ import annotations

from math import asin, cos, degrees, radians, sin
from typing import Literal

from msgspec import Struct

from service.errors import Refusal, into
from service.knowledge.posture_rules import POSTURES
from service.mechanics.body import Body
from service.messages import message

StanceWidth = Literal["narrow", "shoulder", "wide"]

_STANCE = POSTURES.stance
_SHOULDER, _WIDE = _STANCE.shoulder_width.value, _STANCE.wide_width.value
_TOES_NARROW, _TOES_SHOULDER = radians(_STANCE.narrow_toe_out.value), radians(_STANCE.shoulder_toe_out.value)
_TOES_WIDE = radians(_STANCE.wide_toe_out.value)
_TOES_FURTHEST = radians(_STANCE.furthest_toe_out.value)
_TOES_PER_WIDTH = (_TOES_WIDE - _TOES_SHOULDER) / (_WIDE - _SHOULDER)
_WIDE_FROM = _STANCE.wide_from.value
_UPRIGHT_FROM = _STANCE.shin_upright_from.value
_UPRIGHT_PER_WIDTH = radians(_STANCE.shin_upright_per_width.value)
STEEPEST = radians(_STANCE.steepest_thigh.value)
"""Thigh above the horizontal beyond which its azimuth does not follow the width [rad]."""
_LEAST_AZIMUTH = radians(POSTURES.limits.thigh_azimuth.low)
_LARGEST_AZIMUTH = radians(POSTURES.limits.thigh_azimuth.high)
_LEAST_SINE, _LARGEST_SINE = sin(_LEAST_AZIMUTH), sin(_LARGEST_AZIMUTH)
_USUAL_LIMIT = radians(_STANCE.usual_azimuth_limit.value)
_TOLERANCE = 1e-9  # [rad or m]


class Feet(Struct, frozen=True, gc=False):
    """Where the feet stand.

    Attributes:
        width: from the middle of one ankle to that of the other [m]
        toe_out: feet from straight ahead [rad]
        shank: azimuth of the shanks [rad]
    """

    width: float
    toe_out: float
    shank: float


class Stance(Struct, frozen=True, gc=False):
    """How far foot, shank and thigh of either leg are turned out, with what of each lies ahead and aside.

    Attributes:
        width: from the middle of one ankle to that of the other [m]; None where none is modelled
        toe_out: foot from straight ahead [rad]
        shank: azimuth of the shank [rad]
        thigh: azimuth of the thigh [rad]
        follows: which segment's azimuth follows from the width; None where none does
        limited_by: stated limits that kept the legs from where they would be
        foot_ahead: cosine of toe_out [1]
        foot_aside: sine of toe_out [1]
        shank_ahead: cosine of the shank's azimuth [1]
        shank_aside: sine of the shank's azimuth [1]
        thigh_ahead: cosine of the thigh's azimuth [1]
        thigh_aside: sine of the thigh's azimuth [1]
    """

    width: float | None
    toe_out: float
    shank: float
    thigh: float
    follows: Literal["thigh", "shank"] | None
    limited_by: tuple[str, ...]
    foot_ahead: float
    foot_aside: float
    shank_ahead: float
    shank_aside: float
    thigh_ahead: float
    thigh_aside: float


def stance_at(
    width: float | None,
    toe_out: float,
    shank: float,
    thigh: float,
    *,
    follows: Literal["thigh", "shank"] | None = None,
    limited_by: tuple[str, ...] = (),
) -> Stance:
    """A stance of known azimuths.

    Args:
        width: from ankle to ankle [m]; None where none is modelled
        toe_out: foot from straight ahead [rad]
        shank: azimuth of the shank [rad]
        thigh: azimuth of the thigh [rad]
        follows: which segment's azimuth follows from the width
        limited_by: stated limits that kept the legs from where they would be
    """
    return Stance(
        width,
        toe_out,
        shank,
        thigh,
        follows,
        limited_by,
        cos(toe_out),
        sin(toe_out),
        cos(shank),
        sin(shank),
        cos(thigh),
        sin(thigh),
    )


SAGITTAL = stance_at(None, 0.0, 0.0, 0.0)
"""Legs in the sagittal plane."""


def turned_out(azimuth: float, width: float | None = None) -> Stance:
    """A stance whose feet, shanks and thighs are all turned out by one angle, whatever the width.

    Args:
        azimuth: from straight ahead [rad]
        width: from ankle to ankle, which enters nothing [m]; None where none is known
    """
    return stance_at(width, azimuth, azimuth, azimuth) if azimuth else SAGITTAL


def is_wide(body: Body, stance: Stance) -> bool:
    """Whether a stance is one that is called wide.

    Args:
        body: the lifter
        stance: of a squat
    """
    return stance.width is not None and stance.width > _WIDE_FROM * body.shoulder_breadth


def feet_of(
    body: Body,
    word: StanceWidth,
    width: float | None,
    toe_out: float | None,
    rotation_limit: float | None,
    *,
    over_toes: bool,
) -> tuple[Feet, bool]:
    """Where the feet stand in a squat, and whether a stated limit of the hip's rotation keeps the toes further in.

    Args:
        body: the lifter
        word: narrow (hip breadth), shoulder or wide (multiples of the breadth between the acromia)
        width: from ankle to ankle, instead of the word's [m]
        toe_out: instead of what goes with the width [rad]
        rotation_limit: furthest toe-out that the hips allow [rad]; None where not stated
        over_toes: whether the knees go over the toes; otherwise straight ahead

    Raises:
        Refusal: for a stated toe-out beyond a stated limit
    """
    if width is None:
        width = (
            body.hip_breadth if word == "narrow" else body.shoulder_breadth * (_WIDE if word == "wide" else _SHOULDER)
        )
    usual = toe_out is None
    if toe_out is None:
        by_width = _TOES_SHOULDER + _TOES_PER_WIDTH * (width / body.shoulder_breadth - _SHOULDER)
        toe_out = min(max(by_width, _TOES_NARROW), _TOES_FURTHEST)
    limited = rotation_limit is not None and toe_out > rotation_limit + _TOLERANCE
    if limited and rotation_limit is not None:
        if not usual:
            raise Refusal.one(
                "technique/toe_out",
                message("beyond_hip_rotation"),
                f"at most {degrees(rotation_limit):.0f} deg, as hip_external_rotation says",
                change=into(toe_out, high=rotation_limit),
            )
        toe_out = rotation_limit
    return Feet(width, toe_out, toe_out if over_toes else 0.0), limited


def shin_of_practice(body: Body, width: float | None) -> float:
    """By how much more upright than usual the shin is in a wide stance, as people squat [rad].

    Args:
        body: the lifter
        width: from ankle to ankle [m]; None where none is modelled

    Source: escamilla_2001b, interpolated.
    """
    if width is None:
        return 0.0
    beyond = width / body.shoulder_breadth - _UPRIGHT_FROM
    return _UPRIGHT_PER_WIDTH * beyond if beyond > 0.0 else 0.0


def stance_of_squat(
    body: Body, feet: Feet, shin_angle: float, thigh_angle: float, limit: float | None, *, stated: bool
) -> Stance:
    """The stance at the bottom of a squat with the feet where they stand.

    Args:
        body: the lifter
        feet: where they stand
        shin_angle: at the bottom [rad]
        thigh_angle: above the horizontal at the bottom [rad]
        limit: furthest azimuth of the thigh that the lifter states [rad]; None where not stated
        stated: whether the width was asked for, so that it is refused and not narrowed where it cannot be had

    Raises:
        Refusal: for a stated width that no thigh reaches, or that a stated limit forbids
    """
    reach = body.thigh * cos(min(thigh_angle, STEEPEST))
    knee_reach = body.shank * sin(shin_angle)
    foot_aside = (feet.width - body.hip_centres) / 2
    width, toes, turned = feet.width, feet.toe_out, (foot_aside + knee_reach * sin(feet.shank)) / reach
    furthest = _USUAL_LIMIT if limit is None else limit
    limited_by = () if limit is None else ("hip_abduction",)
    if _LEAST_SINE <= turned <= sin(furthest):
        return stance_at(width, toes, feet.shank, asin(turned), follows="thigh")
    knee_aside = reach * sin(furthest) - foot_aside
    if turned > 0.0 and knee_aside >= 0.0:
        return stance_at(width, toes, asin(knee_aside / knee_reach), furthest, follows="shank", limited_by=limited_by)
    straight = foot_aside / reach
    if turned > 0.0 and limit is None and straight <= _LARGEST_SINE:
        return stance_at(width, toes, 0.0, asin(straight), follows="thigh")
    nearest = _LEAST_AZIMUTH if turned < 0.0 else furthest if limit is not None else _LARGEST_AZIMUTH
    shank = feet.shank if turned < 0.0 else 0.0
    width = body.hip_centres + 2.0 * (reach * sin(nearest) - knee_reach * sin(shank))
    if stated:
        code = "stance_not_reachable" if limit is None or turned < 0.0 else "beyond_hip_abduction"
        allowed = f"at {'least' if turned < 0.0 else 'most'} {width:.2f} m at this depth and shin angle"
        raise Refusal.one("technique/stance_width", message(code), allowed, change=width - feet.width)
    return stance_at(width, toes, shank, nearest, limited_by=limited_by)
