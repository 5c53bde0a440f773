"""What can be loaded for an exercise in the gym that a request describes."""

from __future__ import annotations

from math import floor
from typing import Final

import msgspec

from service.api.models.common import Bar
from service.api.models.implements import whole_step
from service.knowledge.catalogue import EXERCISES
from service.units import si

_FORGIVEN: Final = 1e-9  # of a step


class GymLoads(msgspec.Struct, frozen=True):
    """What can be loaded: a bar with its plates, or steps [kg] and the loads [kg] that the request says are there."""

    bar: Bar
    step: float
    there: tuple[float, ...]

    def down(self, exercise: str, load: float) -> float | None:
        """The heaviest load [kg] not above a load [kg]; None where there is none."""
        if load in self.there and (load == 0 or not EXERCISES[exercise].bar):
            return load
        if EXERCISES[exercise].bar:
            found = self.bar.nearest(load, "down")
            return None if found is None else si(found)
        step = whole_step(exercise, self.step)
        steps = floor(load / step + _FORGIVEN)
        return steps * step if steps > 0 or EXERCISES[exercise].carry == "body" else None

    def above(self, exercise: str, load: float) -> float | None:
        """The lightest load [kg] heavier than a load [kg]; None where there is none."""
        if EXERCISES[exercise].bar:
            found = self.bar.nearest(load * (1 + 1e-7), "up")
            return None if found is None else si(found)
        step = whole_step(exercise, self.step)
        return (floor(load / step + _FORGIVEN) + 1) * step
