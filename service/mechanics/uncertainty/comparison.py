"""One setup against another of the same lifter, with the inputs that both share moved together.

What is uncertain about the lifter is the same in both setups and largely cancels from their ratio. What belongs to one
exercise alone (how this lifter does a front squat, where that bar sits) does not.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

from service.intervals import Interval
from service.mechanics.uncertainty.intervals import difference_of_two, ratio_of_two
from service.mechanics.uncertainty.propagation import Swept
from service.vocabulary import Difference

Quantity = Literal["ankle", "knee", "hip", "lumbosacral", "trunk_lean"]

QUANTITIES: tuple[Quantity, ...] = ("ankle", "knee", "hip", "lumbosacral", "trunk_lean")
_LEG: frozenset[Quantity] = frozenset({"ankle", "knee", "hip"})
_ROUNDING = 1e-9  # two sums of the same weights may differ by this much and be the same


class Comparison(Struct, frozen=True, gc=False):
    """New against reference.

    ratio: None where the reference is less than its own uncertainty; then the verdict rests on the difference instead.
    """

    ratio: Interval | None
    difference: Difference


_ITSELF = Comparison(Interval(1.0, 1.0, 1.0), "no_clear_difference")
_ITSELF_UNCERTAIN = Comparison(None, "no_clear_difference")


def compare(new: Swept, reference: Swept, quantities: Sequence[Quantity] = QUANTITIES) -> dict[Quantity, Comparison]:
    """Moments at every joint and the trunk lean of one setup against those of another of the same lifter.

    A ratio of two flexor moments (both negative) is one of their sizes. Where only one of the two turns the thighs out,
    the legs' moments out of the sagittal plane are missing from it, so no verdict on ankle, knee or hip is given.
    """
    same = new.variant == reference.variant
    found = {quantity: _comparison(new, reference, quantity, same_exercise=same) for quantity in quantities}
    if (new.demand.setup.thigh_projection < 1.0) != (reference.demand.setup.thigh_projection < 1.0):
        for joint in found.keys() & _LEG:
            found[joint] = Comparison(found[joint].ratio, "no_clear_difference")
    return found


def difference(new: Swept, reference: Swept, quantity: Quantity) -> Difference:
    """Whether the new setup asks for less or more than the reference; a span across 1 is no clear difference."""
    return compare(new, reference, (quantity,))[quantity].difference


def _comparison(new: Swept, reference: Swept, quantity: Quantity, *, same_exercise: bool) -> Comparison:
    base, span = getattr(reference.values, quantity), reference.intervals[quantity]
    certain = max(span.high - base, base - span.low) < abs(base)
    if new is reference:
        return _ITSELF if certain else _ITSELF_UNCERTAIN
    value, changes, base_changes = getattr(new.values, quantity), new.changes[quantity], reference.changes[quantity]
    if certain and (base > 0.0 or value < 0.0):
        ratio = ratio_of_two(value, changes, base, base_changes, same_exercise=same_exercise)
        return Comparison(ratio, _verdict(ratio, 1.0))
    gap = difference_of_two(value, changes, base, base_changes, same_exercise=same_exercise)
    return Comparison(None, _verdict(gap, 0.0))


def _verdict(span: Interval, neutral: float) -> Difference:
    if span.high < neutral - _ROUNDING:
        return "lower"
    if span.low > neutral + _ROUNDING:
        return "higher"
    return "no_clear_difference"
