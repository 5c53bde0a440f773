"""How a lifter's habits of posture go with the load.

A posture rule says how a lifter squats with a usual load. With another load balance asks for another trunk lean if shin
and balance point are kept; but a lifter keeps to the lean as well. Each habit gives way by how loosely it is kept: the
most probable posture is the one that departs least from all of them, each departure measured in what it varies by from
one repetition to the next. Between 25 and 125 percent of body weight measured ranges of the joints did not change
(squat_balance_loads), where a fixed shin would have the trunk five degrees more upright.

Near the maximum the shin comes back and the trunk goes down (purzel_2024), which is the slope of a rule.
"""

from __future__ import annotations

from math import asin, cos, sin, sqrt

from msgspec import Struct

from service.knowledge.posture_rules import POSTURES, ExerciseRule
from service.mechanics.balance import Carry, leg_statics, upper_body_statics
from service.mechanics.body import Body

_SLOPE_FROM = POSTURES.defaults.slope_from.value
_BALANCE = POSTURES.defaults.balance
_STEEPEST = 0.97  # [1], sine of the lean beyond which a small change of balance changes it without bounds
_STRENGTH = POSTURES.defaults.slope_strength.value
# the maximum of those lifters over body and the load of theirs with which the slope was found [1]
_ADDED_THERE = _STRENGTH / (1.0 + POSTURES.defaults.slope_share.value * _STRENGTH)
_LEAN_VARIANCE = POSTURES.defaults.trunk_residual.in_radians().within ** 2


class Habit(Struct, frozen=True, gc=False):
    """Where shin and balance point are beyond the rule.

    Attributes:
        shin_angle: at a level thigh [rad]
        balance: of the foot's length [1]
    """

    shin_angle: float
    balance: float


class Maximum(Struct, frozen=True, gc=False):
    """The most that a lifter lifts once in an exercise.

    Attributes:
        exercise: id of its posture rule
        load: on the implement [kg]
    """

    exercise: str
    load: float


AS_THE_RULE = Habit(0.0, 0.0)


def habit_with(body: Body, rule: ExerciseRule, load: float, share: float | None = None) -> Habit:
    """How far shin and balance point are beyond the rule with a load.

    Args:
        body: the lifter
        rule: of the exercise
        load: mass of the implement [kg]
        share: of the maximum that the load is [1]; None where that is not known

    Source: squat_balance_loads, purzel_2024; how habits share a change is our own choice.
    """
    slope, usual = 0.0, None if rule.usual_load is None else rule.usual_load * body.mass
    if share is not None and share > 0.0:
        # what is held up makes the shin give way, and a tenth of a small maximum adds little to the body's own weight
        added = load / share / (body.mass + load)
        slope = rule.shin_angle.slope * 10.0 * max(0.0, share - _SLOPE_FROM) * added / _ADDED_THERE
        usual = usual and load * _SLOPE_FROM / share
    if usual is None or rule.thigh_angle is None:
        return Habit(slope, 0.0)
    kept = _lean_and_slopes(body, rule, usual)
    asked = _lean_and_slopes(body, rule, load)
    balance = rule.balance or _BALANCE
    per_shin, per_balance = asked.per_shin * rule.shin_angle.within, asked.per_balance * balance.within
    surprise = (kept.lean - asked.lean) / (per_shin**2 + per_balance**2 + _LEAN_VARIANCE)
    return Habit(
        slope + rule.shin_angle.within * per_shin * surprise,
        balance.within * per_balance * surprise,
    )


class _Lean(Struct, frozen=True, gc=False):
    """The lean of the rule with a load [rad], and its derivatives with shin [1] and balance point [rad]."""

    lean: float
    per_shin: float
    per_balance: float


def _lean_and_slopes(body: Body, rule: ExerciseRule, load: float) -> _Lean:
    """Where no lean balances the rule's legs, the steepest."""
    mass, balance = body.mass + load, (rule.balance or _BALANCE).mean
    balance_x = balance * body.foot
    legs = leg_statics(body, mass, balance_x)
    upper = upper_body_statics(body, load, Carry(rule.carry, rule.along, rule.anterior), balance_x)
    shin, thigh = rule.shin_angle.mean, rule.thigh_angle or 0.0
    knee = legs.knee + legs.knee_per_reach * body.shank * sin(shin)
    sine = (legs.both_per_reach * body.thigh * cos(thigh) - knee) / upper.amplitude
    sine = max(-_STEEPEST, min(_STEEPEST, sine))
    per_moment = 1.0 / (upper.amplitude * sqrt(1.0 - sine * sine))
    return _Lean(
        asin(sine) - upper.offset,
        -legs.knee_per_reach * body.shank * cos(shin) * per_moment,
        mass * body.foot * per_moment,
    )


def share_of_maximum(exercise_id: str, load: float, maximum: Maximum | None) -> float | None:
    """The share of the lifter's maximum that a load is.

    Args:
        exercise_id: id of a posture rule, of an exercise or of one with another implement
        load: mass of the implement [kg]
        maximum: as far as it is known

    Returns:
        share [1], None where the maximum of this exercise is not known
    """
    if maximum is None or maximum.exercise != exercise_id:
        return None
    return min(1.0, load / maximum.load)
