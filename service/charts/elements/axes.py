"""From values to positions on an axis, and the round values at which an axis is marked."""

from __future__ import annotations

from math import ceil, floor, log10
from typing import Final

from msgspec import Struct

_STEPS: Final = (1.0, 2.0, 2.5, 5.0, 10.0)
_TOLERANCE: Final = 1e-9


class Scale(Struct, frozen=True):
    """A linear axis.

    Attributes:
        low: lowest value, in the unit of the axis [any]
        high: highest value, in the unit of the axis [any]
        start: position of the lowest value [px]
        end: position of the highest value [px]
    """

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Position of a value, of one beyond an end that end.

        Args:
            value: in the unit of the axis [any]

        Returns:
            The position [px].
        """
        inside = min(self.high, max(self.low, value))
        return self.start + (inside - self.low) / (self.high - self.low) * (self.end - self.start)


def ticks(low: float, high: float, about: int) -> list[float]:
    """Round values between two ends.

    Args:
        low: lower end, in the unit of the axis [any]
        high: upper end, in the unit of the axis [any]
        about: how many are aimed at [count]

    Returns:
        The values, in the unit of the axis [any].
    """
    step = tick_step(low, high, about)
    return [number * step for number in range(ceil(low / step - _TOLERANCE), floor(high / step + _TOLERANCE) + 1)]


def tick_step(low: float, high: float, about: int) -> float:
    """The round distance (1, 2, 2.5 or 5 times a power of ten) between two ticks.

    Args:
        low: lower end, in the unit of the axis [any]
        high: upper end, in the unit of the axis [any]
        about: most parts into which the range is divided [count]

    Returns:
        The distance, in the unit of the axis [any].
    """
    least = (high - low) / about
    power = 10.0 ** floor(log10(least))
    return next(step * power for step in _STEPS if step * power >= least * (1 - _TOLERANCE))
