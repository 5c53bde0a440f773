"""The changes of a split stance's results with the uncertain inputs, by the scopes of these."""

from __future__ import annotations

from collections.abc import Iterable
from math import sqrt

from service.intervals import Interval
from service.knowledge.posture_figures import Distribution
from service.knowledge.posture_rules import POSTURE_RULES, POSTURES, SHIN_OF_EXERCISE
from service.mechanics.demand import Demand
from service.mechanics.depth import Depth
from service.mechanics.seen import spread_of_depth
from service.mechanics.supports import QUANTITIES
from service.mechanics.uncertainty.intervals import Changes
from service.mechanics.uncertainty.scopes import changes_by_sides
from service.mechanics.uncertainty.split_differences import AGAIN, MovedStance, split_differences

_DEPTH_WITHIN = POSTURES.defaults.depth_error.in_radians().within
_OF_EXERCISE = ("bar_anterior", "trunk_lean", "foot_spacing", "lead_share")


def changes_of_split(demand: Demand, depth: Depth | None, moved: Iterable[MovedStance]) -> list[Changes]:
    """The changes of a split stance's results with the uncertain inputs, in the order of Results.

    How far lean, foot spacing and share are from their usual values is of the exercise; the shin habit is the lifter's
    in every lift, but for what the exercise has for itself. From one repetition to the next all four vary, stated or
    not.

    Args:
        demand: the setup solved, of the family split
        depth: as requested of service.mechanics.demand.setup_demand
        moved: its moved_stances
    """
    sides = split_differences(demand, moved)
    own, repeated = _own(demand), _repeated(demand, depth)
    return changes_by_sides(
        sides,
        _OF_EXERCISE,
        {name: part for name, part in own.items() if name in sides},
        {name: part for name, part in repeated.items() if name in sides},
        of_repetition=[name for name in sides if name.endswith(AGAIN)],
    )


def lead_share_interval(demand: Demand, depth: Depth | None, moved: Iterable[MovedStance]) -> Interval:
    """The lead leg's share of a split stance in one repetition, as far as its inputs are known [1].

    Args:
        demand: the setup solved, of the family split
        depth: as requested of service.mechanics.demand.setup_demand
        moved: its moved_stances
    """
    share, own, repeated = demand.lead_share, _own(demand), _repeated(demand, depth)
    below = above = 0.0
    for name, down, up in moved:
        ends = [one.lead_share - share for one in (down, up) if one is not None] or [0.0]
        times = 1.0 + own.get(name, 0.0) ** 2 + repeated.get(name, 0.0) ** 2
        below += times * min(0.0, *ends) ** 2
        above += times * max(0.0, *ends) ** 2
    return Interval(share, max(0.0, share - sqrt(below)), min(1.0, share + sqrt(above)))


def _own(demand: Demand) -> dict[str, float]:
    """How far the exercise departs from the lifter's habit of the shin, against that habit [1]."""
    return {"shin_angle": SHIN_OF_EXERCISE / POSTURE_RULES[demand.exercise].shin_of_lifter}


def _repeated(demand: Demand, depth: Depth | None) -> dict[str, float]:
    """Scatter from one repetition to the next against that between lifters, by input [1]."""
    rule = POSTURE_RULES[demand.exercise]
    found: dict[str, float] = {name: _again(one) for name in QUANTITIES if (one := getattr(rule, name)) is not None}
    balance = _again(rule.balance or POSTURES.defaults.balance)
    thigh = _DEPTH_WITHIN / spread_of_depth(demand.exercise, depth, demand.technique.seen)
    return {**found, "balance": balance, "thigh_angle": thigh}


def _again(one: Distribution) -> float:
    """Scatter from one repetition to the next against that between lifters [1]."""
    return one.within / one.between
