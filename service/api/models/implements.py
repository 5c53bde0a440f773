"""What the loads of an exercise are made of: a bar with plates, or dumbbells, machines and belts in steps."""

from __future__ import annotations

from collections.abc import Callable
from math import floor
from typing import Final

from msgspec import UnsetType

from service.adjustment.prescription import lifts_the_body
from service.api.models.common import BarSetup, bar_of
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.units import SI, Mass, MassUnit, si

RoundDown = Callable[[str, float], float | None]
STEP: Final = CHOICES.adjustments.step
_FORGIVEN: Final = 1e-9  # of a step


def whole_step(exercise: str, step: float) -> float:
    """What the whole load goes up by [kg] with a step [kg] of one implement: a pair of dumbbells by two of them."""
    return step * (2 if EXERCISES[exercise].dumbbells else 1)


def implement(bar: BarSetup | UnsetType, increment: Mass | UnsetType, unit: MassUnit, where: str) -> RoundDown:
    """The function from exercise and load [kg] to the heaviest load not above it that can be put together [kg].

    increment: of one dumbbell, machine, belt or assistance; a pair of dumbbells goes up by two of them. The function's
    answer is None where the empty bar is heavier, or nothing would be on another implement. Raises Refusal for an impossible bar or increment.
    """
    held = bar_of(bar, unit, f"{where}/bar")
    step = STEP[unit] * SI[unit] if isinstance(increment, UnsetType) else si(increment)
    if step <= 0:
        raise Refusal.one(f"{where.lstrip('/')}/increment", "A step of nothing leads nowhere.", "more than 0")

    def round_down(exercise: str, load: float) -> float | None:
        if not EXERCISES[exercise].bar:
            whole = whole_step(exercise, step)
            steps = floor(load / whole + _FORGIVEN)
            return steps * whole if steps > 0 or lifts_the_body(exercise) else None
        found = held.nearest(load, "down")
        return None if found is None else si(found)

    return round_down
