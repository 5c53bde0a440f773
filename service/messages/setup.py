"""Depth and technique of a lift, as answers show them: which message says each of them, and with which values."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final, TypeAlias

from service.knowledge.catalogue import EXERCISES
from service.units import SI

Instruction: TypeAlias = tuple[str, dict[str, Any]]
"""The code of a message and its values."""

_LEVEL: Final = 0.5
"""A thigh within half a degree of level is called level [deg]."""

_DOWN_TO_THE_CHEST: Final = frozenset(
    {"bench_press", "bench_press_narrow_grip", "bench_press_wide_grip", "bench_press_smith", "incline_bench_press"}
)
"""Presses whose bar touches the chest at the lowest point of the full range."""


def depth_instruction(shown: Mapping[str, Any]) -> Instruction:
    """How far to go down, or from how high to start; the prescription has a depth."""
    depth, family = shown["depth"], EXERCISES[shown["exercise"]].family
    step = shown["exercise"] == "step_up"
    if height := depth.get("box_height"):
        code = "depth_step" if step else "depth_blocks" if family == "hinge" else "depth_box"
        return code, {"height": height}
    if bent := depth.get("knee_flexion"):
        return "depth_hold_at_knee_angle" if shown.get("hold") else "depth_down_to_knee_angle", {"knee_flexion": bent}
    if rise := depth.get("above_bottom"):
        code = "depth_above_chest" if shown["exercise"] in _DOWN_TO_THE_CHEST else "depth_above_bottom"
        return (code, {"height": _in_cm(rise)}) if rise["value"] else ("depth_whole_range", {})
    angle, unit = depth["thigh_below_horizontal"]["value"], depth["thigh_below_horizontal"]["unit"]
    lift = "step_up" if step else "split" if family == "split" else "squat"
    if abs(angle * SI[unit]) <= _LEVEL * SI["deg"]:
        return f"depth_{lift}_level", {}
    side = "below" if angle > 0 else "above"
    return f"depth_{lift}_{side}_level", {"angle": {"value": abs(angle), "unit": unit}}


def technique_instructions(new: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[Instruction]:
    """What is done otherwise than now, all but the shins.

    Args:
        new: the technique as it is to be
        now: the present one
    """
    if (lift := new.get("heel_lift")) != now.get("heel_lift"):
        yield ("heels_raised", {"heel_lift": lift}) if lift and lift["value"] else ("heels_flat", {})
    yield from _feet(new, now)
    if (drift := new.get("bar_forward_of_midfoot")) != now.get("bar_forward_of_midfoot"):
        yield _bar(drift)
    if (spacing := new.get("foot_spacing")) != now.get("foot_spacing"):
        yield _feet_apart(spacing)
    if "seen_by" not in new and (lean := new.get("trunk_lean")) != now.get("trunk_lean"):
        if lean is not None:
            yield "trunk_leaning", {"trunk_lean": lean}
        elif "seen_by" not in now:
            yield "trunk_as_usual", {}
    yield from _arms(new, now)
    if (bounce := bool(new.get("bounce"))) != bool(now.get("bounce")):
        yield ("bounce" if bounce else "no_bounce"), {}


def _feet(new: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[Instruction]:
    width, stance = new.get("stance_width"), new.get("stance", "shoulder")
    if width is not None and width != now.get("stance_width"):
        yield "stance_of_width", {"width": width}
    elif width is None and (stance != now.get("stance", "shoulder") or "stance_width" in now):
        yield f"stance_{stance}", {}
    if (toes := new.get("toe_out")) != now.get("toe_out"):
        yield ("toes_as_usual", {}) if toes is None else ("toes_out", {"toe_out": toes})
    if (over := new.get("knee_over_toe", True)) != now.get("knee_over_toe", True):
        yield "knees_over_toes" if over else "knees_straight_ahead", {}


def _feet_apart(spacing: Mapping[str, Any] | None) -> Instruction:
    if spacing is None:
        return "feet_apart_as_usual", {}
    return "feet_apart", {"foot_spacing": _in_cm(spacing)}


def _arms(new: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[Instruction]:
    """Grip, upper arms, bench and wrists."""
    if (grip := new.get("grip_width")) != now.get("grip_width"):
        yield ("grip_as_usual", {}) if grip is None else ("grip_of_width", {"grip_width": _in_cm(grip)})
    for name, asked, usual in (
        ("shoulder_abduction", "arms_from_the_trunk", "arms_from_the_trunk_as_usual"),
        ("wrist_bend", "wrists_bent", "wrists_as_usual"),
    ):
        if (angle := new.get(name)) != now.get(name):
            straight = name == "wrist_bend" and angle is not None and not angle["value"]
            yield ("wrists_straight", {}) if straight else (usual, {}) if angle is None else (asked, {name: angle})
    if (bench := new.get("bench_angle")) != now.get("bench_angle"):
        yield _bench(bench)


def _bench(angle: Mapping[str, Any] | None) -> Instruction:
    if angle is None:
        return "bench_as_usual", {}
    if not round(angle["value"] * SI[angle["unit"]] / SI["deg"]):
        return "bench_level", {}
    code = "bench_head_up" if angle["value"] > 0 else "bench_head_down"
    return code, {"angle": {"value": abs(angle["value"]), "unit": angle["unit"]}}


def _in_cm(length: Mapping[str, Any]) -> dict[str, Any]:
    return {"value": length["value"] * SI[length["unit"]] / SI["cm"], "unit": "cm"}


def _bar(drift: Mapping[str, Any] | None) -> Instruction:
    value = 0.0 if drift is None else drift["value"]
    if drift is None or not round(100 * value * SI[drift["unit"]]):
        return "bar_over_midfoot", {}
    code = "bar_ahead_of_midfoot" if value > 0 else "bar_behind_midfoot"
    return code, {"distance": {"value": abs(value), "unit": drift["unit"]}}
