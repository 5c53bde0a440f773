"""A value with its span, as every part of the service computes it."""

from __future__ import annotations

from collections.abc import Sequence
from math import isclose
from typing import Final

import msgspec

_DUST: Final = 1e-9  # of two numbers: what is less than this between them comes from rounding


def difference(one: float, other: float) -> float:
    """One number less another; nothing where only rounding is between them."""
    return 0.0 if isclose(one, other, rel_tol=_DUST) else one - other


class Interval(msgspec.Struct, frozen=True, gc=False):
    """A value with the span in which it is expected, all in one unit."""

    value: float
    low: float
    high: float

    def scaled(self, factor: float) -> Interval:
        """The same in another unit, or times a number."""
        return Interval(self.value * factor, self.low * factor, self.high * factor)

    def less(self, number: float) -> Interval:
        """The same less a number that is known exactly."""
        return Interval(difference(self.value, number), difference(self.low, number), difference(self.high, number))

    def at_least(self, floor: float) -> Interval:
        """The same where nothing below `floor` is possible."""
        return Interval(max(self.value, floor), max(self.low, floor), max(self.high, floor))


def exactly(value: float) -> Interval:
    """A value without a span: known exactly, or its span not known."""
    return Interval(value, value, value)


def around(value: float, others: Sequence[float]) -> Interval:
    """A value with the span of the other ways of computing it."""
    return Interval(value, min(value, *others), max(value, *others))
