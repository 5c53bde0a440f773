"""Tables of repetitions to failure by share of the maximum, as curves for people at and about the mean.

The tables are interpolated linearly in the logarithm of repetitions, which is how the 2024 meta-regression was fitted
(nuzzo_2024: log repetitions, spread between people in repetitions). Past its last row its natural spline goes on in a
straight line, and so does the logarithm of the spread: so the ends of intervals do, but no value (our choice).

The published spread is that of single tests, so the error of the day (mitter_2022) is part of it; what is left of it is
each person's own. The distribution of people is summed over a few of them, two of whom stand one standard deviation
either side of the mean: where all of them are in order, the ends of an interval are those two.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist
from typing import Final

import msgspec

from service.interpolation import interpolated
from service.knowledge.studies import REPETITION_TABLES, RepetitionTable
from service.training.repetition_errors import day_error

Z_SCORES: Final = (-1, 0, 1)
"""People for whom there are curves of single tests: standard deviations of repetitions from the mean."""
_CARRIED_ON: Final = 4
"""Rows past the published ones, so that the ends of every interval lie inside the curves [count]."""
_BELOW: Final = NormalDist().cdf(-1)
"""Part of people more than one standard deviation below the mean [1]."""
_OUTER: Final = 0.1
"""Part of people for whom the outermost one stands [1]."""
_WEIGHTS: Final = (
    _OUTER, 2 * (_BELOW - _OUTER), 0.5 + _OUTER - 2 * _BELOW, 0.5 + _OUTER - 2 * _BELOW, 2 * (_BELOW - _OUTER), _OUTER
)  # fmt: skip
"""Part of people for whom each one of `Lifters.people` stands, in order of repetitions [1]."""


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
        return math.exp(interpolated(self.shares[::-1], self.log_reps[::-1], share))

    def share_at(self, reps: float) -> float:
        """Share of the maximum at a number of repetitions; held at the table's ends beyond them.

        Args:
            reps: repetitions to failure [count]

        Returns:
            share of the maximum [1]
        """
        return interpolated(self.log_reps, self.shares, math.log(reps))


class Lifters(msgspec.Struct, frozen=True):
    """Curves of usual days, without the error of the day, carried on past the published rows.

    Attributes:
        mean: of the lifter at the mean
        people: of lifters over the distribution of people, in order of repetitions
    """

    mean: Curve
    people: tuple[Curve, ...]


class _Row(msgspec.Struct, frozen=True):
    """Repetitions at a share of the maximum: their mean and their spread between people in single tests [count]."""

    share: float
    mean: float
    spread: float


def two_thirds(values: Sequence[float]) -> tuple[float, float]:
    """Ends between which the middle 68 % of people lie, one standard deviation where they are normal.

    Args:
        values: of each of `Lifters.people` [any]

    Returns:
        lower and upper end [any]
    """
    reached, middles, ordered = 0.0, [], sorted(zip(values, _WEIGHTS, strict=True))
    for _, weight in ordered:
        middles.append(reached + weight / 2)
        reached += weight
    rising = [value for value, _ in ordered]
    return interpolated(middles, rising, _BELOW), interpolated(middles, rising, 1 - _BELOW)


def _curve(rows: Sequence[tuple[float, float]]) -> Curve:
    """A curve from (share, repetitions) rows; rows that do not lie above the one before are left out.

    The latter happens only to a curve below the mean near the maximum, where the spread is as large as the mean.
    """
    shares, log_reps = [1.0], [0.0]
    for share, reps in rows:
        if share < 1 and reps > 1 and math.log(reps) > log_reps[-1]:
            shares.append(share)
            log_reps.append(math.log(reps))
    return Curve(tuple(shares), tuple(log_reps))


def _of(name: RepetitionTable) -> list[tuple[float, float]]:
    """The published rows of a table: share, mean."""
    return [(row.share_of_max, row.mean_reps) for row in REPETITION_TABLES if row.table == name]


def _general() -> list[_Row]:
    """The general table with its spread, carried on."""
    rows = [
        _Row(row.share_of_max, row.mean_reps, row.sd_reps or 0.0) for row in REPETITION_TABLES if row.table == "general"
    ]
    for _ in range(_CARRIED_ON):
        before, last = rows[-2:]
        rows.append(
            _Row(2 * last.share - before.share, last.mean**2 / before.mean, last.spread**2 / before.spread),
        )
    return rows


def _scaled(general: Sequence[_Row], published: Sequence[tuple[float, float]]) -> list[_Row]:
    """The general rows scaled through a few published rows of one lift, whose spread is not published."""
    mean = {row.share: row.mean for row in general}
    shares = tuple(share for share, _ in published)
    ratios = tuple(reps / mean[share] for share, reps in published)
    return [_Row(row.share, row.mean * interpolated(shares, ratios, row.share), row.spread) for row in general]


def _tables() -> dict[RepetitionTable, list[_Row]]:
    """Every table with its spread, carried on; the textbook's, which has none, as it is."""
    general = _general()
    return {
        "general": general,
        "textbook": [_Row(share, reps, 0.0) for share, reps in _of("textbook")],
        "bench_press": _scaled(general, sorted(_of("bench_press"))),
        "leg_press": _scaled(general, sorted(_of("leg_press"))),
    }


def _single_tests(name: RepetitionTable, rows: Sequence[_Row]) -> dict[int, Curve]:
    """Curves of single tests by the person's distance from the mean; the mean one ends where the published rows do."""
    last = min(share for share, _ in _of(name))
    curves = {z_score: _curve([(row.share, row.mean + z_score * row.spread) for row in rows]) for z_score in Z_SCORES}
    return {**curves, 0: _curve([(row.share, row.mean) for row in rows if row.share >= last])}


def _lifters(rows: Sequence[_Row]) -> Lifters:
    own = [math.sqrt(max(0.0, row.spread**2 - day_error(row.share) ** 2)) for row in rows]
    ends = [sum(_WEIGHTS[:place]) + weight / 2 for place, weight in enumerate(_WEIGHTS)]
    people = tuple(
        _curve(
            [(row.share, row.mean + NormalDist().inv_cdf(end) * spread) for row, spread in zip(rows, own, strict=True)]
        )
        for end in ends
    )
    return Lifters(_curve([(row.share, row.mean) for row in rows]), people)


_ROWS: Final = _tables()
CURVES: Final = {name: _single_tests(name, rows) for name, rows in _ROWS.items()}
"""Curves of single tests by the name of the table and by the person's distance from the mean in standard deviations."""
LIFTERS: Final = {name: _lifters(rows) for name, rows in _ROWS.items()}
"""Lifters over the distribution of people by the name of the table."""
