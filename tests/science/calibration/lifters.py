"""Lifters drawn from what the service states of people: their curves, what they say is left, and how days differ.

The figures are keyed in anew, and the curves are made of random numbers and read on a grid; nothing of the service is
used. Repetitions to failure at a share of the maximum are those of the person and the error of the day: nuzzo_2024
(secondary) has the spread of single tests, so the day (mitter_2022, abstract) is part of it, and the rest is the
person's. A stated reserve is too low in the mean, and off by more the larger it is; nobody has less than none left.
"""

from __future__ import annotations

from typing import Final

import msgspec
import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

Numbers = NDArray[np.float64]

PERCENT: Final = np.array([95.0, 90, 85, 80, 75, 70, 65, 60])
GENERAL: Final = np.array([3.28, 4.94, 7.15, 9.75, 12.37, 14.80, 17.11, 19.53])
SPREAD: Final = np.array([1.66, 1.90, 2.19, 2.51, 2.88, 3.31, 3.80, 4.37])
BENCH_PRESS: Final = np.array([4, 8.8, 14.1]) / np.array([4.94, 9.75, 14.80])
"""Repetitions of the bench press over those of lifts in general at 90, 80 and 70 %; between them halves."""
MEANS: Final = {"general": GENERAL, "bench_press": GENERAL * np.interp(-PERCENT, [-90, -80, -70], BENCH_PRESS)}
BEYOND: Final = 8
"""Rows past the published ones: the logarithms of mean and spread go on as between the last two."""
GRID: Final = np.linspace(1.0, 0.3, 2801)
"""Shares of the maximum on which every lifter's curve is kept [1]."""
STATED: Final = np.array([0.0, 2.0, 4.0])
"""Reserves for which errors are given: by how many repetitions too low, and by how many off [count]."""
TOO_LOW: Final = np.array([0.0, 0.17, 0.95])
OFF_BY: Final = np.array([0.5, 1.0, 1.6])


def day_error(share: Numbers) -> Numbers:
    """Standard deviation of one lifter's repetitions from day to day: 0.7 at 90 % and 1.1 at 70 % [count]."""
    return 0.7 + (1.1 - 0.7) * (0.90 - share) / (0.90 - 0.70)


def truly_left(stated: Numbers, draw: Generator) -> Numbers:
    """Repetitions truly left, of each lifter's stated reserve [count]."""
    middle, off = np.interp(stated, STATED, TOO_LOW), np.interp(stated, STATED, OFF_BY)
    left: Numbers = np.maximum(0.0, stated + draw.normal(middle, off))
    return left


class Lifters(msgspec.Struct, frozen=True):
    """Lifters, all with a maximum of one.

    Attributes:
        log_reps: of each, logarithm of the repetitions to failure of a usual day over GRID [1]
    """

    log_reps: Numbers

    def reps_at(self, share: Numbers) -> Numbers:
        """Repetitions to failure of each on a usual day, each at a share of the maximum [count]."""
        place = (GRID[0] - np.clip(share, GRID[-1], GRID[0])) / (GRID[0] - GRID[1])
        left = np.minimum(place.astype(int), len(GRID) - 2)
        each = np.arange(len(self.log_reps))
        before, after = self.log_reps[each, left], self.log_reps[each, left + 1]
        reps: Numbers = np.exp(before + (after - before) * (place - left))
        return reps

    def share_for(self, reps: Numbers) -> Numbers:
        """Share of the maximum at which each does so many repetitions to failure on a usual day [1]."""
        wanted = np.log(np.maximum(reps, 1.0))
        return np.array([np.interp(one, row, GRID) for one, row in zip(wanted, self.log_reps, strict=True)])

    def reps_on_a_day(self, share: Numbers, draw: Generator) -> Numbers:
        """Repetitions to failure of each on one day, each at a share of the maximum [count]."""
        return self.reps_at(share) + draw.normal(0, day_error(share))

    def share_on_a_day(self, reps: float, draw: Generator) -> Numbers:
        """Share of the maximum at which each does so many repetitions to failure on one day [1]."""
        usual = self.share_for(np.full(len(self.log_reps), reps))
        return self.share_for(reps - draw.normal(0, day_error(usual)))


def drawn(lift: str, count: int, draw: Generator) -> Lifters:
    """So many lifters at random places in the spread between people."""
    steps = np.arange(1, BEYOND + 1)
    shares = np.concatenate([PERCENT, PERCENT[-1] - 5 * steps]) / 100
    mean = np.concatenate([MEANS[lift], MEANS[lift][-1] * (GENERAL[-1] / GENERAL[-2]) ** steps])
    spread = np.concatenate([SPREAD, SPREAD[-1] * (SPREAD[-1] / SPREAD[-2]) ** steps])
    own = np.sqrt(spread**2 - day_error(shares) ** 2)
    curves = []
    for place in draw.standard_normal(count):
        reps = mean + place * own
        before = np.maximum.accumulate(np.concatenate([[1.0], reps[:-1]]))
        kept = reps > before  # near the maximum the spread is as large as the mean
        curves.append(np.interp(-GRID, [-1.0, *-shares[kept]], [0.0, *np.log(reps[kept])]))
    return Lifters(np.array(curves))
