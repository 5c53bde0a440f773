"""A prescription and its parts in words that a coach can say."""

from __future__ import annotations

from typing import Any

from msgspec import to_builtins

from service.adjustment.prescription import Prescription
from service.mechanics.setups import Depth, Technique
from service.messages import prescription as words
from service.training.volume import Reps
from service.units import MassUnit, angle, duration, length, mass


def prescription_words(prescription: Prescription, unit: MassUnit) -> str:
    """A prescription in one line."""
    return words.line_words(prescription_value(prescription, unit))


def prescription_value(prescription: Prescription, unit: MassUnit) -> dict[str, Any]:
    """A prescription as a value of a message: as answers show it, without what is not stated."""
    load, technique = prescription.load, prescription.technique or Technique()
    parts: dict[str, Any] = {
        "exercise": prescription.exercise,
        "sets": prescription.sets,
        "reps": {"low": prescription.reps.low, "high": prescription.reps.high},
        "load": to_builtins(mass(max(load, 0.0), unit)),
        "assistance": to_builtins(mass(-load, unit)) if load < 0 else None,
        "reps_in_reserve": None if prescription.reserve is None else round(prescription.reserve, 1),
        "tempo": prescription.tempo,
        "hold": None if prescription.hold is None else to_builtins(duration(prescription.hold, "s")),
        "rest": None if prescription.rest is None else to_builtins(duration(prescription.rest, "s")),
        "days_per_week": prescription.days,
        "depth": None if prescription.depth is None else _depth_value(prescription.depth),
        "technique": technique_value(technique),
        "cues": list(prescription.cues),
        "implement": prescription.implement,
        "side": prescription.side,
    }
    return {name: part for name, part in parts.items() if part not in (None, [], {})}


def _depth_value(depth: Depth) -> dict[str, Any]:
    if depth.box_height is not None:
        return {"box_height": to_builtins(length(depth.box_height, "m"))}
    if depth.knee_flexion is not None:
        return {"knee_flexion": to_builtins(angle(depth.knee_flexion, "deg"))}
    return {"thigh_below_horizontal": to_builtins(angle(depth.thigh_below_horizontal or 0.0, "deg"))}


def technique_value(technique: Technique) -> dict[str, Any]:
    """What of a technique is done otherwise than usual, as answers show it."""
    lift, drift, shin = technique.heel_lift, technique.bar_forward_of_midfoot, technique.shin_angle
    parts: dict[str, Any] = {
        "heel_lift": to_builtins(length(lift, "m")) if lift else None,
        "stance": technique.stance if technique.stance != "shoulder" else None,
        "shin_angle": None if shin is None else to_builtins(angle(shin, "deg")),
        "bar_forward_of_midfoot": to_builtins(length(drift, "m")) if drift else None,
    }
    return {name: part for name, part in parts.items() if part is not None}


def load_words(prescription: Prescription, unit: MassUnit) -> str:
    """A load, as "62.5 kg", "two dumbbells of 20 kg", "body mass" or "12 kg of assistance"."""
    return words.load_words(prescription_value(prescription, unit))


def sets_words(prescription: Prescription) -> str:
    """Sets and repetitions of a session, or its holds of so many seconds."""
    return words.sets_words(prescription_value(prescription, "kg"))


def days_words(days: int) -> str:
    """How often a week.

    Args:
        days: training days a week [count]
    """
    return "on one day a week" if days == 1 else f"on {days} days a week"


def reps_words(reps: Reps) -> str:
    """A range of repetitions, as "5" or "5 to 6"."""
    return str(reps.low) if reps.low == reps.high else f"{reps.low} to {reps.high}"


def counted(number: int, thing: str) -> str:
    """A number of things, as "1 set" or "2 sets".

    Args:
        number: things [count]
        thing: one of them
    """
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def listed(names: list[str]) -> str:
    """Names as "knee, hip and ankle"."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
