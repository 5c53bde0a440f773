"""A hinge with the load on the trunk: the lean at the turn is what lifters keep, and the hips go back to balance it.

With a heavier bar the legs tip back about the ankle, the knee bent as it is, until trunk and bar balance at that lean;
with a lighter one they tip forward. Where the shank would leave its span it stays at the end of it, and the lean gives
way. A stated shin leaves the knee to give way; a stated depth leaves the shin as it is with this load, and the lean
follows.
"""

from __future__ import annotations

from math import acos, atan2, cos, degrees, hypot, pi, radians, sin

from msgspec import Struct

from service.errors import Refusal, into
from service.knowledge.posture_rules import POSTURES, ExerciseRule
from service.mechanics.balance import Carry, leg_statics, upper_body_statics
from service.mechanics.body import Body
from service.mechanics.depth import Depth, stated_thigh_angle
from service.messages import message

_QUARTER = pi / 2
_KNEE = POSTURES.limits.hinge_knee
_LEAN = POSTURES.limits.pull_lean
_LEAST_LEAN, _MOST_LEAN = radians(_LEAN.low), radians(_LEAN.high)
_LEAST_KNEE, _MOST_KNEE = radians(_KNEE.low), radians(_KNEE.high)


class Tipping(Struct, frozen=True, gc=False):
    """What the legs have to hold at one lean: of_thigh cos t - of_shank sin s = needed, s the shin and t the thigh.

    Attributes:
        of_thigh: first moment of a level thigh [kg·m]
        of_shank: first moment of a level shank [kg·m]
        needed: first moment that trunk and load ask for at the lean, with the one at the ankle [kg·m]
    """

    of_thigh: float
    of_shank: float
    needed: float

    def shin(self, knee_flexion: float) -> float:
        """The shin at which a knee bent so balances [rad], at the end of its way where none does.

        Args:
            knee_flexion: shank against thigh [rad]
        """
        across = self.of_thigh * sin(knee_flexion)
        along = self.of_thigh * cos(knee_flexion) + self.of_shank
        return _arccosine(self.needed / hypot(across, along)) - atan2(along, across)

    def shin_with(self, thigh_angle: float) -> float:
        """The shin that balances a thigh [rad], level where none does.

        Args:
            thigh_angle: thigh above the horizontal [rad]
        """
        return _QUARTER - _arccosine((self.of_thigh * cos(thigh_angle) - self.needed) / self.of_shank)

    def thigh(self, shin_angle: float) -> float:
        """The thigh that balances a shin [rad], upright or level where none does.

        Args:
            shin_angle: shin from the vertical [rad]
        """
        return _arccosine((self.needed + self.of_shank * sin(shin_angle)) / self.of_thigh)


def legs_of_hinge(
    body: Body,
    rule: ExerciseRule,
    load: float,
    balance: float,
    carry: Carry,
    *,
    shin_angle: float | None,
    shin_limit: float,
    depth: Depth | None,
    further: tuple[float, float, float] = (0.0, 0.0, 0.0),
) -> tuple[float, float]:
    """Shin and thigh at the turn of a hinge.

    Args:
        body: the lifter
        rule: of the exercise, with a lean
        load: mass of the implement [kg]
        balance: balance point of body and load from the heel, as a fraction of foot length [1]
        carry: how the load is carried
        shin_angle: shin from the vertical as stated [rad]; None for what balances
        shin_limit: greatest shin angle that ankle and heel lift allow [rad]
        depth: requested depth; None for the exercise's own
        further: how far lean, knee and the thigh above what is asked for are beyond the rule's [rad]

    Returns:
        shin from the vertical and thigh above the horizontal [rad]

    Raises:
        Refusal: for a stated shin that no knee of a hinge balances

    Source: statics; that lean and knee are kept is our own choice.
    """
    more_lean, more_knee, higher = further
    lean = rule.trunk_lean
    if lean is None:
        raise ValueError("Expected a rule with a lean")
    tipping = _tipping(body, load, balance, carry, min(lean.mean + more_lean, _MOST_LEAN))
    knee_flexion = None if depth is None else depth.knee_flexion
    thigh_angle = None if depth is None else stated_thigh_angle(depth)
    if thigh_angle is None:
        more_knee -= higher
    else:
        thigh_angle += higher
    if shin_angle is None:
        usual = rule.shin_angle.mean + _QUARTER - (rule.thigh_angle or 0.0)
        bent = max(0.0, (usual if knee_flexion is None else knee_flexion) + more_knee)
        span = rule.shin_angle
        shin_angle = min(max(tipping.shin(bent), span.low), span.high, shin_limit)
        return shin_angle, shin_angle + _QUARTER - bent if thigh_angle is None else thigh_angle
    if knee_flexion is None and thigh_angle is None:
        _check(shin_angle, tipping.shin(_LEAST_KNEE), tipping.shin(_MOST_KNEE))
        return shin_angle, tipping.thigh(shin_angle)
    upright, deepest = (_tipping(body, load, balance, carry, lean) for lean in (_LEAST_LEAN, _MOST_LEAN))
    if knee_flexion is not None:
        _check(shin_angle, deepest.shin(knee_flexion), upright.shin(knee_flexion))
        return shin_angle, shin_angle + _QUARTER - knee_flexion - more_knee
    thigh_angle = thigh_angle or 0.0
    _check(shin_angle, deepest.shin_with(thigh_angle), upright.shin_with(thigh_angle))
    return shin_angle, thigh_angle


def _check(shin_angle: float, least: float, most: float) -> None:
    """Refuse a stated shin that does not balance [rad]."""
    if not least <= shin_angle <= most:
        allowed = f"{degrees(least):.0f} to {degrees(most):.0f} deg with this load"
        change = into(shin_angle, least, most)
        raise Refusal.one("technique/shin_angle", message("hinge_out_of_balance"), allowed, change=change)


def _tipping(body: Body, load: float, balance: float, carry: Carry, lean: float) -> Tipping:
    balance_x = balance * body.foot
    legs = leg_statics(body, body.mass + load, balance_x)
    upper = upper_body_statics(body, load, carry, balance_x)
    needed = upper.amplitude * sin(lean + upper.offset) + legs.knee
    return Tipping(legs.both_per_reach * body.thigh, legs.knee_per_reach * body.shank, needed)


def _arccosine(value: float) -> float:
    return acos(max(-1.0, min(1.0, value)))
