"""Where a pull turns in the air that is done more or less upright than usual.

Neither floor nor block ends its way down, so a lean that is stated moves the turn: the knee stays bent as it usually
is, body and load stand over the same point of the foot, and the leg tips about the ankle until they do. A trunk that is
more upright has the hips further forward and turns higher; the thigh does not go down for the hands to come as low as
ever.
"""

from __future__ import annotations

from math import pi, radians

from msgspec.structs import replace

from service.knowledge.posture_rules import POSTURES
from service.mechanics.closure import Pull, closed, grip_of_thigh
from service.mechanics.depth import falling_root

_QUARTER = pi / 2
_TIPPED = POSTURES.pull.tipped
_BACK, _FORTH = radians(_TIPPED.low), radians(_TIPPED.high)
_BALANCE = POSTURES.limits.balance


def turned_at_lean(pull: Pull) -> tuple[Pull, float]:
    """The pull with its leg tipped as its stated lean asks, and the height of its grip there.

    Args:
        pull: of a lift that turns in the air, with a stated lean; a shin that is stated stays

    Returns:
        the pull and its grip above the floor [m]

    Source: statics; that knee and balance point are kept is our own choice.
    """
    lean = pull.lean or 0.0
    usual = closed(replace(pull, lean=None), pull.usual_height)
    knee_flexion = usual.shin_angle + _QUARTER - usual.thigh_angle
    foot = pull.leg_projection * pull.body.foot
    over = min(max(usual.balance_x, _BALANCE.low * foot), _BALANCE.high * foot)

    def tipped(shin_angle: float) -> tuple[Pull, float]:
        leg = replace(pull, shin_angle=shin_angle, shin_is_stated=True)
        return leg, grip_of_thigh(leg, shin_angle + _QUARTER - knee_flexion, lean)

    def behind(shin_angle: float) -> float:
        return over - closed(*tipped(shin_angle)).balance_x

    if pull.shin_is_stated:
        return tipped(pull.shin_angle)
    furthest = min(_FORTH, knee_flexion)  # the thigh upright
    shin_angle = falling_root(behind, _BACK, furthest)
    if shin_angle is None:
        shin_angle = furthest if behind(furthest) > 0.0 else _BACK
    return tipped(shin_angle)
