"""Setups of pulls: the posture that closes between the feet and the hands at one height of the grip."""

from __future__ import annotations

from math import acos

from service.knowledge.posture_rules import POSTURE_RULES
from service.mechanics.balance import Carry
from service.mechanics.closure import Pull
from service.mechanics.depth import Depth
from service.mechanics.grip_height import grip_at_bottom
from service.mechanics.pulls import posture_of_pull
from service.mechanics.resolved_setup import Setup
from service.mechanics.stance import turned_out
from service.mechanics.turning import turned_at_lean


def pull_setup(
    exercise_id: str,
    pull: Pull,
    depth: Depth | float | None,
    shin_limit: float,
    pitch: float,
    *,
    unbalanced: bool = False,
) -> Setup:
    """The setup of a pull that begins or turns at one height of the grip.

    Args:
        exercise_id: id of a posture rule of the family pull
        pull: the lifter's
        depth: requested depth, or the grip above the floor [m]; None for the exercise's own
        shin_limit: greatest shin angle that ankle and heel lift allow [rad]
        pitch: heel-up inclination of the foot [rad]
        unbalanced: whether the posture is taken as it closes, even if the lifter would tip

    Raises:
        Refusal: where straight arms do not take the hands there, or the lifter would tip
    """
    rule, foot = POSTURE_RULES[exercise_id], pull.body.foot
    turned, turn = pull, None
    if pull.lean is not None and rule.grip_height is None:
        turned, turn = turned_at_lean(pull)
    if isinstance(depth, float):
        grip_height = depth
    elif depth is None and turn is not None:
        grip_height = turn + pull.higher
    else:
        grip_height = grip_at_bottom(rule, depth, turned) + pull.higher
    closed = posture_of_pull(turned, grip_height, unbalanced=unbalanced)
    width = None if rule.stance_width is None else rule.stance_width * pull.body.stature
    return Setup(
        exercise_id,
        rule.family,
        Carry(rule.carry, line=closed.load_x / foot, ahead=closed.ahead, lowered=pull.lowered),
        pull.load,
        closed.balance_x / (foot * pull.leg_projection),
        closed.thigh_angle,
        closed.shin_angle,
        shin_limit,
        pitch,
        turned_out(acos(pull.leg_projection), width),
        closed.trunk_lean,
        1.0,
        pull,
        closed,
    )
