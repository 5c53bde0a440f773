"""Where the hand is at the bottom of a lift that lies on a bench or on the floor, and the path that leads there."""

from __future__ import annotations

from math import copysign, cos, radians, sin
from typing import Final

from service.interpolation import interpolated
from service.knowledge.arm_figures import BENCH_TOUCHES
from service.knowledge.arm_lifts import STATURE_OF_POINTS, ArmLift
from service.mechanics.arm.segments import Arm

_GRIPS: Final = [row.grip for row in BENCH_TOUCHES]
_TOUCHES: Final = [row.across for row in BENCH_TOUCHES]


def touch_of_grip(lift: ArmLift, grip: float) -> float:
    """Where the hand touches in another grip than the lift's, across the load's line, for a stature of 1.75 m [m].

    Args:
        lift: with a grip
        grip: between the middles of the hands, over biacromial breadth [1]
    """
    usual = lift.path[0].across
    moved = interpolated(_GRIPS, _TOUCHES, grip) - interpolated(_GRIPS, _TOUCHES, lift.grip or grip)
    return usual - copysign(moved, usual * moved) if moved else usual


def touch_of_abduction(arm: Arm, lift: ArmLift, abduction: float, wrist_bend: float) -> float:
    """Where the hand touches with the upper arm so far from the level trunk, for a stature of 1.75 m [m].

    Args:
        arm: of the lifter
        lift: of a level trunk
        abduction: upper arm from the trunk [rad]
        wrist_bend: hand bent back [rad]
    """
    toward_feet = arm.upper_arm * cos(abduction) * -cos(radians(lift.trunk_angle))
    bent = copysign(arm.grip * sin(wrist_bend), lift.path[0].along)
    return (toward_feet + bent) * STATURE_OF_POINTS / arm.stature


def led_to(lift: ArmLift, touch: float, points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Points of a lift's path, across and along the load's line, with another bottom [m].

    The way to the top goes with it, where there is one: the top stays where it is.

    Args:
        lift: with a path
        touch: its bottom across the load's line [m]
        points: of its own path [m]
    """
    bottom, top = lift.path[0].across, lift.path[-1].across
    if bottom == top:
        return [(touch, along) for _, along in points]
    stretched = (touch - top) / (bottom - top)
    return [(top + (across - top) * stretched, along) for across, along in points]
