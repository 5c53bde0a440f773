"""What the posture rules of squats leave open of shin and balance point, in the steps by which these are moved."""

from __future__ import annotations

from msgspec import Struct

from service.knowledge.posture_rules import POSTURE_RULES, POSTURES, SHIN_OF_EXERCISE, ExerciseRule


class Spread(Struct, frozen=True, gc=False):
    """What one posture rule leaves open; scatter is from one repetition to the next, in the steps of the same inputs.

    Attributes:
        shin_angle: habit of the lifter in every exercise [rad]
        shin_angle_own: of this exercise alone, in steps of that habit [1]
        balance: balance point, in foot lengths [1]
        shin_scatter: shin at the bottom [1]
        balance_scatter: balance point [1]
    """

    shin_angle: float
    shin_angle_own: float
    balance: float
    shin_scatter: float
    balance_scatter: float


def _spread_of(rule: ExerciseRule) -> Spread:
    shin, balance = rule.shin_angle, rule.balance or POSTURES.defaults.balance
    of_lifter = rule.shin_of_lifter
    return Spread(
        of_lifter,
        SHIN_OF_EXERCISE / of_lifter,
        balance.between,
        shin.within / of_lifter,
        balance.within / balance.between,
    )


SPREADS = {name: _spread_of(rule) for name, rule in POSTURE_RULES.items()}
