"""Lifters drawn from what the service states of people: their curves, what they say is left, and how days differ.

The figures are keyed in anew, and the curves are drawn and read here by random numbers and interpolation on a grid; nothing
of the service is used. Repetitions to failure at a share of the maximum, on one day, are those of the person and the
error of the day: nuzzo_2024 (secondary) has the spread of single tests, so the day's part (mitter_2022, abstract) lies
inside it and the person's own is the rest. A reserve that is said to be left was found to be too low and off by a spread
that grows with it; nobody has less than none left, and one repetition with none left is the maximum by definition.
"""

from __future__ import annotations

from typing import Final

import msgspec
import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

Numbers = NDArray[np.float64]

PERCENT: Final = np.array([95, 90, 85, 80, 75, 70, 65, 60], dtype=float)
MEAN: Final = {
    "general": np.array([3.28, 4.94, 7.15, 9.75, 12.37, 14.80, 17.11, 19.53]),
    # the general means through the rows published of the lift (90, 80 and 70 %: 4, 8.8 and 14.1), halves between them
    "bench_press": np.array(
        [3.28 * 4 / 4.94, 4, 7.15 * (4 / 4.94 + 8.8 / 9.75) / 2, 8.8, 12.37 * (8.8 / 9.75 + 14.1 / 14.80) / 2, 14.1]
    ),
}
SPREAD: Final = np.array([1.66, 1.90, 2.19, 2.51, 2.88, 3.31, 3.80, 4.37])
BESIDE: Final = 8
"""Rows past the published ones: the logarithms of mean and spread go on as between the last two rows."""
GRID: Final = np.linspace(1.0, 0.3, 2801)
"""Shares of the maximum at which every lifter's curve is kept [1]."""
SAID: Final = np.array([0.0, 2.0, 4.0])
"""Repetitions that are said to be left, for which errors are stated [count]."""
TOO_FEW: Final = np.array([0.0, 0.17, 0.95])
OFF_BY: Final = np.array([0.5, 1.0, 1.6])


def day_error(share: Numbers) -> Numbers:
    """How much the repetitions of one lifter differ from day to day at a share of the maximum [count]."""
    return 0.7 + (1.1 - 0.7) * (0.90 - share) / (0.90 - 0.70)


def truly_left(said: float, draw: Generator, count: int) -> Numbers:
    """Repetitions truly left where some are said to be [count]."""
    middle, spread = np.interp(said, SAID, TOO_FEW), np.interp(said, SAID, OFF_BY)
    return np.maximum(0.0, said + draw.normal(middle, spread, count))


def _rows(lift: str) -> tuple[Numbers, Numbers, Numbers]:
    """Share, mean and spread of single tests by row, carried on past the published ones."""
    mean = MEAN[lift]
    spread, percent = SPREAD[: len(mean)], PERCENT[: len(mean)]
    falls, widens = MEAN["general"][-1] / MEAN["general"][-2], SPREAD[-1] / SPREAD[-2]
    for _ in range(len(mean), len(PERCENT)):  # of the lift nothing, of lifts in general a row
        row = len(mean)
        mean = np.append(mean, mean[-1] * MEAN["general"][row] / MEAN["general"][row - 1])
        spread, percent = SPREAD[: row + 1], PERCENT[: row + 1]
    for _ in range(BESIDE):
        mean, spread = np.append(mean, mean[-1] * falls), np.append(spread, spread[-1] * widens)
        percent = np.append(percent, percent[-1] - 5)
    return percent / 100, mean, spread


class Lifters(msgspec.Struct, frozen=True):
    """Many lifters, all with a maximum of one.

    Attributes:
        log_reps: of each, logarithm of the repetitions to failure of a usual day over GRID [1]
    """

    log_reps: Numbers

    def reps_at(self, share: Numbers) -> Numbers:
        """Each one's repetitions to failure on a usual day at a share of the maximum [count]."""
        place = (GRID[0] - np.clip(share, GRID[-1], GRID[0])) / (GRID[0] - GRID[1])
        left = np.minimum(place.astype(int), len(GRID) - 2)
        each = np.arange(len(self.log_reps))
        before, after = self.log_reps[each, left], self.log_reps[each, left + 1]
        return np.exp(before + (after - before) * (place - left))

    def share_for(self, reps: Numbers) -> Numbers:
        """Share of the maximum at which each does so many repetitions to failure on a usual day [1]."""
        wanted = np.log(np.maximum(reps, 1.0))
        return np.array([np.interp(one, row, GRID) for one, row in zip(wanted, self.log_reps, strict=True)])


def drawn(lift: str, count: int, draw: Generator) -> Lifters:
    """So many lifters at random places in the spread between people."""
    shares, mean, spread = _rows(lift)
    own = np.sqrt(spread**2 - day_error(shares) ** 2)
    curves = []
    for place in draw.standard_normal(count):
        reps = mean + place * own
        rising = reps > np.maximum.accumulate(np.concatenate([[1.0], np.maximum(reps[:-1], 1.0)]))
        curves.append(
            np.interp(-GRID, np.concatenate([[-1.0], -shares[rising]]), np.concatenate([[0.0], np.log(reps[rising])]))
        )
    return Lifters(np.array(curves))
