"""The bottom of a lifter whose trunk comes no closer to the thigh than a stated limit."""

from __future__ import annotations

from math import degrees

from msgspec.structs import replace

from service.errors import Refusal
from service.mechanics.depth import Depth, falling_root
from service.mechanics.posture import shin_shape
from service.mechanics.pulls import grip_at_hip_flexion
from service.mechanics.setups import Setup, pull_setup, shin_at
from service.mechanics.statics import STANDING, Statics
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


def at_hip_limit(setup: Setup, statics: Statics, hip_flexion: float, depth: Depth | None) -> Setup:
    """The setup no deeper than the trunk-to-thigh limit allows.

    Args:
        setup: as resolved
        statics: of the setup
        hip_flexion: greatest flexion of trunk against thigh [rad]
        depth: as requested; None for the exercise's own

    Raises:
        Refusal: for a requested depth beyond the limit
    """
    higher = _at_limit(setup, statics, hip_flexion)
    if depth is not None:
        raise Refusal.one(
            "depth",
            message("beyond_hip_flexion", limit=angle(hip_flexion, "deg")),
            f"the thigh no lower than {degrees(higher.thigh_angle):.0f} deg above the horizontal (knee bent "
            f"{degrees(higher.shin_angle + STANDING - higher.thigh_angle):.0f} deg), a heel lift, or a variation with "
            "a more upright trunk",
        )
    return higher


def _at_limit(setup: Setup, statics: Statics, hip_flexion: float) -> Setup:
    if setup.pull is not None:
        grip_height = grip_at_hip_flexion(setup.pull, hip_flexion)
        return pull_setup(setup.exercise, setup.pull, grip_height, setup.shin_limit, setup.pitch)
    highest = falling_root(lambda thigh: trunk_to_thigh(statics, thigh) - hip_flexion, setup.thigh_angle, STANDING)
    thigh_angle = STANDING if highest is None else highest
    return replace(
        setup,
        thigh_angle=thigh_angle,
        shin_angle=shin_at(setup, thigh_angle),
        shape_at_bottom=shin_shape(thigh_angle),
    )
