"""Tables of repetitions to failure by share of the maximum, as curves for people at and about the mean.

The tables are interpolated linearly in the logarithm of repetitions, which is how the 2024 meta-regression was fitted
(nuzzo_2024: log repetitions, spread between people in repetitions).
"""

from __future__ import annotations

import bisect
import math
from typing import Final

import msgspec

from service.knowledge.studies import REPETITION_TABLES, RepetitionTable

Z_SCORES: Final = (-1, 0, 1)
"""People for whom there are curves: standard deviations of repetitions from the mean."""


class Curve(msgspec.Struct, frozen=True):
    """A table ready for interpolation, from the maximum on.

    Attributes:
        shares: shares of the maximum, falling [1]
        log_reps: logarithms of repetitions to failure, rising [1]
    """

    shares: tuple[float, ...]
    log_reps: tuple[float, ...]

    def reps_at(self, share: float) -> float:
        """Repetitions to failure at a share of the maximum; held at the table's ends beyond them.

        Args:
            share: share of the maximum [1]

        Returns:
            repetitions to failure [count]
        """
        ascending = self.shares[::-1]
        return math.exp(_interpolated(ascending, self.log_reps[::-1], share))

    def share_at(self, reps: float) -> float:
        """Share of the maximum at a number of repetitions; held at the table's ends beyond them.

        Args:
            reps: repetitions to failure [count]

        Returns:
            share of the maximum [1]
        """
        return _interpolated(self.log_reps, self.shares, math.log(reps))


def _interpolated(xs: tuple[float, ...], ys: tuple[float, ...], x: float) -> float:
    if x <= xs[0]:
        return ys[0]
    if x >= xs[-1]:
        return ys[-1]
    right = bisect.bisect_right(xs, x)
    left = right - 1
    return ys[left] + (ys[right] - ys[left]) * (x - xs[left]) / (xs[right] - xs[left])


def _curve(rows: list[tuple[float, float]]) -> Curve:
    """A curve from (share, repetitions) rows; rows that do not lie above the one before are left out.

    The latter happens only to a curve one SD below the mean near the maximum, where the spread is as large as the mean.
    """
    shares, log_reps = [1.0], [0.0]
    for share, reps in rows:
        if share < 1 and reps > 1 and math.log(reps) > log_reps[-1]:
            shares.append(share)
            log_reps.append(math.log(reps))
    return Curve(tuple(shares), tuple(log_reps))


def _scaled(general: list[tuple[float, float]], published: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The general rows scaled through a few published rows of one lift, down to the lowest published row."""
    mean = dict(general)
    ratio_shares = tuple(share for share, _ in published)
    ratios = tuple(reps / mean[share] for share, reps in published)
    return [
        (share, reps * _interpolated(ratio_shares, ratios, share))
        for share, reps in general
        if share >= ratio_shares[0]
    ]


def _curves() -> dict[RepetitionTable, dict[int, Curve]]:
    """Every table as curves by the person's distance from the mean in standard deviations."""

    def of(name: RepetitionTable) -> list[tuple[float, float]]:
        return [(row.share_of_max, row.mean_reps) for row in REPETITION_TABLES if row.table == name]

    spread = {row.share_of_max: row.sd_reps for row in REPETITION_TABLES if row.sd_reps}
    general = of("general")
    means: dict[RepetitionTable, list[tuple[float, float]]] = {
        "general": general,
        "textbook": of("textbook"),
        "bench_press": _scaled(general, sorted(of("bench_press"))),
        "leg_press": _scaled(general, sorted(of("leg_press"))),
    }
    return {
        name: {
            z_score: _curve([(share, reps + z_score * spread.get(share, 0.0)) for share, reps in mean])
            for z_score in Z_SCORES
        }
        for name, mean in means.items()
    }


CURVES: Final = _curves()
"""Curves by the name of the table and by the person's distance from the mean in standard deviations."""
