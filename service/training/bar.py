"""What a bar can hold: every total that its plates allow, the nearest one, and the plates for it.

Works in whole thousandths of the unit in which the plates are marked, so sums are exact. The totals of one side are the
set bits of an integer, which makes trying every combination a handful of shifts.
"""

from __future__ import annotations

import bisect
import math
from functools import lru_cache
from typing import Literal

import msgspec

Rounding = Literal["nearest", "down", "up"]
FORGIVEN = 1e-6


class Plates(msgspec.Struct, frozen=True):
    """A bar and its plates: masses in thousandths of one unit, pairs of each plate, one per side."""

    bar: int
    kinds: tuple[tuple[int, int], ...]


class Loading(msgspec.Struct, frozen=True):
    """A load that can be put on the bar.

    In thousandths, and the plates of one side as (mass, count), heaviest first.
    """

    total: int
    side: tuple[tuple[int, int], ...]


class Sides(msgspec.Struct, frozen=True):
    """What one side can hold.

    step: the greatest mass of which every plate is a multiple; masks: sums reachable with the first 0, 1, 2 … kinds,
    lightest first, as bits of multiples of the step; sums: the reachable ones in order [thousandths].
    """

    step: int
    masks: tuple[int, ...]
    sums: tuple[int, ...]


@lru_cache(maxsize=256)
def _sides(plates: Plates) -> Sides:
    step = math.gcd(*(plate for plate, _ in plates.kinds))
    masks = [1]
    for plate, pairs in sorted(plates.kinds):
        mask = masks[-1]
        for _ in range(pairs):
            mask |= mask << plate // step
        masks.append(mask)
    bits = bin(masks[-1])[:1:-1]
    return Sides(step, tuple(masks), tuple(place * step for place, bit in enumerate(bits) if bit == "1"))


def loadable_total(plates: Plates, target: float, rounding: Rounding = "nearest") -> int | None:
    """The load nearest to, at most, or at least a target [thousandths]; None if there is none.

    Equally near: the lighter one, which is the safer.
    """
    sums = _sides(plates).sums
    wanted = (target - plates.bar) / 2
    # a millionth of forgiveness: a target converted from another unit must not miss its own plate sum
    place = bisect.bisect_right(sums, wanted + FORGIVEN)
    below = sums[place - 1] if place else None
    above = sums[place] if place < len(sums) else None
    if below is not None and abs(below - wanted) <= FORGIVEN:
        above = below
    if rounding == "down" or above is None:
        side = below if rounding != "up" else None
    elif rounding == "up" or below is None:
        side = above
    else:
        side = above if above - wanted < wanted - below else below
    return None if side is None else plates.bar + 2 * side


def loadable(plates: Plates, target: float, rounding: Rounding = "nearest") -> Loading | None:
    """The load of `loadable_total` with the plates that make it up."""
    total = loadable_total(plates, target, rounding)
    if total is None:
        return None
    return Loading(total, _plates_for(plates, _sides(plates), (total - plates.bar) // 2))


def _plates_for(plates: Plates, sides: Sides, side: int) -> tuple[tuple[int, int], ...]:
    """Plates that make up a reachable side sum, as many of the heavy ones as possible."""
    chosen = []
    kinds = sorted(plates.kinds)
    for index in range(len(kinds) - 1, -1, -1):
        plate, pairs = kinds[index]
        for count in range(min(pairs, side // plate), -1, -1):
            if sides.masks[index] >> (side - count * plate) // sides.step & 1:
                break
        if count:
            chosen.append((plate, count))
        side -= count * plate
    return tuple(chosen)
