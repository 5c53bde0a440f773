"""One setup against another of the same lifter, with the inputs that both share moved together.

The uncertainty of the lifter is the same in both setups and largely cancels from their ratio. The uncertainty of one
exercise (the lifter's habit in a front squat, where that bar sits) does not. The verdict is about what is expected on
average; from one repetition to another the ratio differs by more.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

from msgspec import Struct

from service.intervals import Interval, exactly
from service.mechanics.dynamics import product
from service.mechanics.uncertainty.intervals import Changes, Ratio, difference_of_two, is_certain, ratio_of_two
from service.mechanics.uncertainty.propagation import UncertainDemand
from service.vocabulary import Difference

Quantity = Literal["ankle", "knee", "hip", "hip_adductor", "hip_resultant", "lumbosacral", "trunk_lean"]

QUANTITIES: tuple[Quantity, ...] = (
    "ankle",
    "knee",
    "hip",
    "hip_adductor",
    "hip_resultant",
    "lumbosacral",
    "trunk_lean",
)
_UNSEEN_WIDTH = 0.01  # [m]
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


ITSELF: Final = Comparison(Ratio(exactly(1.0), exactly(1.0)), "no_clear_difference")
"""The reference against itself."""
_ITSELF_UNCERTAIN = Comparison(None, "no_clear_difference")


def compare(
    new: UncertainDemand, reference: UncertainDemand, quantities: Sequence[Quantity] = QUANTITIES
) -> dict[Quantity, Comparison]:
    """Moments at every joint and the trunk lean of one setup against those of another of the same lifter.

    A ratio of two flexor moments (both negative) is one of their sizes. By its width alone a wider stance is not said
    to ask the knee for less: between lifters it was measured to ask for more (escamilla_2001b), within lifters for a
    smaller share (larsen_2021b).
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
    by_width = _wider(new, reference, "lower") or _wider(reference, new, "higher")
    if by_width and "knee" in comparisons and comparisons["knee"].difference == by_width:
        comparisons["knee"] = Comparison(comparisons["knee"].ratio, "no_clear_difference")
    return comparisons


def _wider(one: UncertainDemand, other: UncertainDemand, verdict: Difference) -> Difference | None:
    """The verdict that the width of a stance is not enough for, None where one is no wider stance of the same squat."""
    wide, narrow = one.demand.setup, other.demand.setup
    width, other_width = wide.stance.width, narrow.stance.width
    if width is None or other_width is None or wide.exercise != narrow.exercise:
        return None
    return verdict if width > other_width + _UNSEEN_WIDTH else None


def at_pace(comparison: Comparison, pace: Interval) -> Comparison:
    """A comparison of setups at rest as one of their repetitions; without a ratio there is no verdict either.

    Args:
        comparison: of the two at rest
        pace: factor of the new one's turn over the reference's [1]
    """
    if comparison.ratio is None:
        return Comparison(None, "no_clear_difference")
    on_average = product(comparison.ratio.on_average, pace)
    return Comparison(Ratio(product(comparison.ratio.one, pace), on_average), verdict_of_ratio(on_average))


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
        return ITSELF if certain else _ITSELF_UNCERTAIN
    if certain and (base > 0.0 or value < 0.0):
        ratio = ratio_of_two(value, changes, base, base_changes, same_exercise=same_exercise)
        return Comparison(ratio, _verdict(ratio.on_average, 1.0))
    gap = difference_of_two(value, changes, base, base_changes, same_exercise=same_exercise)
    return Comparison(None, _verdict(gap, 0.0))


def verdict_of_ratio(ratio: Interval) -> Difference:
    """Whether a ratio lies below or above 1 with its whole span; across it there is no clear difference.

    Args:
        ratio: of two moments or factors [1]
    """
    return _verdict(ratio, 1.0)


def _verdict(span: Interval, neutral: float) -> Difference:
    if span.high < neutral - TOLERANCE:
        return "lower"
    if span.low > neutral + TOLERANCE:
        return "higher"
    return "no_clear_difference"
