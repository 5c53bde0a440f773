"""The changes of a split stance's results with the uncertain inputs, by the scopes of these."""

from __future__ import annotations

from math import radians, sqrt

from service.knowledge.posture_rules import POSTURE_RULES, POSTURES, Distribution
from service.mechanics.demand import Demand
from service.mechanics.depth import Depth
from service.mechanics.supports import QUANTITIES
from service.mechanics.uncertainty.intervals import Changes
from service.mechanics.uncertainty.scopes import changes_by_sides
from service.mechanics.uncertainty.split_differences import AGAIN, split_differences

_OF_EXERCISE = ("bar_anterior", "trunk_lean", "foot_spacing", "lead_share")
_SHIN_OWN = radians(POSTURES.spread.shin_angle_own.value)


def changes_of_split(demand: Demand, depth: Depth | None) -> list[Changes]:
    """The changes of a split stance's results with the uncertain inputs, in the order of Results.

    How far lean, foot spacing and share are from their usual values is of the exercise; the shin habit is the lifter's
    in every lift, but for what the exercise has for itself. From one repetition to the next all four vary, stated or
    not.

    Args:
        demand: the setup solved, of the family split
        depth: as requested of service.mechanics.demand.setup_demand
    """
    rule = POSTURE_RULES[demand.exercise]
    sides = split_differences(demand, depth)
    repeated: dict[str, float] = {
        name: _again(one) for name in QUANTITIES if (one := getattr(rule, name)) is not None and name in sides
    }
    repeated["balance"] = _again(rule.balance or POSTURES.defaults.balance)
    if "thigh_angle" in sides:
        repeated["thigh_angle"] = _again(POSTURES.defaults.depth_error)
    between = rule.shin_angle.between
    own = _SHIN_OWN / sqrt(between * between - _SHIN_OWN * _SHIN_OWN)
    again = [name for name in sides if name.endswith(AGAIN)]
    return changes_by_sides(
        sides, _OF_EXERCISE, {"shin_angle": own} if "shin_angle" in sides else None, repeated, of_repetition=again
    )


def _again(one: Distribution) -> float:
    """Scatter from one repetition to the next against that between lifters [1]."""
    return one.within / one.between
