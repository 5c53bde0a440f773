"""What was measured about rest between sets, as the study's figures say it: by set, in total, and by cut in load.

The rows of rest_observations.csv; a row without a figure is kept as a report in words.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate
from typing import Final

import msgspec

from service.knowledge.loader import read_csv


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


Rows = Sequence[dict[str, str]]


def _figures(text: str) -> list[float]:
    return [float(figure) for figure in text.split()]


def _after_losses(percents: str) -> tuple[float, ...]:
    """Fractions of the first set left after losing so many percent from each set to the next."""
    losses = _figures(percents)
    return tuple(accumulate(losses, lambda left, loss: left * (1 - loss / 100), initial=1.0))


def _sets_results(rows: Rows) -> tuple[SetsResult, ...]:
    found = []
    for row in rows:
        if row["loss_percent_low_by_set"]:
            low, high = _after_losses(row["loss_percent_high_by_set"]), _after_losses(row["loss_percent_low_by_set"])
        elif row["reps_by_set"] and not row["cut_percent_holds"]:
            reps = _figures(row["reps_by_set"])
            low = high = tuple(count / reps[0] for count in reps)
        else:
            continue
        lifts = tuple(row["exercise"].split())
        rest = float(row["rest_seconds"])
        found.append(SetsResult(lifts, row["exercise_as_published"], rest, low, high, row["source"]))
    return tuple(sorted(found, key=lambda result: result.rest))


def _totals_results(rows: Rows, by_set: Iterable[SetsResult]) -> tuple[TotalsResult, ...]:
    points: dict[tuple[tuple[str, ...], str, str], list[tuple[float, float]]] = {}
    for row in rows:
        if row["total_relative_to_one_minute"]:
            key = (tuple(row["exercise"].split()), row["exercise_as_published"], row["source"])
            points.setdefault(key, []).append((float(row["rest_seconds"]), float(row["total_relative_to_one_minute"])))
    for result in by_set:
        if result.low == result.high:
            points.setdefault((result.exercises, result.name, result.source), []).append((result.rest, sum(result.low)))
    return tuple(
        TotalsResult(lifts, name, tuple(sorted(found)), source)
        for (lifts, name, source), found in points.items()
        if len(found) > 1
    )


def _drop_results(rows: Rows) -> tuple[DropResult, ...]:
    spans: dict[tuple[tuple[str, ...], str, float, str], tuple[list[float], list[float]]] = {}
    for row in rows:
        little, holds, much = (row[f"cut_percent_{which}"] for which in ("too_little", "holds", "too_much"))
        if little or holds or much:
            key = (
                tuple(row["exercise"].split()),
                row["exercise_as_published"],
                float(row["rest_seconds"]),
                row["source"],
            )
            lows, highs = spans.setdefault(key, ([], []))
            lows.extend(float(text) / 100 for text in (little, holds) if text)
            highs.extend(float(text) / 100 for text in (holds, much) if text)
    return tuple(
        DropResult(lifts, name, rest, max(lows), min(highs), source)
        for (lifts, name, rest, source), (lows, highs) in spans.items()
    )


def _reports(rows: Rows) -> tuple[Report, ...]:
    figures = (
        "reps_by_set",
        "total_relative_to_one_minute",
        "loss_percent_low_by_set",
        "cut_percent_too_little",
        "cut_percent_holds",
        "cut_percent_too_much",
    )
    return tuple(
        Report(tuple(row["exercise"].split()), row["exercise_as_published"], row["result"], row["source"])
        for row in rows
        if not any(row[figure] for figure in figures)
    )


_ROWS: Final = read_csv("rest_observations.csv")
BY_SET: Final = _sets_results(_ROWS)
TOTALS: Final = _totals_results(_ROWS, BY_SET)
DROPS: Final = _drop_results(_ROWS)
REPORTS: Final = _reports(_ROWS)
SHORTEST: Final = BY_SET[0].rest
LONGEST: Final = max(rest for result in TOTALS for rest, _ in result.points)
