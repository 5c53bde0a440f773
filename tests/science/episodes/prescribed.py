"""A prescription as the API writes it, read by the simulated lifter: kilograms, metres, degrees and seconds."""

from __future__ import annotations

from math import isclose
from typing import Any, Final

Json = dict[str, Any]
_FACTORS: Final = {
    "kg": 1.0,
    "lb": 0.45359237,
    "m": 1.0,
    "cm": 0.01,
    "in": 0.0254,
    "ft": 0.3048,
    "deg": 1.0,
    "rad": 57.29577951308232,
    "s": 1.0,
    "min": 60.0,
}
USUAL_DAYS: Final = 2  # a week, where a prescription states none
USUAL_RESERVE: Final = 2.0


def amount(quantity: Json | None) -> float:
    """A quantity in kg, m, deg or s; nothing where there is none."""
    return 0.0 if quantity is None else float(quantity["value"]) * _FACTORS[quantity["unit"]]


def days_a_week(prescription: Json) -> int:
    return int(prescription.get("days_per_week") or USUAL_DAYS)


def load_of(prescription: Json) -> float:
    """Load less assistance [kg]."""
    return amount(prescription["load"]) - amount(prescription.get("assistance"))


def seconds_moving(tempo: str | None) -> float | None:
    """Seconds of lowering and lifting of a repetition, None where no tempo is prescribed; X counts as none."""
    if tempo is None:
        return None
    phases = tempo.split("-")
    return sum(0.0 if phase == "X" else float(phase) for phase in (phases[0], phases[2]))


def is_explosive(tempo: str | None) -> bool:
    return tempo is not None and tempo.split("-")[2] == "X"


def is_the_original(prescription: Json, original: Json) -> bool:
    """Whether a prescription is the original again: the same work, and nothing that protects.

    Reserve and rest are no part of it; null is as good as left out; quantities may have been converted and back.
    """
    if not isclose(load_of(prescription), load_of(original), rel_tol=1e-3, abs_tol=1e-6):
        return False
    exact = all(prescription[field] == original[field] for field in ("exercise", "sets", "reps"))
    days = [one for one in (prescription.get("days_per_week"), original.get("days_per_week")) if one is not None]
    extras = all(
        _same(prescription.get(field), original.get(field)) for field in ("depth", "technique", "cues", "tempo", "hold")
    )
    return exact and extras and (len(days) < 2 or days[0] == days[1])


def _same(one: Any, other: Any) -> bool:  # noqa: ANN401 - any JSON
    if isinstance(one, dict) and "unit" in one and isinstance(other, dict):
        return isclose(amount(one), amount(other), rel_tol=1e-3, abs_tol=1e-6)
    if isinstance(one, dict) or isinstance(other, dict):
        here, there = ({name: value for name, value in (d or {}).items() if value is not None} for d in (one, other))
        return here.keys() == there.keys() and all(_same(here[name], there[name]) for name in here)
    return bool(one == other or (not one and not other))
