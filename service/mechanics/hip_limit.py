"""The bottom of a lifter whose trunk comes no closer to the thigh than a stated limit."""

from __future__ import annotations

from math import degrees

from service.errors import Refusal
from service.knowledge.posture_rules import POSTURE_RULES
from service.mechanics.body import Body
from service.mechanics.depth import Depth, falling_root
from service.mechanics.grip_height import grip_at_hip_flexion
from service.mechanics.pull_setups import pull_setup
from service.mechanics.setups import Setup, Technique, at_thigh_angle
from service.mechanics.statics import STANDING, Statics, statics_of
from service.mechanics.turning import turned_at_lean
from service.messages import message
from service.units import angle


def trunk_to_thigh(statics: Statics, thigh_angle: float) -> float:
    """Trunk against thigh at one depth.

    Args:
        statics: of the setup
        thigh_angle: thigh above the horizontal [rad]

    Returns:
        the angle, 0 in standing [rad]
    """
    return statics.at(thigh_angle).trunk_lean + STANDING - thigh_angle


def at_hip_limit(body: Body, setup: Setup, technique: Technique, depth: Depth | None) -> Setup:
    """The setup no deeper than the trunk-to-thigh limit of a technique allows.

    Args:
        body: the lifter
        setup: as resolved
        technique: by which it was resolved, with a limit
        depth: as requested; None for the exercise's own

    Raises:
        Refusal: for a requested depth beyond the limit
    """
    limit = technique.hip_flexion or 0.0
    higher = _at_limit(body, setup, technique, limit)
    if depth is not None:
        raise Refusal.one(
            "depth",
            message("beyond_hip_flexion", limit=angle(limit, "deg")),
            f"the thigh no lower than {degrees(higher.thigh_angle):.0f} deg above the horizontal (knee bent "
            f"{degrees(higher.shin_angle + STANDING - higher.thigh_angle):.0f} deg), a heel lift, or a variation with "
            "a more upright trunk",
        )
    return higher


def _at_limit(body: Body, setup: Setup, technique: Technique, limit: float) -> Setup:
    if setup.pull is not None:
        turns_in_the_air = POSTURE_RULES[setup.exercise].grip_height is None
        stated = setup.pull.lean is not None and turns_in_the_air
        grip_height = grip_at_hip_flexion(turned_at_lean(setup.pull)[0] if stated else setup.pull, limit)
        return pull_setup(setup.exercise, setup.pull, grip_height, setup.shin_limit, setup.pitch)

    def beyond(thigh_angle: float) -> float:
        statics = statics_of(body, at_thigh_angle(body, setup, technique, thigh_angle))
        return trunk_to_thigh(statics, thigh_angle) - limit

    highest = falling_root(beyond, setup.thigh_angle, STANDING)
    return at_thigh_angle(body, setup, technique, STANDING if highest is None else highest)
