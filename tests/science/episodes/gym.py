"""What can be loaded with what a request says there is, counted plate by plate."""

from __future__ import annotations

from math import isclose
from typing import Final

from service.knowledge.catalogue import BARS, EXERCISES
from tests.science.episodes.prescribed import Json, amount

PAIRS: Final = 4  # of each plate, where a request does not say
STEP: Final = {"kg": 2.5, "lb": 5.0}
TOLERANCE: Final = 0.01  # [kg]


class Gym:
    """The bar with its plates, and the step of everything else, of one consultation."""

    def __init__(self, request: Json) -> None:
        """Take them from what adjustments was asked, or the usual ones of the unit."""
        constraints = request.get("constraints", {})
        self.unit: str = request["prescription"]["load"]["unit"]
        self.stated = amount(request["prescription"]["load"])
        self.step = amount(constraints.get("increment", {"value": STEP[self.unit], "unit": self.unit}))
        bar = constraints.get("bar")
        usual = BARS[bar["bar"]["unit"] if bar else self.unit]
        self.bar = amount(bar["bar"] if bar else {"value": usual.bar, "unit": self.unit})
        if bar and "plates" in bar:
            kinds = [(amount(one["plate"]), one.get("pairs", PAIRS)) for one in bar["plates"]]
        else:
            unit = bar["bar"]["unit"] if bar else self.unit
            kinds = [(amount({"value": kind / 1000, "unit": unit}), pairs) for kind, pairs in usual.kinds]
        self.on_the_bar = {self.bar}
        for plate, pairs in kinds:
            self.on_the_bar = {round(load + 2 * n * plate, 4) for load in self.on_the_bar for n in range(pairs + 1)}

    def fault(self, prescription: Json) -> str | None:
        """Why a prescription cannot be loaded, None where it can; what the lifter does now can."""
        load, lift = amount(prescription["load"]), EXERCISES[prescription["exercise"]]
        if isclose(load, self.stated, abs_tol=TOLERANCE) or (load == 0 and not lift.bar):
            return None
        if lift.bar and load > 0:
            if load < self.bar - TOLERANCE:
                return f"{load:g} kg is below the bar"
            if not any(isclose(load, one, abs_tol=TOLERANCE) for one in self.on_the_bar):
                return f"{load:g} kg cannot be put on the bar"
            return None
        steps = load / self.step
        return None if isclose(steps, round(steps), abs_tol=TOLERANCE) else f"{load:g} kg is no whole step"

    def between(self, before: Json, after: Json) -> bool:
        """Whether the lift can be loaded with more than before and less than after."""
        low, high = amount(before["load"]) + TOLERANCE, amount(after["load"]) - TOLERANCE
        if EXERCISES[before["exercise"]].bar:
            return any(low < load < high for load in self.on_the_bar)
        steps = 2 if EXERCISES[before["exercise"]].dumbbells else 1
        return (low // (steps * self.step) + 1) * steps * self.step < high
