"""One setup against another of the same lifter, with the inputs that both share moved together.

The uncertainty of the lifter is the same in both setups and largely cancels from their ratio. The uncertainty of one
exercise (the lifter's habit in a front squat, where that bar sits) does not. The verdict is about what is expected on
average; from one repetition to another the ratio differs by more.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

from service.intervals import Interval, exactly
from service.mechanics.uncertainty.intervals import Changes, Ratio, difference_of_two, is_certain, ratio_of_two
from service.mechanics.uncertainty.propagation import UncertainDemand
from service.vocabulary import Difference

Quantity = Literal["ankle", "knee", "hip", "lumbosacral", "trunk_lean"]

QUANTITIES: tuple[Quantity, ...] = ("ankle", "knee", "hip", "lumbosacral", "trunk_lean")
_LEG: frozenset[Quantity] = frozenset({"ankle", "knee", "hip"})
TOLERANCE = 1e-9  # [1 or N·m], two sums of the same weights may differ by this much by rounding


class Comparison(Struct, frozen=True, gc=False):
    """New against reference.

    Attributes:
        ratio: new over reference; None where the reference is less than its own uncertainty, and the verdict then
            follows from the difference of the two
        difference: verdict on what is expected
    """

    ratio: Ratio | None
    difference: Difference


_ITSELF = Comparison(Ratio(exactly(1.0), exactly(1.0)), "no_clear_difference")
_ITSELF_UNCERTAIN = Comparison(None, "no_clear_difference")


def compare(
    new: UncertainDemand, reference: UncertainDemand, quantities: Sequence[Quantity] = QUANTITIES
) -> dict[Quantity, Comparison]:
    """Moments at every joint and the trunk lean of one setup against those of another of the same lifter.

    A ratio of two flexor moments (both negative) is one of their sizes. Where only one of the two turns the thighs out,
    the legs' moments out of the sagittal plane are missing from it, so no verdict on ankle, knee or hip is given.
    """
    same = new.variant == reference.variant
    values, others = new.values, reference.values
    comparisons = {
        quantity: compared(
            getattr(values, quantity),
            new.changes[quantity],
            getattr(others, quantity),
            reference.changes[quantity],
            same_exercise=same,
        )
        for quantity in quantities
    }
    if (new.demand.setup.thigh_projection < 1.0) != (reference.demand.setup.thigh_projection < 1.0):
        for joint in comparisons.keys() & _LEG:
            comparisons[joint] = Comparison(comparisons[joint].ratio, "no_clear_difference")
    return comparisons


def difference(new: UncertainDemand, reference: UncertainDemand, quantity: Quantity) -> Difference:
    """Verdict on one quantity of a new setup against the reference; an interval across 1 is no clear difference."""
    return compare(new, reference, (quantity,))[quantity].difference


def compared(value: float, changes: Changes, base: float, base_changes: Changes, *, same_exercise: bool) -> Comparison:
    """One result against the reference's.

    Args:
        value: central value [any]
        changes: its changes with the uncertain inputs
        base: central value of the reference [any]
        base_changes: its changes; the same object as `changes` for the reference itself
        same_exercise: whether both are one exercise in one stance
    """
    certain = is_certain(base, base_changes)
    if changes is base_changes:
        return _ITSELF if certain else _ITSELF_UNCERTAIN
    if certain and (base > 0.0 or value < 0.0):
        ratio = ratio_of_two(value, changes, base, base_changes, same_exercise=same_exercise)
        return Comparison(ratio, _verdict(ratio.on_average, 1.0))
    gap = difference_of_two(value, changes, base, base_changes, same_exercise=same_exercise)
    return Comparison(None, _verdict(gap, 0.0))


def _verdict(span: Interval, neutral: float) -> Difference:
    if span.high < neutral - TOLERANCE:
        return "lower"
    if span.low > neutral + TOLERANCE:
        return "higher"
    return "no_clear_difference"
