"""A load pulled in straight hanging arms: the posture closes between the feet and the hands, and balance follows.

The bar stands before the shin, or at a line of its own, at the height of the grip. The arms are links from the
shoulder, which girdle and upper back let down, to the hands, and the shoulder is a known distance ahead of the bar.
Thigh and trunk then close the gap between knee and shoulder in one way, the hip behind; where body and load stand over
the foot is a result. On the way up the bar keeps to its line over the foot and the shin gives way to it; the shoulder
stays ahead until the bar passes the knee and comes back to stand over the ankle when hips and knees are straight.

x forward from the heel, y up from the floor; angles as in service.mechanics.posture.
"""

from __future__ import annotations

from math import acos, atan2, cos, hypot, inf, pi, radians, sin, sqrt

from msgspec import Struct

from service.knowledge.posture_rules import POSTURES
from service.mechanics.body import Body
from service.mechanics.depth import falling_root

_QUARTER = pi / 2
_SHIN_STEPS = 8  # of a shin that follows the bar: what is left is less than 1e-9 rad, the shin moving the grip little
_LOWEST_THIGH = radians(POSTURES.limits.thigh_angle.low)


class Pull(Struct, frozen=True, gc=False):
    """What a lifter brings to a pull.

    Attributes:
        body: the lifter
        load: mass of the implement [kg]
        ankle_y: ankle above the floor [m]
        shin_angle: shin from the vertical at the usual height of the grip, or where it is stated [rad]
        shin_is_stated: whether the shin angle holds whatever the height of the grip
        leg_projection: share of what foot, shank and thigh extend along the floor that lies in the sagittal plane [1]
        usual_height: grip above the floor where shin angle and shoulder are as the rule says [m]
        line_x: plumb line of the load ahead of the heel; None where it is held before the shin [m]
        drift: load ahead of its usual line, the shoulder staying where it is [m]
        ahead: shoulder ahead of the usual line of the load at the usual height [m]
        lowered: how far girdle and upper back let the shoulder down [m]
        shin_to_bar: axis of the shank to the middle of the bar, across the shank [m]
        lean: trunk from the vertical where it is stated; the shoulder is then where it has to be [rad]
        higher: how much higher than usual this lifter's pull turns where nothing ends it [m]
    """

    body: Body
    load: float
    ankle_y: float
    shin_angle: float
    shin_is_stated: bool
    leg_projection: float
    usual_height: float
    line_x: float | None
    drift: float
    ahead: float
    lowered: float
    shin_to_bar: float
    lean: float | None = None
    higher: float = 0.0


class PullPosture(Struct, frozen=True, gc=False):
    """A pull closed at one height of the grip.

    Attributes:
        grip_height: grip above the floor [m]
        shin_angle: shin from the vertical [rad]
        thigh_angle: thigh above the horizontal [rad]
        trunk_lean: trunk from the vertical [rad]
        load_x: load ahead of the heel [m]
        ahead: shoulder ahead of the load [m]
        balance_x: centre of mass of body and load ahead of the heel [m]
        gap: what thigh, trunk and arms are too short for, nil where they close the posture [m]
        leans_further: whether the shoulder is further ahead than usual, for the lifter would tip backward
    """

    grip_height: float
    shin_angle: float
    thigh_angle: float
    trunk_lean: float
    load_x: float
    ahead: float
    balance_x: float
    gap: float
    leans_further: bool = False


def load_line(pull: Pull, grip_height: float) -> float:
    """Plumb line of the load, where it has not drifted.

    A shin angle of the rule belongs to the usual height of the grip and fixes the line for all others; one that is
    stated belongs to the grip as it is.

    Args:
        pull: the lifter's
        grip_height: grip above the floor [m]

    Returns:
        ahead of the heel [m]
    """
    if pull.line_x is not None:
        return pull.line_x
    height = grip_height if pull.shin_is_stated else pull.usual_height
    shin, along_shank = pull.shin_angle, min(height - pull.ankle_y, pull.body.shank)
    ankle_x, along = pull.leg_projection * pull.body.ankle_from_heel, pull.leg_projection * sin(shin)
    return ankle_x + (along_shank * along + pull.shin_to_bar) / cos(shin)


