"""What a bar can hold: the total nearest to a target of all that its plates allow, and the plates for it.

Works in whole thousandths of the unit in which the plates are marked, so sums are exact. The totals of one side are the
set bits of an integer, of at most a million and a quarter: every combination of up to twelve kinds of plate costs some
fifty shifts of it, and the nearest total is found without listing them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from itertools import accumulate
from typing import Final, Literal

import msgspec

Rounding = Literal["nearest", "down", "up"]
FORGIVEN: Final = 1e-6
HEAVIEST: Final = 2_500_000  # thousandths; no more is ever on a bar, and no mass in a request or answer is larger
KEPT: Final = 64  # inventories whose sums are remembered, each at most HEAVIEST / 2 bits: 10 MB in all


class Plates(msgspec.Struct, frozen=True):
    """A bar, at most `HEAVIEST`, and its plates: masses in thousandths of one unit, pairs of each, one per side."""

    bar: int
    kinds: tuple[tuple[int, int], ...]


class Loading(msgspec.Struct, frozen=True):
    """A load that can be put on the bar.

    In thousandths, and the plates of one side as (mass, count), heaviest first.
    """

    total: int
    side: tuple[tuple[int, int], ...]


class Sums(msgspec.Struct, frozen=True):
    """What one side can hold: bit n is set where some plates weigh n steps [thousandths] together."""

    step: int
    bits: int

    def at_most(self, mass: float) -> int | None:
        """The largest sum not above a mass."""
        steps = math.floor(mass / self.step)
        below = self.bits & ((1 << steps + 1) - 1) if steps >= 0 else 0
        return (below.bit_length() - 1) * self.step if below else None

    def above(self, mass: float) -> int | None:
        """The smallest sum larger than a mass."""
        steps = max(0, math.floor(mass / self.step) + 1)
        left = self.bits >> steps
        return (steps + (left & -left).bit_length() - 1) * self.step if left else None


def step_of(plates: Plates) -> int:
    """The greatest mass of which every plate is a multiple [thousandths]."""
    return math.gcd(*(plate for plate, _ in plates.kinds))


def portions(pairs: int) -> Iterator[int]:
    """Counts whose partial sums are all the counts up to `pairs`: 1, 2, 4 … and what is left."""
    count = 1
    while pairs > 0:
        yield min(count, pairs)
        pairs -= count
        count *= 2


def _with_each_kind(plates: Plates) -> Iterator[int]:
    """The sums reachable with the first 0, 1, 2 … kinds, lightest first, as bits; up to the heaviest total."""
    step = step_of(plates)
    most = (1 << (HEAVIEST - plates.bar) // 2 // step + 1) - 1

    def with_kind(bits: int, kind: tuple[int, int]) -> int:
        plate, pairs = kind
        for count in portions(pairs):
            bits |= bits << count * plate // step & most
        return bits

    return accumulate(sorted(plates.kinds), with_kind, initial=1)


@lru_cache(maxsize=KEPT)
def sums(plates: Plates) -> Sums:
    """What one side can hold, with the whole not above `HEAVIEST`."""
    *_, bits = _with_each_kind(plates)
    return Sums(step_of(plates), bits)


def heaviest_total(plates: Plates) -> int:
    """The heaviest load that the bar can hold [thousandths]."""
    found = sums(plates)
    return plates.bar + 2 * (found.bits.bit_length() - 1) * found.step


def loadable_total(plates: Plates, target: float, rounding: Rounding = "nearest") -> int | None:
    """The load nearest to, at most, or at least a target [thousandths]; None if there is none.

    Equally near: the lighter one, which is the safer.
    """
    found = sums(plates)
    wanted = (target - plates.bar) / 2
    # a millionth of forgiveness: a target converted from another unit must not miss its own plate sum
    below, above = found.at_most(wanted + FORGIVEN), found.above(wanted + FORGIVEN)
    exact = below is not None and abs(below - wanted) <= FORGIVEN
    if rounding == "down" or exact:
        side = below
    elif rounding == "up" or below is None:
        side = above
    elif above is None:
        side = below
    else:
        side = above if above - wanted < wanted - below else below
    return None if side is None else plates.bar + 2 * side


def loadable(plates: Plates, target: float, rounding: Rounding = "nearest") -> Loading | None:
    """The load of `loadable_total` with the plates that make it up."""
    total = loadable_total(plates, target, rounding)
    return None if total is None else Loading(total, _plates_for(plates, (total - plates.bar) // 2))


def _plates_for(plates: Plates, side: int) -> tuple[tuple[int, int], ...]:
    """Plates that make up a reachable side sum, as many of the heavy ones as possible."""
    chosen = []
    step = step_of(plates)
    *with_lighter, _ = _with_each_kind(plates)
    for (plate, pairs), bits in zip(sorted(plates.kinds, reverse=True), reversed(with_lighter), strict=True):
        most = min(pairs, side // plate)
        count = next(count for count in range(most, -1, -1) if bits >> (side - count * plate) // step & 1)
        if count:
            chosen.append((plate, count))
        side -= count * plate
    return tuple(chosen)


STEP_TOLERANCE: Final = 1e-9  # of a step: a load that is a whole number of steps must not miss the last by rounding


def whole_steps(load: float, step: float) -> int:
    """Steps of a machine, a belt or a dumbbell that a load holds.

    Args:
        load: to be put together, of either sign [kg]
        step: from one load to the next, more than 0 [kg]

    Returns:
        The greatest number of steps not above the load [count].
    """
    return math.floor(load / step + STEP_TOLERANCE)
