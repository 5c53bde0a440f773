"""A value with its span, as every part of the service computes it."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec


class Interval(msgspec.Struct, frozen=True, gc=False):
    """A value with the span in which it is expected, all in one unit."""

    value: float
    low: float
    high: float

    def scaled(self, factor: float) -> Interval:
        """The same in another unit, or times a number."""
        return Interval(self.value * factor, self.low * factor, self.high * factor)


def around(value: float, others: Sequence[float]) -> Interval:
    """A value with the span of the other ways of computing it."""
    return Interval(value, min(value, *others), max(value, *others))
