"""A value with its interval, as every part of the service computes it."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, isclose
from typing import Final

import msgspec

RELATIVE_TOLERANCE: Final = 1e-9  # two numbers that differ by less differ by rounding


def difference(one: float, other: float) -> float:
    """One number less another; 0 where they differ by rounding alone."""
    return 0.0 if isclose(one, other, rel_tol=RELATIVE_TOLERANCE) else one - other


class Interval(msgspec.Struct, frozen=True, gc=False):
    """A value with its interval, all in one unit.

    Attributes:
        value: central value [any]
        low: lower end [any]
        high: upper end [any]
    """

    value: float
    low: float
    high: float

    def scaled(self, factor: float) -> Interval:
        """The same in another unit, or times a number."""
        return Interval(self.value * factor, self.low * factor, self.high * factor)

    def times(self, other: Interval) -> Interval:
        """The product of two, none of whose ends is negative."""
        return Interval(self.value * other.value, self.low * other.low, self.high * other.high)

    def at_most(self, ceiling: float) -> Interval:
        """The same where nothing above a ceiling counts."""
        return Interval(min(self.value, ceiling), min(self.low, ceiling), min(self.high, ceiling))

    def less(self, number: float) -> Interval:
        """The same less a number that is known exactly."""
        return Interval(difference(self.value, number), difference(self.low, number), difference(self.high, number))

    def raised(self, floor: float) -> Interval:
        """The same in proportion where a value below a floor is known to be too low."""
        return self.scaled(floor / self.value) if self.value < floor else self

    def at_least(self, floor: float) -> Interval:
        """The same where nothing below a floor is possible."""
        return Interval(max(self.value, floor), max(self.low, floor), max(self.high, floor))


def exactly(value: float) -> Interval:
    """A value without a span: known exactly, or its span not known."""
    return Interval(value, value, value)


def combined(value: float, *errors: tuple[float, float]) -> Interval:
    """A value with independent errors together: either side the root of the sum of their squares.

    Args:
        value: central value [any]
        errors: of each the two values that it makes of the central one, by one standard deviation either way [any]
    """
    below = hypot(*(max(0.0, value - min(ends)) for ends in errors))
    above = hypot(*(max(0.0, max(ends) - value) for ends in errors))
    return Interval(value, value - below, value + above)


def around(value: float, others: Sequence[float]) -> Interval:
    """A value with the interval spanned by other ways of computing it."""
    return Interval(value, min(value, *others), max(value, *others))
