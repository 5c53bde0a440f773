"""Forms of the load–repetition relations: each with its constants, its share of the maximum, and the inverse."""

from __future__ import annotations

import math
from collections.abc import Callable

from service.knowledge.records import Record
from service.knowledge.studies import RepetitionTable
from service.training.repetition_tables import CURVES

ShareFunction = Callable[[float], float]
"""Share of the maximum [1] from repetitions to failure [count]."""


class Linear(Record, frozen=True, tag_field="form", tag="linear"):
    """Share = 1 / (1 + slope × reps).

    Attributes:
        slope: of the maximum over the load with each repetition [1]
    """

    slope: float

    def share_function(self) -> ShareFunction:
        """The share of the maximum, its constants bound."""
        slope = self.slope
        return lambda reps: 1 / (1 + slope * reps)

    def reps_at(self, share: float) -> float:
        """Repetitions to failure [count] at a share.

        Args:
            share: share of the maximum [1]
        """
        return (1 / share - 1) / self.slope


class Hyperbolic(Record, frozen=True, tag_field="form", tag="hyperbolic"):
    """Share = (start − slope × reps) / numerator.

    Attributes:
        numerator: as printed [1]
        start: as printed, in the unit of the numerator [1]
        slope: fall with each repetition, in the unit of the numerator [1]
    """

    numerator: float
    start: float
    slope: float

    def share_function(self) -> ShareFunction:
        """The share of the maximum, its constants bound."""
        start, slope, numerator = self.start, self.slope, self.numerator
        return lambda reps: (start - slope * reps) / numerator

    def reps_at(self, share: float) -> float:
        """Repetitions to failure [count] at a share.

        Args:
            share: share of the maximum [1]
        """
        return (self.start - self.numerator * share) / self.slope


class Power(Record, frozen=True, tag_field="form", tag="power"):
    """Share = reps^−exponent.

    Attributes:
        exponent: as printed [1]
    """

    exponent: float

    def share_function(self) -> ShareFunction:
        """The share of the maximum, its constants bound."""
        exponent = -self.exponent
        return lambda reps: float(reps**exponent)

    def reps_at(self, share: float) -> float:
        """Repetitions to failure [count] at a share.

        Args:
            share: share of the maximum [1]
        """
        return float(share ** (-1 / self.exponent))


class Exponential(Record, frozen=True, tag_field="form", tag="exponential"):
    """Share = (floor + drop × e^(−rate × reps)) / numerator.

    Attributes:
        numerator: as printed [1]
        floor: share after endless repetitions, in the unit of the numerator [1]
        drop: from none to endless repetitions, in the unit of the numerator [1]
        rate: of the fall with each repetition [1]
    """

    numerator: float
    floor: float
    drop: float
    rate: float

    def share_function(self) -> ShareFunction:
        """The share of the maximum, its constants bound."""
        floor, drop, rate, numerator = self.floor, self.drop, self.rate, self.numerator
        return lambda reps: (floor + drop * math.exp(-rate * reps)) / numerator

    def reps_at(self, share: float) -> float:
        """Repetitions to failure [count] at a share.

        Args:
            share: share of the maximum [1]
        """
        return -math.log((self.numerator * share - self.floor) / self.drop) / self.rate


class Cubic(Record, frozen=True, tag_field="form", tag="cubic"):
    """Share = 1 / (c0 + c1 × reps + c2 × reps² + c3 × reps³).

    Attributes:
        c0: constant term [1]
        c1: linear term [1]
        c2: square term [1]
        c3: cubic term [1]
    """

    c0: float
    c1: float
    c2: float
    c3: float

    def share_function(self) -> ShareFunction:
        """The share of the maximum, its constants bound."""
        c0, c1, c2, c3 = self.c0, self.c1, self.c2, self.c3
        return lambda reps: 1 / (c0 + reps * (c1 + reps * (c2 + reps * c3)))

    def reps_at(self, share: float) -> float:
        """Repetitions to failure [count] at a share, by Newton's method from the inflection.

        Args:
            share: share of the maximum [1]
        """
        c0, c1, c2, c3 = self.c0, self.c1, self.c2, self.c3
        reps = -c2 / (3 * c3)  # no step overshoots from there
        for _ in range(8):
            miss = c0 + reps * (c1 + reps * (c2 + reps * c3)) - 1 / share
            reps -= miss / (c1 + reps * (2 * c2 + reps * 3 * c3))
        return reps


class Tabulated(Record, frozen=True, tag_field="form", tag="table"):
    """Interpolated in a table of repetitions.

    Attributes:
        table: name of the table
    """

    table: RepetitionTable

    def share_function(self) -> ShareFunction:
        """The share of the maximum, from the table's means."""
        return CURVES[self.table][0].share_at

    def reps_at(self, share: float) -> float:
        """Repetitions to failure [count] at a share.

        Args:
            share: share of the maximum [1]
        """
        return CURVES[self.table][0].reps_at(share)


class FiveRepLine(Record, frozen=True, tag_field="form", tag="five_rep_line"):
    """Maximum = slope × load + intercept, of sets of five repetitions to failure.

    Attributes:
        slope: of the maximum over the load [1]
        intercept_kg: maximum at no load [kg]
        standard_error_kg: standard error of the estimate [kg]
    """

    slope: float
    intercept_kg: float
    standard_error_kg: float

    def maximum(self, load: float) -> float:
        """One-repetition maximum [kg] from five repetitions to failure.

        Args:
            load: mass lifted [kg]
        """
        return self.slope * load + self.intercept_kg


class FixedPercent(Record, frozen=True, tag_field="form", tag="fixed_percent"):
    """Maximum = intercept + product × reps × load + reps slope × reps, of sets at one percentage of the maximum.

    Attributes:
        intercept_kg: maximum without repetitions [kg]
        product: of repetitions and load [1]
        reps_slope_kg: with each repetition [kg]
        percent: of the maximum at which the sets were done [%]
        standard_error_kg: standard error of the estimate [kg]
    """

    intercept_kg: float
    product: float
    reps_slope_kg: float
    percent: float
    standard_error_kg: float

    def maximum(self, load: float, reps: float) -> float:
        """One-repetition maximum [kg] from a set at the percentage.

        Args:
            load: mass lifted [kg]
            reps: repetitions to failure [count]
        """
        return self.intercept_kg + self.product * reps * load + self.reps_slope_kg * reps


class NotComputed(Record, frozen=True, tag_field="form", tag="not_computed"):
    """Listed for completeness."""


CurveForm = Linear | Hyperbolic | Power | Exponential | Cubic | Tabulated
"""Forms that have a share of the maximum for any repetitions, not only a maximum."""
Form = CurveForm | FiveRepLine | FixedPercent | NotComputed
