"""On which days of the week sessions fall, and what of a course is known week by week."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from statistics import mean


def days_to_the_next(days_a_week: int) -> Iterator[int]:
    """Days from each session to the next one, spread over the week as evenly as whole days allow; without end."""
    days = [number * 7 // days_a_week for number in range(days_a_week + 1)]
    while True:
        yield from (later - earlier for earlier, later in pairwise(days))


def weekly_means(scores: Sequence[tuple[int, float]]) -> list[float]:
    """Mean score of each week in which there was one, oldest first, from scores with their days."""
    weeks: dict[int, list[float]] = {}
    for day, score in scores:
        weeks.setdefault(day // 7, []).append(score)
    return [round(mean(weeks[week]), 2) for week in sorted(weeks)]
