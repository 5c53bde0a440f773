"""One way of lifting on the way back: its loads, and what each asks of the sore region.

The peak of a repetition rises with the load nearly in a straight line, so two solutions tell which load to look at; the
load taken is always one whose peak was computed.
"""

from __future__ import annotations

from bisect import bisect_right
from math import inf, isfinite
from typing import Final

from msgspec.structs import replace

from service.adjustment.demand import region_ratio
from service.adjustment.prescription import Prescription, body_moved, total_load
from service.adjustment.return_plan.budget import Budget
from service.adjustment.return_plan.problem import TOLERANCE, ReturnCase, maximum
from service.errors import Refusal

LOAD_TOLERANCE: Final = 1e-4
"""Difference below which two loads are one [kg]."""
_CEILING_TOLERANCE: Final = 1e-6
"""How far a load may be above a ceiling that comes from rounding [kg]."""

Loads = tuple[float, ...]
"""Loads of one exercise [kg], lightest first."""


class Lift:
    """One way of lifting on the way back; remembers every peak it has computed.

    Attributes:
        case: the return
        budget: of postures
        prescription: exercise, depth, technique and tempo, whatever the load
        loads: that the implement holds, lightest first [kg]
        most: maximum in it, body included [kg]
        body: what of the lifter counts as load [kg]
        slope: rise of the peak with the load from the lightest to the heaviest [1/kg], 0 where one cannot be held
        has_number: whether a number is known for the region, else the effort against the original's stands for it
    """

    def __init__(self, case: ReturnCase, budget: Budget, prescription: Prescription, loads: Loads) -> None:
        """Computes the peaks of the lightest and the heaviest load; raises BudgetExceeded."""
        self.case = case
        self.budget = budget
        self.prescription = prescription
        self.most = maximum(case, prescription)
        self.body = body_moved(prescription.exercise, case.body_mass)
        self.loads = loads
        self.has_number = bool(self.loads) and region_ratio(case.present, prescription, case.region) is not None
        self._peaks: dict[float, float] = {}
        self.slope = 0.0
        self._lowest = self.peak(self.loads[0]) if self.loads else inf
        if len(self.loads) > 1 and isfinite(self._lowest) and isfinite(self.peak(self.loads[-1])):
            lightest, heaviest = self.loads[0], self.loads[-1]
            self.slope = (self.peak(heaviest) - self._lowest) / (heaviest - lightest)

    def peak(self, load: float) -> float:
        """Peak demand of a repetition with a load against the original's.

        Args:
            load: on the implement [kg]

        Returns:
            The demand [1], infinite where the load cannot be held.
        """
        peak = self._peaks.get(load)
        if peak is None:
            self.budget.count_posture()
            try:
                peak = self._computed(replace(self.prescription, load=load))
            except Refusal:
                peak = inf
            self._peaks[load] = peak
        return peak

    def has_scale(self, load: float) -> bool:
        """Whether anything says what a load asks against the original: a number, loads, or the same lift of the body.

        Args:
            load: on the implement [kg]
        """
        original = self.case.original
        if self.has_number or total_load(original, self.case.body_mass) > 0:
            return self.has_number or load + self.body > 0
        return self.prescription.exercise == original.exercise

    def _computed(self, prescription: Prescription) -> float:
        case = self.case
        if self.has_number:
            ratio = region_ratio(case.present, prescription, case.region)
            if ratio is not None:
                return ratio
        original = case.original
        known = total_load(original, case.body_mass)
        if not known:  # nothing is lifted but the body's own parts, and nothing more will be
            return 1.0
        relative = total_load(prescription, case.body_mass) / known
        if prescription.exercise == original.exercise:
            return relative
        return relative * maximum(case, original) / self.most

    def heaviest(self, peak: float, ceiling: float) -> float | None:
        """The heaviest of its loads within a ceiling and a peak.

        Args:
            peak: most that a repetition may ask, against the original's [1]
            ceiling: load that is not exceeded [kg]

        Returns:
            The load [kg], None where there is none.
        """
        loads, peaks, highest = self.loads, self._peaks, peak + TOLERANCE
        top = index = bisect_right(loads, ceiling + _CEILING_TOLERANCE) - 1
        if index < 0:
            return None
        if self.slope > 0:
            guess = loads[0] + (peak - self._lowest) / self.slope
            index = min(index, max(0, bisect_right(loads, guess + _CEILING_TOLERANCE)))
        while index < top and (peaks.get(loads[index + 1]) or self.peak(loads[index + 1])) <= highest:
            index += 1
        while index >= 0 and (peaks.get(loads[index]) or self.peak(loads[index])) > highest:
            index -= 1
        return loads[index] if index >= 0 else None
