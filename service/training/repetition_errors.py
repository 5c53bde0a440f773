"""Errors of repetitions to failure: from day to day, and of the reserve as it is stated.

Both are rows of repetition_errors.csv. The error of the day goes on in a straight line past the two loads at which it
was measured; that of the reserve grows with the distance from failure. What was done was possible, so nobody has less
than none left; and one repetition with none left is the maximum by definition, however a test of it repeats.
"""

from __future__ import annotations

from math import hypot
from typing import Final

import msgspec

from service.interpolation import interpolated
from service.intervals import Interval, exactly
from service.knowledge.studies import REPETITION_ERRORS

_NEAR, _FAR = (row for row in REPETITION_ERRORS if row.error == "day")
_RISE: Final = 100 * (_FAR.sd - _NEAR.sd) / (_NEAR.at - _FAR.at)
_RESERVES: Final = tuple(row for row in REPETITION_ERRORS if row.error == "reserve")
_STATED: Final = tuple(row.at for row in _RESERVES)
_BIASES: Final = tuple(row.bias for row in _RESERVES)
_SPREADS: Final = tuple(row.sd for row in _RESERVES)


def day_error(share: float) -> float:
    """Standard deviation of one lifter's repetitions to failure from day to day.

    Args:
        share: load over the maximum [1]

    Returns:
        standard deviation [count]

    Source: mitter_2022.
    """
    return _NEAR.sd + _RISE * (_NEAR.at / 100 - share)


class Failure(msgspec.Struct, frozen=True, gc=False):
    """Repetitions to failure behind a set.

    Attributes:
        stated: those done and those stated to be left [count]
        likely: those done and those probably left, with one standard deviation either side [count]
        tested: whether the set was a test of the maximum
    """

    stated: float
    likely: Interval
    tested: bool

    def on_a_day(self, share: float) -> tuple[float, float]:
        """Fewest and most repetitions of a usual day behind the set: the errors of the reserve and of its day.

        Args:
            share: load of the set over the maximum [1]

        Returns:
            one standard deviation below and above the likely ones, at least one repetition [count]
        """
        if self.tested:
            return self.stated, self.stated
        day, likely = day_error(share), self.likely
        below, above = hypot(likely.value - likely.low, day), hypot(likely.high - likely.value, day)
        return max(1.0, likely.value - below), likely.value + above

    def error(self, share: float) -> float:
        """Standard deviation of the repetitions of a usual day, the mean of both sides.

        Args:
            share: load of the set over the maximum [1]

        Returns:
            standard deviation [count]
        """
        return hypot((self.likely.high - self.likely.low) / 2, day_error(share))


def behind(reps: float, reserve: float) -> Failure:
    """Repetitions to failure behind a set with some stated to be left.

    Args:
        reps: done [count]
        reserve: stated to be left [count]

    Source: helms_2017a, refalo_2023b, halperin_2022, zourdos_2021.
    """
    stated = reps + reserve
    if stated == 1:
        return Failure(stated, exactly(stated), tested=True)
    likely = stated + interpolated(_STATED, _BIASES, reserve)
    spread = interpolated(_STATED, _SPREADS, reserve)
    return Failure(stated, Interval(likely, max(reps, likely - spread), likely + spread), tested=False)