def closed(pull: Pull, grip_height: float) -> PullPosture:
    """The posture at one height of the grip, as it closes there and whether or not it balances.

    Args:
        pull: the lifter's
        grip_height: grip above the floor [m]
    """
    if pull.lean is not None:
        return at_stated_lean(pull, grip_height, pull.lean)
    body, line_x = pull.body, load_line(pull, grip_height)
    ankle_x, load_x = pull.leg_projection * body.ankle_from_heel, line_x + pull.drift
    shin = _shin(pull, grip_height, line_x)
    shoulder_x = line_x + pull.ahead
    if (past_knee := grip_height - pull.ankle_y - body.shank) > 0.0:
        back = past_knee / (standing_height(pull) - pull.ankle_y - body.shank)
        shoulder_x -= back * (shoulder_x - ankle_x)
    ahead = shoulder_x - load_x
    shoulder_y = grip_height + _hang(body.arm, ahead) + pull.lowered
    knee_x, knee_y = _knee_x(pull, shin), pull.ankle_y + body.shank * cos(shin)
    across, upward = shoulder_x - knee_x, shoulder_y - knee_y
    thigh_angle, gap = _thigh(pull, across, upward)
    hip_x = knee_x - pull.leg_projection * body.thigh * cos(thigh_angle)
    lean = atan2(shoulder_x - hip_x, shoulder_y - knee_y - body.thigh * sin(thigh_angle))
    ahead = hip_x + body.trunk * sin(lean) - load_x  # to the last digit, where a root was found to fewer
    balance_x = _balance(pull, shin, hip_x, lean, load_x, ahead)
    return PullPosture(grip_height, shin, thigh_angle, lean, load_x, ahead, balance_x, gap)


def at_stated_lean(pull: Pull, grip_height: float, lean: float) -> PullPosture:
    """The posture whose trunk leans as stated: the hip goes up or down until straight arms take the hands there.

    Args:
        pull: the lifter's
        grip_height: grip above the floor [m]
        lean: trunk from the vertical [rad]
    """
    body, line_x = pull.body, load_line(pull, grip_height)
    load_x = line_x + pull.drift
    shin = _shin(pull, grip_height, line_x)
    knee_x, knee_y = _knee_x(pull, shin), pull.ankle_y + body.shank * cos(shin)
    thigh, projected = body.thigh, pull.leg_projection * body.thigh
    across, upward = (
        body.trunk * sin(lean) + knee_x - load_x,
        body.trunk * cos(lean) + knee_y - grip_height - pull.lowered,
    )

    def hands_too_high(below: float) -> float:
        return upward - thigh * sin(below) - _hang(body.arm, across - projected * cos(below))

    below = falling_root(hands_too_high, -_QUARTER, -_LOWEST_THIGH)
    gap = 0.0 if below is not None else inf
    thigh_angle = _QUARTER if below is None else -below
    hip_x = knee_x - projected * cos(thigh_angle)
    ahead = hip_x + body.trunk * sin(lean) - load_x
    if abs(ahead) > body.arm:
        gap = inf
    balance_x = _balance(pull, shin, hip_x, lean, load_x, ahead)
    return PullPosture(grip_height, shin, thigh_angle, lean, load_x, ahead, balance_x, gap)


def grip_of_thigh(pull: Pull, thigh_angle: float, lean: float) -> float:
    """Height of the grip in straight arms where thigh and trunk are at known angles.

    Args:
        pull: the lifter's
        thigh_angle: thigh above the horizontal [rad]
        lean: trunk from the vertical [rad]

    Returns:
        grip above the floor [m]
    """
    body = pull.body
    hip_above_knee, hip_behind = body.thigh * sin(thigh_angle), pull.leg_projection * body.thigh * cos(thigh_angle)
    grip_height, shin = pull.usual_height, pull.shin_angle
    for _ in range(_SHIN_STEPS):
        line_x = load_line(pull, grip_height)
        ahead = _knee_x(pull, shin) - hip_behind + body.trunk * sin(lean) - line_x - pull.drift
        hip_y = pull.ankle_y + body.shank * cos(shin) + hip_above_knee
        grip_height = hip_y + body.trunk * cos(lean) - pull.lowered - _hang(body.arm, ahead)
        shin = _shin(pull, grip_height, load_line(pull, grip_height))
    return grip_height


