"""The interval of a result from what each input, moved on its own, made of it."""

from __future__ import annotations

from collections.abc import Iterable
from math import sqrt

from service.intervals import Interval


def combined_all(
    nominal: tuple[float, ...], moves: Iterable[tuple[tuple[float, ...], tuple[float, ...]]]
) -> list[Interval]:
    """Root sum of squares of the one-at-a-time deviations, separately below and above, for each place of the tuples."""
    lows, highs = zip(*moves, strict=True)
    return [
        combined(value, low, high)
        for value, low, high in zip(nominal, zip(*lows, strict=True), zip(*highs, strict=True), strict=True)
    ]


def combined(value: float, lows: Iterable[float], highs: Iterable[float]) -> Interval:
    """The interval of one result from what each moved input made of it."""
    below = above = 0.0
    for one, other in zip(lows, highs, strict=True):
        lowest, highest = (one, other) if one < other else (other, one)
        if lowest < value:
            below += (lowest - value) ** 2
        if highest > value:
            above += (highest - value) ** 2
    return Interval(value, value - sqrt(below), value + sqrt(above))
