"""What was measured about rest between sets, as the study's figures say it: by set, in total, and by cut in load.

The rows of rest_observations.csv; a row without a figure is kept as a report in words.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate
from typing import Final

import msgspec

from service.knowledge.studies import REST, RestRow


class SetsResult(msgspec.Struct, frozen=True):
    """Measured after one rest [s]: the fraction of the first set's repetitions done in each set, lowest and highest."""

    exercises: tuple[str, ...]
    name: str
    rest: float
    low: tuple[float, ...]
    high: tuple[float, ...]
    source: str


class TotalsResult(msgspec.Struct, frozen=True):
    """Measured in one lift: (rest [s], repetitions of all sets, on a scale of the study's own), shortest rest first."""

    exercises: tuple[str, ...]
    name: str
    points: tuple[tuple[float, float], ...]
    source: str


class DropResult(msgspec.Struct, frozen=True):
    """Measured after one rest [s]: the cut in load a set that holds the repetitions, as a span of fractions."""

    exercises: tuple[str, ...]
    name: str
    rest: float
    low: float
    high: float
    source: str


class Report(msgspec.Struct, frozen=True):
    """A comparison of rests that was reported in words alone."""

    exercises: tuple[str, ...]
    name: str
    finding: str
    source: str


Rows = Sequence[RestRow]


def _after_losses(losses: tuple[float, ...]) -> tuple[float, ...]:
    """Fractions of the first set left after losing so many percent from each set to the next."""
    return tuple(accumulate(losses, lambda left, loss: left * (1 - loss / 100), initial=1.0))


def _sets_results(rows: Rows) -> tuple[SetsResult, ...]:
    results = []
    for row in rows:
        if row.loss_percent_low_by_set:
            low, high = _after_losses(row.loss_percent_high_by_set), _after_losses(row.loss_percent_low_by_set)
        elif row.reps_by_set and not row.cut_percent_holds:
            low = high = tuple(reps / row.reps_by_set[0] for reps in row.reps_by_set)
        else:
            continue
        results.append(SetsResult(row.exercises, row.exercise_as_published, row.rest_seconds, low, high, row.source))
    return tuple(sorted(results, key=lambda result: result.rest))


def _totals_results(rows: Rows, by_set: Iterable[SetsResult]) -> tuple[TotalsResult, ...]:
    points: dict[tuple[tuple[str, ...], str, str], list[tuple[float, float]]] = {}
    for row in rows:
        if row.total_relative_to_one_minute:
            key = (row.exercises, row.exercise_as_published, row.source)
            points.setdefault(key, []).append((row.rest_seconds, row.total_relative_to_one_minute))
    for result in by_set:
        if result.low == result.high:
            points.setdefault((result.exercises, result.name, result.source), []).append((result.rest, sum(result.low)))
    return tuple(
        TotalsResult(lifts, name, tuple(sorted(totals)), source)
        for (lifts, name, source), totals in points.items()
        if len(totals) > 1
    )


def _drop_results(rows: Rows) -> tuple[DropResult, ...]:
    spans: dict[tuple[tuple[str, ...], str, float, str], tuple[list[float], list[float]]] = {}
    for row in rows:
        little, holds, much = row.cut_percent_too_little, row.cut_percent_holds, row.cut_percent_too_much
        if little or holds or much:
            key = (row.exercises, row.exercise_as_published, row.rest_seconds, row.source)
            lows, highs = spans.setdefault(key, ([], []))
            lows.extend(cut / 100 for cut in (little, holds) if cut)
            highs.extend(cut / 100 for cut in (holds, much) if cut)
    return tuple(
        DropResult(lifts, name, rest, max(lows), min(highs), source)
        for (lifts, name, rest, source), (lows, highs) in spans.items()
    )


def _reports(rows: Rows) -> tuple[Report, ...]:
    return tuple(
        Report(row.exercises, row.exercise_as_published, row.result, row.source) for row in rows if not row.has_figures
    )


BY_SET: Final = _sets_results(REST)
TOTALS: Final = _totals_results(REST, BY_SET)
DROPS: Final = _drop_results(REST)
REPORTS: Final = _reports(REST)
SHORTEST: Final = BY_SET[0].rest
LONGEST: Final = max(rest for result in TOTALS for rest, _ in result.points)
