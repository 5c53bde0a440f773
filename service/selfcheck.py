"""Whether the service may answer: one published example is recomputed through the real relation and data.

Data files are checked when they are loaded; a service whose data do not load does not start.
"""

from __future__ import annotations

from typing import Final

from service.training.load_repetition import RELATIONS, maximum

EXAMPLE: Final = ("kemmler_2006", 100.0, 10.0, 122.36)
"""Relation, load [kg], repetitions and the maximum [kg] by the published equation (kemmler_2006, abstract)."""


def check() -> None:
    """Raise RuntimeError if the published example does not come out."""
    relation, load, reps, expected = EXAMPLE
    computed = maximum(RELATIONS[relation], load, reps)
    if abs(computed - expected) > 0.005:  # noqa: PLR2004 - half of the last printed digit
        message = f"{relation} gives {computed} for {load} x {reps}, published {expected}"
        raise RuntimeError(message)
