"""What a split stance follows from: the rule's usual values for one lifter at one depth, and what is stated."""

from __future__ import annotations

from math import cos, inf, pi, sin, sqrt

from msgspec import Struct
from msgspec.structs import astuple

from service.errors import Refusal, into
from service.knowledge.posture_figures import Distribution
from service.knowledge.posture_rules import ExerciseRule
from service.mechanics.balance import Carry
from service.mechanics.body import Body
from service.mechanics.depth import Depth, bottom_where, stated_thigh_angle
from service.mechanics.posture import shin_shape
from service.mechanics.seen import Departure
from service.mechanics.split_stance import in_equilibrium
from service.mechanics.supports import SplitInputs, Usual
from service.messages import message
from service.units import length

_QUARTER = pi / 2


class Stated(Struct, frozen=True, gc=False):
    """What of a split stance is stated, None where it follows, in the order of QUANTITIES.

    Attributes:
        trunk_lean: trunk from the vertical [rad]
        shin_angle: lead shin from the vertical [rad]
        foot_spacing: between the centres of pressure of the feet [m]
        lead_share: share of the weight of body and load on the lead foot [1]
    """

    trunk_lean: float | None = None
    shin_angle: float | None = None
    foot_spacing: float | None = None
    lead_share: float | None = None


class SplitLift(Struct, frozen=True, gc=False):
    """A split stance of one lifter at any depth.

    Attributes:
        body: the lifter
        rule: of the exercise
        load: mass of the implement [kg]
        carry: how the load is carried
        balance: centre of pressure of the lead foot from the heel, as a fraction of foot length [1]
        stated: what is stated
        shin_limit: greatest shin angle that ankle and heel lift allow [rad]
        pitch: heel-up inclination of the lead foot [rad]
        departure: of the lifter from the rule, as far as it was seen
    """

    body: Body
    rule: ExerciseRule
    load: float
    carry: Carry
    balance: float
    stated: Stated
    shin_limit: float
    pitch: float
    departure: Departure

    def at(self, thigh_angle: float) -> SplitInputs:
        """All that the stance at one depth follows from.

        Args:
            thigh_angle: lead thigh above the horizontal [rad]

        Raises:
            Refusal: where the trail leg does not reach so far back
        """
        rule, stated, beyond = self.rule, self.stated, self.departure
        shin, limit = rule.shin_angle, self.shin_limit
        part = _part_of_box(rule, thigh_angle) if rule.steps_up else shin_shape(thigh_angle)
        mean = (shin.mean + beyond.shin_angle) * part
        moved = mean - shin.mean
        usual_shin = Usual(mean, shin.between, moved + shin.low, min(moved + shin.high, limit), limit)
        lean = _usual(rule.trunk_lean, beyond.trunk_lean)
        if rule.steps_up:
            moved = lean.mean * (part - 1.0)
            lean = Usual(lean.mean + moved, lean.sd, max(0.0, lean.low + moved), lean.high + moved)
        spacing = _usual(rule.foot_spacing, beyond.foot_spacing, leg_length(self.body))
        if not (rule.steps_up or rule.rear_foot_raised):
            reach = self._reach(thigh_angle, mean if stated.shin_angle is None else stated.shin_angle)
            if stated.foot_spacing is not None and stated.foot_spacing > reach:
                raise Refusal.one(
                    "technique/foot_spacing",
                    message("trail_leg_too_short", reach=length(reach, "m")),
                    f"at most {reach:.2f} m at this depth",
                    change=into(stated.foot_spacing, high=reach),
                )
            spacing = Usual(min(spacing.mean, reach), spacing.sd, min(spacing.low, reach), min(spacing.high, reach))
        return SplitInputs(
            self.body,
            self.load,
            self.carry,
            self.balance,
            thigh_angle,
            rule.steps_up,
            (lean, usual_shin, spacing, _usual(rule.lead_share, beyond.lead_share, limit=1.0)),
            astuple(stated),
        )

    def bottom(self, depth: Depth | None) -> float:
        """Lead thigh above the horizontal at the bottom [rad].

        Args:
            depth: requested depth; None for the exercise's own

        Raises:
            Refusal: for a depth that this lifter does not reach
        """
        stated = self.rule.thigh_angle if depth is None else stated_thigh_angle(depth)
        if stated is not None or depth is None:
            return (stated or 0.0) + self.departure.depth
        if depth.knee_flexion is not None:
            bent = depth.knee_flexion
            thigh = bottom_where(lambda thigh: bent - self._shin(thigh) - _QUARTER + thigh, "knee_flexion")
            return thigh + self.departure.depth
        # a step-up begins with the trail leg straight on the floor
        target = leg_length(self.body) - (depth.box_height or 0.0)
        return bottom_where(lambda thigh: self._hip_y(thigh, self._shin(thigh)) - target, "box_height")

    def _shin(self, thigh_angle: float) -> float:
        """Lead shin angle at a depth [rad]; where nothing balances, which no bottom is, the usual one."""
        inputs = self.at(thigh_angle)
        try:
            return in_equilibrium(inputs).shin_angle
        except Refusal:
            return inputs.usual[1].mean

    def _hip_y(self, thigh_angle: float, shin_angle: float) -> float:
        body = self.body
        lifted = (body.ball_from_heel - body.ankle_from_heel) * sin(self.pitch)
        return body.ankle_height + lifted + body.shank * cos(shin_angle) + body.thigh * sin(thigh_angle)

    def _reach(self, thigh_angle: float, shin_angle: float) -> float:
        """How far apart the feet may stand on one level before the trail leg is straight [m]."""
        body = self.body
        behind = self.balance * body.foot - body.ankle_from_heel - body.shank * sin(shin_angle)
        behind += body.thigh * cos(thigh_angle)
        return behind + sqrt(max(0.0, leg_length(body) ** 2 - self._hip_y(thigh_angle, shin_angle) ** 2))


def _part_of_box(rule: ExerciseRule, thigh_angle: float) -> float:
    """Lean and lead shin of a step-up against those with the usual box [1], in proportion from standing: own choice."""
    return (_QUARTER - thigh_angle) / (_QUARTER - (rule.thigh_angle or 0.0))


def leg_length(body: Body) -> float:
    """Hip joint above the floor of an upright lifter [m], in which foot spacings are stated."""
    return body.ankle_height + body.shank + body.thigh


def _usual(one: Distribution | None, beyond: float, unit: float = 1.0, limit: float = inf) -> Usual:
    if one is None:
        return Usual(0.0, 1.0, -inf, inf)
    usual = Usual(unit * one.mean, unit * one.between, unit * one.low, unit * one.high, limit)
    return usual.moved(beyond / one.between) if beyond else usual
