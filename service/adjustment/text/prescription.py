"""A prescription and its parts in words that a coach can say."""

from __future__ import annotations

from typing import Any

from service.adjustment.prescription import Prescription
from service.knowledge.design_choices import CHOICES
from service.mechanics.setups import Depth, Technique
from service.mechanics.technique import still_seen
from service.messages import Message, message, spoken
from service.units import SI, MassUnit, significant


def prescription_words(prescription: Prescription, unit: MassUnit) -> str:
    """A prescription in one line."""
    return spoken().prescriptions.line(prescription_value(prescription, unit))


def prescription_to_do(prescription: Prescription, unit: MassUnit) -> Message:
    """A prescription in one line, with what is left in reserve as far as that is stated."""
    shown, left = prescription_value(prescription, unit), reserve_said(prescription)
    if prescription.reserve is None or prescription.hold is not None:
        return message("in_words", prescription=shown)
    if is_far_from_failure(prescription):
        return message("in_words_far_from_failure", prescription=shown)
    return (
        message("in_words_with", prescription=shown, left=left)
        if left
        else message("in_words_with_none", prescription=shown)
    )


def reserve_said(prescription: Prescription) -> int:
    """Repetitions in reserve as they are said, halves upwards [count]."""
    return int(prescription.counted_reserve + 0.5)


def is_far_from_failure(prescription: Prescription) -> bool:
    """Whether so much is left in reserve that a number of it says nothing."""
    return reserve_said(prescription) >= CHOICES.adjustments.far_from_failure


def prescription_value(prescription: Prescription, unit: MassUnit) -> dict[str, Any]:
    """A prescription as answers show it, without what is not stated: the value of a message."""
    load, reps = prescription.load, prescription.reps
    parts: dict[str, Any] = {
        "exercise": prescription.exercise,
        "sets": prescription.sets,
        "reps": {"low": reps.low, "high": reps.high},
        "load": _quantity(max(load, 0.0), unit),
    }
    if load < 0:
        parts["assistance"] = _quantity(-load, unit)
    if prescription.reserve is not None:
        parts["reps_in_reserve"] = round(prescription.reserve, 1)
    if prescription.days is not None:
        parts["days_per_week"] = prescription.days
    return parts | _how(prescription)


def _how(prescription: Prescription) -> dict[str, Any]:
    """How it is done, as far as it is stated: tempo, times, depth, technique, cues, implement and side."""
    parts: dict[str, Any] = {
        name: stated for name in ("tempo", "implement", "side") if (stated := getattr(prescription, name)) is not None
    }
    if prescription.hold is not None:
        parts["hold"] = _quantity(prescription.hold, "s")
    if prescription.rest is not None:
        parts["rest"] = _quantity(prescription.rest, "s")
    if prescription.depth is not None:
        parts["depth"] = _depth_value(prescription.depth)
    if prescription.technique is not None and (
        technique := technique_value(prescription.technique, prescription.depth)
    ):
        parts["technique"] = technique
    if prescription.cues:
        parts["cues"] = list(prescription.cues)
    return parts


def _quantity(value: float, unit: str) -> dict[str, Any]:
    """A quantity of its SI value [any]."""
    return {"value": significant(value / SI[unit]), "unit": unit}


def _depth_value(depth: Depth) -> dict[str, Any]:
    if depth.box_height is not None:
        return {"box_height": _quantity(depth.box_height, "m")}
    if depth.knee_flexion is not None:
        return {"knee_flexion": _quantity(depth.knee_flexion, "deg")}
    if depth.above_bottom is not None:
        return {"above_bottom": _quantity(depth.above_bottom, "m")}
    return {"thigh_below_horizontal": _quantity(depth.thigh_below_horizontal or 0.0, "deg")}


def technique_value(technique: Technique, depth: Depth | None) -> dict[str, Any]:
    """What of a technique is done otherwise than usual, as answers show it. The lifter's own limits stay with them."""
    lift, drift, shin = technique.heel_lift, technique.bar_forward_of_midfoot, technique.shin_angle
    lean, seen = technique.trunk_lean, still_seen(technique, depth)
    if seen is not None:
        shin, lean = seen.shin_angle, seen.trunk_lean
    parts: dict[str, Any] = {
        "heel_lift": _quantity(lift, "m") if lift else None,
        "stance": technique.stance if technique.stance != "shoulder" else None,
        "stance_width": _stated(technique.stance_width, "m"),
        "toe_out": _stated(technique.toe_out, "deg"),
        "knee_over_toe": None if technique.knee_over_toe else False,
        "shin_angle": _stated(shin, "deg"),
        "trunk_lean": _stated(lean, "deg"),
        "thigh_angle": None if seen is None else _stated(seen.thigh_angle, "deg"),
        "seen_by": None if seen is None else seen.by,
        "bar_forward_of_midfoot": _quantity(drift, "m") if drift else None,
        "bounce": technique.bounce or None,
        "foot_spacing": _stated(technique.foot_spacing, "m"),
        "grip_width": _stated(technique.grip_width, "m"),
        "shoulder_abduction": _stated(technique.shoulder_abduction, "deg"),
        "bench_angle": _stated(technique.bench_angle, "deg"),
        "wrist_bend": _stated(technique.wrist_bend, "deg"),
    }
    return {name: part for name, part in parts.items() if part is not None}


def _stated(value: float | None, unit: str) -> dict[str, Any] | None:
    return None if value is None else _quantity(value, unit)
