"""One setup against another of the same lifter, with the inputs that both share moved together.

What is uncertain about the lifter is the same in both setups and largely cancels from their ratio. What belongs to one
exercise alone (how this lifter does a front squat, where that bar sits) does not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Literal

from msgspec import Struct

from service.mechanics.sweep import Interval, Swept, Values, combined_all

Difference = Literal["lower", "higher", "no_clear_difference"]
Quantity = Literal["ankle", "knee", "hip", "lumbosacral", "trunk_lean"]

_QUANTITIES: tuple[Quantity, ...] = ("ankle", "knee", "hip", "lumbosacral", "trunk_lean")
_OWN_TO_EXERCISE = frozenset({"shin_angle_of_exercise", "bar_anterior", "abduction", "lead_share", "trunk_lean"})
_ROUNDING = 1e-9  # two sums of the same weights may differ by this much and be the same

_Pair = tuple[Values, Values]


class Comparison(Struct, frozen=True):
    """New against reference.

    ratio: None where the reference is nil or changes sign within its uncertainty; then the verdict rests on the
    difference instead.
    """

    ratio: Interval | None
    difference: Difference


def compare(new: Swept, reference: Swept) -> dict[Quantity, Comparison]:
    """Moments at every joint and the trunk lean of one setup against those of another of the same lifter.

    A ratio of two flexor moments (both negative) is one of their sizes.
    """
    return dict(zip(_QUANTITIES, compared(new, reference, lambda values: values[:5]), strict=True))


def difference(new: Swept, reference: Swept, quantity: Quantity) -> Difference:
    """Whether the new setup asks for less or more than the reference; a span across 1 is no clear difference."""
    return compare(new, reference)[quantity].difference


def compared(
    new: Swept, reference: Swept, results: Callable[[Values], tuple[float, ...]]
) -> list[Comparison]:
    """The comparison of any results that follow from Values, such as a compression computed from them."""
    mine, other = results(new.values), results(reference.values)
    other_spans = combined_all(other, ((results(low), results(high)) for low, high in reference.moves.values()))
    moved = [
        (results(low[0]), results(low[1]), results(high[0]), results(high[1]))
        for low, high in _moved_together(new, reference)
    ]
    found: list[Comparison] = []
    for place, span in enumerate(other_spans):
        value, base = mine[place], other[place]
        if span.low > 0.0 or (span.high < 0.0 and value < 0.0):
            pairs = [((a[place] / b[place],), (c[place] / d[place],)) for a, b, c, d in moved]
            ratio = combined_all((value / base,), pairs)[0]
            found.append(Comparison(ratio, _verdict(ratio, 1.0)))
        else:
            gaps = [((a[place] - b[place],), (c[place] - d[place],)) for a, b, c, d in moved]
            found.append(Comparison(None, _verdict(combined_all((value - base,), gaps)[0], 0.0)))
    return found


def _verdict(span: Interval, neutral: float) -> Difference:
    if span.high < neutral - _ROUNDING:
        return "lower"
    if span.low > neutral + _ROUNDING:
        return "higher"
    return "no_clear_difference"


def _moved_together(new: Swept, reference: Swept) -> Iterator[tuple[_Pair, _Pair]]:
    """For each input the results (new, reference) with it moved down, and with it moved up."""
    still_new, still_reference = new.values, reference.values
    same_rule = new.variant == reference.variant
    for name in {**new.moves, **reference.moves}:
        mine, other = new.moves.get(name), reference.moves.get(name)
        if mine is not None and other is not None and (same_rule or name not in _OWN_TO_EXERCISE):
            yield (mine.low, other.low), (mine.high, other.high)
            continue
        if mine is not None:
            yield (mine.low, still_reference), (mine.high, still_reference)
        if other is not None:
            yield (still_new, other.low), (still_new, other.high)
