"""Loads that can be put on a bar: the total nearest to a target, and the plates for it.

Masses are whole thousandths of the unit in which the plates are marked, so sums are exact. The totals of one side are
the set bits of an integer, of at most a million and a quarter: every combination of up to twelve kinds of plate costs
some fifty shifts of it, and the nearest total is read off without a list of them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from itertools import accumulate
from typing import Final, Literal

import msgspec

Rounding = Literal["nearest", "down", "up"]
MASS_TOLERANCE: Final = 1e-6  # [thousandths], by which a target converted from another unit may miss a sum of plates
HEAVIEST: Final = 2_500_000  # thousandths; no more is ever on a bar, and no mass in a request or answer is larger
CACHED_INVENTORIES: Final = 64  # inventories whose sums are cached, each at most HEAVIEST / 2 bits: 10 MB in all


class Plates(msgspec.Struct, frozen=True):
    """A bar and its plates.

    Attributes:
        bar: mass of the bar, at most HEAVIEST [thousandths]
        kinds: mass of a plate [thousandths] and pairs of it [count], by kind
    """

    bar: int
    kinds: tuple[tuple[int, int], ...]


class Loading(msgspec.Struct, frozen=True):
    """A load that can be put on the bar.

    Attributes:
        total: mass of bar and plates [thousandths]
        side: mass of a plate [thousandths] and plates of it on one side [count], heaviest first
    """

    total: int
    side: tuple[tuple[int, int], ...]


class Sums(msgspec.Struct, frozen=True):
    """Sums of plates that one side can hold.

    Attributes:
        step: greatest mass of which every plate is a multiple [thousandths]
        bits: integer whose bit n is set where some plates weigh n steps together [1]
    """

    step: int
    bits: int

    def at_most(self, mass: float) -> int | None:
        """The largest sum not above a mass.

        Args:
            mass: of plates on one side [thousandths]

        Returns:
            mass of plates on one side [thousandths]; None where there is no such sum
        """
        steps = math.floor(mass / self.step)
        below = self.bits & ((1 << steps + 1) - 1) if steps >= 0 else 0
        return (below.bit_length() - 1) * self.step if below else None

    def above(self, mass: float) -> int | None:
        """The smallest sum larger than a mass.

        Args:
            mass: of plates on one side [thousandths]

        Returns:
            mass of plates on one side [thousandths]; None where there is no such sum
        """
        steps = max(0, math.floor(mass / self.step) + 1)
        left = self.bits >> steps
        return (steps + (left & -left).bit_length() - 1) * self.step if left else None


def step_of(plates: Plates) -> int:
    """The greatest mass of which every plate is a multiple [thousandths]."""
    return math.gcd(*(plate for plate, _ in plates.kinds))


def portions(pairs: int) -> Iterator[int]:
    """Counts whose partial sums are all the counts up to a number: 1, 2, 4 … and the rest.

    Args:
        pairs: pairs of one kind of plate [count]

    Returns:
        portions of the pairs [count]
    """
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


@lru_cache(maxsize=CACHED_INVENTORIES)
def sums(plates: Plates) -> Sums:
    """Sums of plates that one side can hold, with the total not above HEAVIEST."""
    *_, bits = _with_each_kind(plates)
    return Sums(step_of(plates), bits)


def heaviest_total(plates: Plates) -> int:
    """The heaviest load that the bar can hold [thousandths]."""
    side = sums(plates)
    return plates.bar + 2 * (side.bits.bit_length() - 1) * side.step


def loadable_total(plates: Plates, target: float, rounding: Rounding = "nearest") -> int | None:
    """The load nearest to, at most, or at least a target; of two equally near the lighter one, which is the safer.

    Args:
        plates: bar and plates
        target: mass of bar and plates wanted [thousandths]
        rounding: nearest, down or up

    Returns:
        mass of bar and plates [thousandths]; None where there is no such load
    """
    by_side = sums(plates)
    side_target = (target - plates.bar) / 2
    below, above = by_side.at_most(side_target + MASS_TOLERANCE), by_side.above(side_target + MASS_TOLERANCE)
    exact = below is not None and abs(below - side_target) <= MASS_TOLERANCE
    if rounding == "down" or exact:
        side = below
    elif rounding == "up" or below is None:
        side = above
    elif above is None:
        side = below
    else:
        side = above if above - side_target < side_target - below else below
    return None if side is None else plates.bar + 2 * side


def loadable(plates: Plates, target: float, rounding: Rounding = "nearest") -> Loading | None:
    """The load of loadable_total with the plates that make it up; None where there is no such load.

    Args:
        plates: bar and plates
        target: mass of bar and plates wanted [thousandths]
        rounding: nearest, down or up
    """
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
    """Whole steps of a machine, a belt or a dumbbell in a load.

    Args:
        load: to be put together, of either sign [kg]
        step: from one load to the next, more than 0 [kg]

    Returns:
        greatest number of steps not above the load [count]
    """
    return math.floor(load / step + STEP_TOLERANCE)
