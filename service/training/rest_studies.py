"""Results of studies of rest between sets: by set, in total, and by cut in load.

They are the rows of rest_observations.csv; a row without a figure is a report in words.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate
from typing import Final, NamedTuple

import msgspec

from service.knowledge.studies import REST, RestRow


class SetsResult(msgspec.Struct, frozen=True):
    """Repetitions of each set at one rest, as fractions of the first set's.

    Attributes:
        exercises: lifts in the study
        name: lifts as published
        rest: rest between the sets [s]
        low: lowest fraction in each set [1]
        high: highest fraction in each set [1]
        source: id in the bibliography
    """

    exercises: tuple[str, ...]
    name: str
    rest: float
    low: tuple[float, ...]
    high: tuple[float, ...]
    source: str


class RestTotal(NamedTuple):
    """Repetitions of all sets at one rest.

    Attributes:
        rest: rest between the sets [s]
        total: repetitions of all sets, relative to a scale of the study's own [1]
    """

    rest: float
    total: float


class TotalsResult(msgspec.Struct, frozen=True):
    """Repetitions of all sets at several rests.

    Attributes:
        exercises: lifts in the study
        name: lifts as published
        points: totals by rest, shortest rest first
        source: id in the bibliography
    """

    exercises: tuple[str, ...]
    name: str
    points: tuple[RestTotal, ...]
    source: str


class DropResult(msgspec.Struct, frozen=True):
    """Cut in load from each set to the next that keeps the repetitions at one rest.

    Attributes:
        exercises: lifts in the study
        name: lifts as published
        rest: rest between the sets [s]
        low: least cut as a fraction of the load [1]
        high: greatest cut as a fraction of the load [1]
        source: id in the bibliography
    """

    exercises: tuple[str, ...]
    name: str
    rest: float
    low: float
    high: float
    source: str


class Report(msgspec.Struct, frozen=True):
    """A comparison of rests that was reported in words alone.

    Attributes:
        exercises: lifts in the study
        name: lifts as published
        finding: result in words
        source: id in the bibliography
    """

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
    points: dict[tuple[tuple[str, ...], str, str], list[RestTotal]] = {}
    for row in rows:
        if row.total_relative_to_one_minute:
            key = (row.exercises, row.exercise_as_published, row.source)
            points.setdefault(key, []).append(RestTotal(row.rest_seconds, row.total_relative_to_one_minute))
    for result in by_set:
        if result.low == result.high:
            points.setdefault((result.exercises, result.name, result.source), []).append(
                RestTotal(result.rest, sum(result.low))
            )
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
