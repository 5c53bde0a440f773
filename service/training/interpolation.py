"""Interpolation in a table, in a straight line between its rows."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence


def interpolated(xs: Sequence[float], ys: Sequence[float], x: float) -> float:
    """The value at a place in a table; held at the table's ends beyond them.

    Args:
        xs: places, rising [any]
        ys: values at them [any]
        x: the place [any]

    Returns:
        The value [any].
    """
    if x <= xs[0]:
        return ys[0]
    if x >= xs[-1]:
        return ys[-1]
    right = bisect_right(xs, x)
    left = right - 1
    return ys[left] + (ys[right] - ys[left]) * (x - xs[left]) / (xs[right] - xs[left])
