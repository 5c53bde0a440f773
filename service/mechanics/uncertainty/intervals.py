"""What uncertain inputs change about a result, and the interval that this makes, of one result or of two together."""

from __future__ import annotations

from math import hypot, sqrt
from operator import mul

from msgspec import Struct

from service.intervals import Interval

Sides = tuple[float, float]
"""What an input changes about a result when it is moved down and up."""

STILL: Sides = (0.0, 0.0)


class Changes(Struct, frozen=True, gc=False):
    """What each input, moved by one standard deviation, changes about one result; nil where it does not enter.

    even: when moved up (down is the opposite); uneven: of the inputs that may not move equally far both ways. Both have
    their inputs in one fixed order for all results: first those that go with the lifter whatever is lifted (EVEN_SHARED
    and UNEVEN_SHARED of them), then those that each exercise has for itself. variance: what the even ones add up to.
    """

    even: tuple[float, ...]
    uneven: tuple[Sides, ...]
    variance: float


EVEN_SHARED = 6
UNEVEN_SHARED = 2


def changes_of(even: tuple[float, ...], uneven: tuple[Sides, ...]) -> Changes:
    """The changes of one result, in the fixed order of inputs."""
    return Changes(even, uneven, hypot(*even) ** 2)


def interval_of(value: float, changes: Changes) -> Interval:
    """The interval of one result: root sum of squares of the changes, separately below and above.

    Source: JCGM 100:2008, law of propagation of uncertainty for independent inputs.
    """
    below = above = changes.variance
    for down, up in changes.uneven:
        if down < up:
            below += down * down
            above += up * up
        else:
            below += up * up
            above += down * down
    return Interval(value, value - sqrt(below), value + sqrt(above))


Variances = tuple[float, float, float]
"""Variance of a new and of another result, and their covariance, towards one side of new - ratio other."""


def ratio_of_two(
    new: float, changes: Changes, other: float, other_changes: Changes, *, same_exercise: bool
) -> Interval:
    """The interval of the ratio new/other of two results of one lifter.

    What is uncertain about the lifter moves both at once; what belongs to an exercise moves each on its own, unless
    both are the same exercise. The ends are the ratios q at which new - q other is just its own deviation away from
    nil; they widen without bounds as the deviation of the other comes near its value, which it must not reach.
    Source: Fieller 1954.
    """
    ratio = new / other
    falling, rising = _variances(ratio, changes, other_changes, same_exercise=same_exercise)
    if other < 0.0:
        falling, rising = rising, falling
    return Interval(ratio, _end(new, other, falling, -1.0), _end(new, other, rising, 1.0))


def difference_of_two(
    new: float, changes: Changes, other: float, other_changes: Changes, *, same_exercise: bool
) -> Interval:
    """The interval of the difference new - other of two results of one lifter, shared inputs moving both at once."""
    falling, rising = _variances(1.0, changes, other_changes, same_exercise=same_exercise)
    gap = new - other
    below, above = (
        sqrt(max(0.0, of_new - 2.0 * of_both + of_other)) for of_new, of_other, of_both in (falling, rising)
    )
    return Interval(gap, gap - below, gap + above)


def _end(new: float, other: float, variances: Variances, side: float) -> float:
    """The ratio q above (side 1) or below (-1) at which (new - q other)² equals the variance of new - q other."""
    of_new, of_other, of_both = variances
    square = other * other - of_other
    middle = new * other - of_both
    root = sqrt(max(0.0, middle * middle - square * (new * new - of_new)))
    return (middle + side * root) / square


def _variances(ratio: float, new: Changes, other: Changes, *, same_exercise: bool) -> tuple[Variances, Variances]:
    """The variances that let new - ratio other fall, and those that let it rise."""
    low_new = high_new = new.variance
    low_other = high_other = other.variance
    if same_exercise:
        both = sum(map(mul, new.even, other.even))
        pairs = [*zip(new.uneven, other.uneven, strict=True)]
    else:
        both = sum(map(mul, new.even[:EVEN_SHARED], other.even[:EVEN_SHARED]))
        pairs = [*zip(new.uneven[:UNEVEN_SHARED], other.uneven[:UNEVEN_SHARED], strict=True)]
        pairs += [(sides, STILL) for sides in new.uneven[UNEVEN_SHARED:]]
        pairs += [(STILL, sides) for sides in other.uneven[UNEVEN_SHARED:]]
    low_both = high_both = both
    for sides, other_sides in pairs:
        (down, up), (other_down, other_up) = sides, other_sides
        if down - ratio * other_down > up - ratio * other_up:
            (up, down), (other_up, other_down) = sides, other_sides
        low_new += down * down
        low_other += other_down * other_down
        low_both += down * other_down
        high_new += up * up
        high_other += other_up * other_up
        high_both += up * other_up
    return (low_new, low_other, low_both), (high_new, high_other, high_both)
