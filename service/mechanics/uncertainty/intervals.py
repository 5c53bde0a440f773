"""Intervals of one result, of the ratio and of the difference of two, from their changes with the uncertain inputs."""

from __future__ import annotations

from math import hypot, sqrt
from operator import mul

from msgspec import Struct

from service.intervals import Interval

Sides = tuple[float, float]
"""Changes of a result when an input is moved down and when it is moved up, both in the result's unit."""

UNCHANGED: Sides = (0.0, 0.0)


class Changes(Struct, frozen=True, gc=False):
    """Changes of one result with each input moved by one standard deviation; nil where it does not enter.

    The inputs have one fixed order for all results: first those that belong to the lifter in every exercise
    (SYMMETRIC_SHARED and ASYMMETRIC_SHARED of them), then those that each exercise has for itself.

    Attributes:
        symmetric: changes with an input moved up; moved down it changes the result by the opposite [N·m or rad]
        asymmetric: changes with inputs that do not move equally far both ways [N·m or rad]
        variance: sum of squares of the symmetric changes [(N·m)² or rad²]
    """

    symmetric: tuple[float, ...]
    asymmetric: tuple[Sides, ...]
    variance: float


SYMMETRIC_SHARED = 6
ASYMMETRIC_SHARED = 2


def changes_of(symmetric: tuple[float, ...], asymmetric: tuple[Sides, ...]) -> Changes:
    """The changes of one result, in the fixed order of inputs.

    Args:
        symmetric: changes with an input moved up [N·m or rad]
        asymmetric: changes with an input moved down and up [N·m or rad]
    """
    return Changes(symmetric, asymmetric, hypot(*symmetric) ** 2)


def interval_of(value: float, changes: Changes) -> Interval:
    """The interval of one result: root sum of squares of the changes, separately below and above.

    Args:
        value: central value [N·m or rad]
        changes: its changes with the uncertain inputs

    Returns:
        value and ends of one standard deviation [N·m or rad]

    Source: JCGM 100:2008, law of propagation of uncertainty for independent inputs.
    """
    below = above = changes.variance
    for down, up in changes.asymmetric:
        if down < up:
            below += down * down
            above += up * up
        else:
            below += up * up
            above += down * down
    return Interval(value, value - sqrt(below), value + sqrt(above))


class Variances(Struct, frozen=True, gc=False):
    """Variances of two results towards one side of new - ratio other.

    Attributes:
        new: variance of the new result [(N·m)² or rad²]
        other: variance of the other result [(N·m)² or rad²]
        both: covariance of the two [(N·m)² or rad²]
    """

    new: float
    other: float
    both: float


def ratio_of_two(
    new: float, changes: Changes, other: float, other_changes: Changes, *, same_exercise: bool
) -> Interval:
    """The interval of the ratio new/other of two results of one lifter.

    Inputs of the lifter move both at once; inputs of an exercise move each on its own, unless both are the same
    exercise. The ends are the ratios q at which new - q other is its own standard deviation away from nil; they widen
    without bounds as the deviation of the other comes near its value, which it must not reach.

    Args:
        new: central value [N·m or rad]
        changes: its changes with the uncertain inputs
        other: central value of the reference [N·m or rad]
        other_changes: its changes with the uncertain inputs
        same_exercise: whether both are one exercise in one stance

    Returns:
        ratio with ends of one standard deviation [1]

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
    """The interval of the difference new - other of two results of one lifter, shared inputs moving both at once.

    Args:
        new: central value [N·m or rad]
        changes: its changes with the uncertain inputs
        other: central value of the reference [N·m or rad]
        other_changes: its changes with the uncertain inputs
        same_exercise: whether both are one exercise in one stance

    Returns:
        difference with ends of one standard deviation [N·m or rad]

    Source: JCGM 100:2008.
    """
    falling, rising = _variances(1.0, changes, other_changes, same_exercise=same_exercise)
    gap = new - other
    below, above = (sqrt(max(0.0, side.new - 2.0 * side.both + side.other)) for side in (falling, rising))
    return Interval(gap, gap - below, gap + above)


def _end(new: float, other: float, variances: Variances, side: float) -> float:
    """The ratio q above (side 1) or below (-1) at which (new - q other)² equals the variance of new - q other."""
    square = other * other - variances.other
    middle = new * other - variances.both
    root = sqrt(max(0.0, middle * middle - square * (new * new - variances.new)))
    return (middle + side * root) / square


def _variances(ratio: float, new: Changes, other: Changes, *, same_exercise: bool) -> tuple[Variances, Variances]:
    """The variances that let new - ratio other fall, and those that let it rise."""
    low_new = high_new = new.variance
    low_other = high_other = other.variance
    if same_exercise:
        both = sum(map(mul, new.symmetric, other.symmetric))
        pairs = [*zip(new.asymmetric, other.asymmetric, strict=True)]
    else:
        both = sum(map(mul, new.symmetric[:SYMMETRIC_SHARED], other.symmetric[:SYMMETRIC_SHARED]))
        pairs = [*zip(new.asymmetric[:ASYMMETRIC_SHARED], other.asymmetric[:ASYMMETRIC_SHARED], strict=True)]
        pairs += [(sides, UNCHANGED) for sides in new.asymmetric[ASYMMETRIC_SHARED:]]
        pairs += [(UNCHANGED, sides) for sides in other.asymmetric[ASYMMETRIC_SHARED:]]
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
    return Variances(low_new, low_other, low_both), Variances(high_new, high_other, high_both)
