"""Interpolation in a table, in a straight line between its rows."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence


def interpolated(places: Sequence[float], values: Sequence[float], place: float) -> float:
    """The value at a place in a table; held at the table's ends beyond them.

    Args:
        places: of the rows, rising [any]
        values: of the rows [any]
        place: where the value is wanted [any]

    Returns:
        The value [any].
    """
    if place <= places[0]:
        return values[0]
    if place >= places[-1]:
        return values[-1]
    right = bisect_right(places, place)
    left = right - 1
    return values[left] + (values[right] - values[left]) * (place - places[left]) / (places[right] - places[left])