def _thigh(pull: Pull, across: float, upward: float) -> tuple[float, float]:
    """The thigh angle that takes the trunk to a shoulder [m] from the knee, the hip behind; and what is missing [m]."""
    thigh, trunk = pull.body.thigh, pull.body.trunk
    apart = hypot(across, upward)
    gap = max(0.0, apart - thigh - trunk, abs(thigh - trunk) - apart)
    if pull.leg_projection == 1.0:
        cosine = (thigh * thigh + apart * apart - trunk * trunk) / (2.0 * thigh * apart)
        return _QUARTER - acos(max(-1.0, min(1.0, cosine))) + atan2(across, upward), gap
    projected = pull.leg_projection * thigh

    def too_far(angle: float) -> float:
        return hypot(across + projected * cos(angle), upward - thigh * sin(angle)) - trunk

    root = falling_root(too_far, _LOWEST_THIGH, _QUARTER)
    if root is not None:
        return root, 0.0
    return (_QUARTER, too_far(_QUARTER)) if too_far(_QUARTER) > 0.0 else (_LOWEST_THIGH, -too_far(_LOWEST_THIGH))


def _shin(pull: Pull, grip_height: float, line_x: float) -> float:
    """The shin angle [rad]: as stated, touching a bar before it, or less in proportion to the way up."""
    if pull.shin_is_stated or grip_height == pull.usual_height:
        return pull.shin_angle
    if pull.line_x is not None:
        standing = standing_height(pull)
        return pull.shin_angle * (standing - grip_height) / (standing - pull.usual_height)
    across = line_x - pull.leg_projection * pull.body.ankle_from_heel
    height = pull.leg_projection * (grip_height - pull.ankle_y)
    return acos(min(1.0, pull.shin_to_bar / hypot(across, height))) - atan2(height, across)


def standing_height(pull: Pull) -> float:
    """Height of the grip with every joint straight and the shoulder over the ankle [m]."""
    body = pull.body
    before = load_line(pull, pull.usual_height) - pull.leg_projection * body.ankle_from_heel
    return pull.ankle_y + body.shank + body.thigh + body.trunk - pull.lowered - _hang(body.arm, before)


def _knee_x(pull: Pull, shin: float) -> float:
    """Knee ahead of the heel [m]."""
    return pull.leg_projection * (pull.body.ankle_from_heel + pull.body.shank * sin(shin))


def _balance(pull: Pull, shin: float, hip_x: float, lean: float, load_x: float, ahead: float) -> float:
    """Centre of mass of body and load ahead of the heel [m]; the arms are on the line from shoulder to hands."""
    body = pull.body
    ankle_x, trunk_x = pull.leg_projection * body.ankle_from_heel, body.trunk * sin(lean)
    knee_x = _knee_x(pull, shin)
    arms = body.arms_mass * body.arms_centre * (sin(lean) - ahead / body.arm)
    first = (
        pull.load * load_x
        + body.upper_mass * (hip_x + body.upper_centre_hanging * trunk_x)
        + arms
        + body.thighs_mass * (hip_x + body.thigh_centre * (knee_x - hip_x))
        + body.shanks_mass * (knee_x + body.shank_centre * (ankle_x - knee_x))
        + body.feet_mass * body.feet_centre * pull.leg_projection * body.foot
    )
    return first / (body.mass + pull.load)


def _hang(arm: float, offset: float) -> float:
    """How far below the shoulder straight arms reach with the hands to one side [m]; nil beyond their length."""
    inside = arm * arm - offset * offset
    return sqrt(inside) if inside > 0.0 else 0.0
