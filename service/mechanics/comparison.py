"""One setup against another of the same lifter, with the inputs that both share moved together.

What is uncertain about the lifter is the same in both setups and largely cancels from their ratio. What belongs to one
exercise alone (how this lifter does a front squat, where that bar sits) does not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from operator import sub, truediv
from typing import Literal

from msgspec import Struct
from msgspec.structs import astuple

from service.intervals import Interval
from service.mechanics.deviations import combined, combined_all
from service.mechanics.sweep import Swept, Values

Difference = Literal["lower", "higher", "no_clear_difference"]
Quantity = Literal["ankle", "knee", "hip", "lumbosacral", "trunk_lean"]

_QUANTITIES: tuple[Quantity, ...] = ("ankle", "knee", "hip", "lumbosacral", "trunk_lean")
_LEG: tuple[Quantity, ...] = ("ankle", "knee", "hip")
_OWN_TO_EXERCISE = frozenset({"shin_angle_of_exercise", "bar_anterior", "abduction", "lead_share", "trunk_lean"})
_ROUNDING = 1e-9  # two sums of the same weights may differ by this much and be the same

_Results = tuple[float, ...]
_Sides = tuple[_Results, _Results]


class Comparison(Struct, frozen=True):
    """New against reference.

    ratio: None where the reference is nil or changes sign within its uncertainty; then the verdict rests on the
    difference instead.
    """

    ratio: Interval | None
    difference: Difference


def compare(new: Swept, reference: Swept) -> dict[Quantity, Comparison]:
    """Moments at every joint and the trunk lean of one setup against those of another of the same lifter.

    A ratio of two flexor moments (both negative) is one of their sizes. Where only one of the two turns the thighs out,
    the legs' moments out of the sagittal plane are missing from it, so no verdict on ankle, knee or hip is given.
    """
    found = dict(zip(_QUANTITIES, compared(new, reference, astuple), strict=False))
    if (new.demand.setup.thigh_projection < 1.0) != (reference.demand.setup.thigh_projection < 1.0):
        for joint in _LEG:
            found[joint] = Comparison(found[joint].ratio, "no_clear_difference")
    return found


def difference(new: Swept, reference: Swept, quantity: Quantity) -> Difference:
    """Whether the new setup asks for less or more than the reference; a span across 1 is no clear difference."""
    return compare(new, reference)[quantity].difference


def compared(new: Swept, reference: Swept, results: Callable[[Values], tuple[float, ...]]) -> list[Comparison]:
    """The comparison of any results that follow from Values, such as a compression computed from them."""
    mine = _moved(new, results)
    other = _moved(reference, results)
    still_mine, still_other = results(new.values), results(reference.values)
    same_rule = new.variant == reference.variant
    low_new, low_reference, high_new, high_reference = [], [], [], []
    for name in {**mine, **other}:
        sides = _together(
            mine.get(name),
            other.get(name),
            (still_mine, still_mine),
            (still_other, still_other),
            common=same_rule or name not in _OWN_TO_EXERCISE,
        )
        for of_new, of_reference in sides:
            low_new.append(of_new[0])
            high_new.append(of_new[1])
            low_reference.append(of_reference[0])
            high_reference.append(of_reference[1])
    spans = combined_all(still_other, other.values())
    columns = [zip(*rows, strict=True) for rows in (low_new, low_reference, high_new, high_reference)]
    return [_comparison(value, span, *moved) for value, span, *moved in zip(still_mine, spans, *columns, strict=True)]


def _comparison(
    value: float,
    reference: Interval,
    *moved: tuple[float, ...],
) -> Comparison:
    """A verdict on one result: `moved` is low, low_reference, high, high_reference, each by input."""
    low, low_reference, high, high_reference = moved
    base = reference.value
    if reference.low > 0.0 or (reference.high < 0.0 and value < 0.0):
        ratio = combined(value / base, map(truediv, low, low_reference), map(truediv, high, high_reference))
        return Comparison(ratio, _verdict(ratio, 1.0))
    gap = combined(value - base, map(sub, low, low_reference), map(sub, high, high_reference))
    return Comparison(None, _verdict(gap, 0.0))


def _verdict(span: Interval, neutral: float) -> Difference:
    if span.high < neutral - _ROUNDING:
        return "lower"
    if span.low > neutral + _ROUNDING:
        return "higher"
    return "no_clear_difference"


def _moved(swept: Swept, results: Callable[[Values], _Results]) -> dict[str, _Sides]:
    return {name: (results(move.low), results(move.high)) for name, move in swept.moves.items()}


def _together(
    in_new: _Sides | None, in_reference: _Sides | None, still_new: _Sides, still_reference: _Sides, *, common: bool
) -> Iterator[tuple[_Sides, _Sides]]:
    """The results (new, reference) with an input moved in both at once, or where it is each one's own, in turn."""
    if common and in_new is not None and in_reference is not None:
        yield in_new, in_reference
        return
    if in_new is not None:
        yield in_new, still_reference
    if in_reference is not None:
        yield still_new, in_reference
