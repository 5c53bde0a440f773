"""From values to places on an axis, and the round values at which an axis is marked."""

from __future__ import annotations

from math import ceil, floor, log10

from msgspec import Struct

_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


class Scale(Struct, frozen=True):
    """A straight axis: `low` and `high` are values, `start` and `end` where they stand [px]."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Where a value stands [px]; one beyond an end stands at that end."""
        inside = min(self.high, max(self.low, value))
        return self.start + (inside - self.low) / (self.high - self.low) * (self.end - self.start)


def ticks(low: float, high: float, about: int) -> list[float]:
    """Round values between two ends, about so many of them."""
    step = tick_step(low, high, about)
    return [number * step for number in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1)]


def tick_step(low: float, high: float, about: int) -> float:
    """The round distance (1, 2, 2.5 or 5 times a power of ten) that divides a range into no more than `about` parts."""
    wanted = (high - low) / about
    power = 10.0 ** floor(log10(wanted))
    return next(step * power for step in _STEPS if step * power >= wanted * (1 - 1e-9))
