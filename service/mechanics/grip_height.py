"""Where the hands of a pull are at its bottom: the height of the grip, of whichever way a depth is stated."""

from __future__ import annotations

from collections.abc import Callable
from math import pi

from service.errors import Refusal
from service.knowledge.posture_rules import ExerciseRule
from service.mechanics.closure import Pull, PullPosture, closed, grip_of_thigh, standing_height
from service.mechanics.depth import Depth, falling_root, no_deeper, stated_thigh_angle
from service.mechanics.pulls import usual_grip_height
from service.messages import message

_QUARTER = pi / 2
_A_LITTLE_MORE = 1.05  # than is too much: what the posture allows moves with what is stated


def grip_at_bottom(rule: ExerciseRule, depth: Depth | None, pull: Pull) -> float:
    """Height of the grip [m] at the bottom of a pull, of whichever way its depth is stated.

    Args:
        rule: of the exercise
        depth: as requested; None for the exercise's own
        pull: the lifter's

    Raises:
        Refusal: where straight arms do not take the hands there
    """
    if depth is not None and depth.knee_flexion is not None:
        return grip_at_knee_flexion(pull, depth.knee_flexion)
    thigh_angle = None if depth is None else stated_thigh_angle(depth)
    if thigh_angle is not None:
        return grip_at_thigh_angle(pull, thigh_angle)
    block = None if depth is None else depth.box_height
    return usual_grip_height(pull.body, rule) + (rule.block_height if block is None else block)


def grip_at_thigh_angle(pull: Pull, thigh_angle: float) -> float:
    """Height of the grip at which the thigh is at an angle; as grip_where.

    Args:
        pull: the lifter's
        thigh_angle: thigh above the horizontal [rad]

    Returns:
        grip above the floor [m]
    """
    if pull.lean is not None:
        return grip_of_thigh(pull, thigh_angle, pull.lean)
    return grip_where(pull, lambda posture: thigh_angle - posture.thigh_angle, "depth/thigh_below_horizontal")


def grip_at_knee_flexion(pull: Pull, knee_flexion: float) -> float:
    """Height of the grip at which the knee is bent by an angle; as grip_where.

    Args:
        pull: the lifter's
        knee_flexion: shank against thigh [rad]

    Returns:
        grip above the floor [m]
    """
    return grip_where(
        pull, lambda posture: posture.shin_angle + _QUARTER - posture.thigh_angle - knee_flexion, "depth/knee_flexion"
    )


def grip_at_hip_flexion(pull: Pull, hip_flexion: float) -> float:
    """Height of the grip at which the hip is bent by an angle; as grip_where.

    Args:
        pull: the lifter's
        hip_flexion: trunk against thigh [rad]

    Returns:
        grip above the floor [m]
    """
    if pull.lean is not None:
        return grip_of_thigh(pull, min(_QUARTER, pull.lean + _QUARTER - hip_flexion), pull.lean)
    return grip_where(
        pull, lambda posture: posture.trunk_lean + _QUARTER - posture.thigh_angle - hip_flexion, "technique/hip_flexion"
    )


def grip_where(pull: Pull, falls: Callable[[PullPosture], float], stated: str) -> float:
    """Height of the grip at which a quantity that falls as the grip rises is nil.

    Args:
        pull: the lifter's
        falls: the quantity in one posture less what is stated
        stated: where in a request the quantity is stated

    Returns:
        grip above the floor [m]

    Raises:
        Refusal: where the hands would be below the ankle, or the lifter stands upright before
    """
    lowest = pull.ankle_y
    grip_height = falling_root(lambda height: falls(closed(pull, height)), lowest, standing_height(pull))
    if grip_height is not None:
        return grip_height
    deepest = closed(pull, lowest)
    wanted = stated.rpartition("/")[2]
    at_deepest = falls(deepest)
    if at_deepest < 0.0:
        raise Refusal.one(
            stated,
            no_deeper(deepest.thigh_angle, wanted),
            f"less of {stated}",
            change=_A_LITTLE_MORE * at_deepest,
            or_else=("technique/shin_angle", "technique/trunk_lean"),
        )
    raise Refusal.one(
        stated,
        message("lower_than_wanted_when_upright", wanted=wanted),
        f"more of {stated}, or another exercise",
        change=_A_LITTLE_MORE * falls(closed(pull, standing_height(pull))),
        or_else=("technique/shin_angle", "technique/trunk_lean"),
    )
