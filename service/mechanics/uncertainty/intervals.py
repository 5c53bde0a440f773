"""Intervals of one result, of the ratio and of the difference of two, from their changes with the uncertain inputs.

Inputs have one of four scopes. Those of the lifter (lengths, masses, habits) move every setup of that lifter at once.
Those of an exercise (where its bar sits, how it departs from the habit) do so where both setups are that exercise in
one stance. Those of a setup (the error of an angle that was seen) are its own. Those of a repetition differ each time
it is done: an interval holds them, and what is expected on average does not.

An input that changes a result by unequal amounts down and up, because its spread or the response is uneven, is one that
moves it in proportion and one that moves it the same way whichever way it goes itself; of a normal input these two are
uncorrelated. So every variance is a sum of squares and every covariance a sum of products; the second only adds its
mean.
"""

from __future__ import annotations

from math import hypot, pi, sqrt
from operator import mul

from msgspec import Struct

from service.intervals import Interval

MEAN_SIZE = sqrt(2.0 / pi)
"""Mean size of a normal deviation, in standard deviations [1]."""
SPREAD_OF_SIZE = sqrt(1.0 - 2.0 / pi)
"""Standard deviation of that size [1]."""


class Parts(Struct, frozen=True, gc=False):
    """What an input does to a result that it changes by unequal amounts down and up, as uncorrelated parts.

    Attributes:
        even: in proportion to the input [any]
        uneven: with the size of its deviation, less its mean [any]
        shift: mean of what goes with that size [any]
    """

    even: float
    uneven: float
    shift: float


UNMOVED = Parts(0.0, 0.0, 0.0)


def parts_of(down: float, up: float) -> Parts:
    """The parts of an input whose own moves down and up by one standard deviation change a result so.

    Args:
        down: change with the input moved down [any]
        up: change with the input moved up [any]
    """
    same_way = (up + down) / 2.0
    return Parts((up - down) / 2.0, SPREAD_OF_SIZE * same_way, MEAN_SIZE * same_way)


class Changes(Struct, frozen=True, gc=False):
    """Changes of one result with each input moved by one standard deviation; nil where it does not enter.

    Attributes:
        of_lifter: with the inputs that belong to the lifter in every exercise, in one fixed order, uneven parts
            last [any]
        of_exercise: with those that the exercise has for itself, in an order of its family [any]
        of_setup: with those that each setup has for itself, as the error of an angle that was seen [any]
        of_repetition: with those that differ from one repetition to the next [any]
        shift: mean of the result less its central value, from uneven changes [any]
        variance: of all scopes but the last [any]
        repeated: variance from one repetition to the next [any]
    """

    of_lifter: tuple[float, ...]
    of_exercise: tuple[float, ...]
    of_setup: tuple[float, ...]
    of_repetition: tuple[float, ...]
    shift: float
    variance: float
    repeated: float


def changes_of(
    of_lifter: tuple[float, ...],
    of_exercise: tuple[float, ...] = (),
    of_repetition: tuple[float, ...] = (),
    of_setup: tuple[float, ...] = (),
    shift: float = 0.0,
) -> Changes:
    """The changes of one result.

    Args:
        of_lifter: with the inputs of the lifter [any]
        of_exercise: with those of the exercise [any]
        of_repetition: with those of each repetition [any]
        of_setup: with those of each setup [any]
        shift: mean of the result less its central value [any]
    """
    return Changes(
        of_lifter,
        of_exercise,
        of_setup,
        of_repetition,
        shift,
        hypot(*of_lifter, *of_exercise, *of_setup) ** 2,
        hypot(*of_repetition) ** 2,
    )


def combined(*terms: tuple[Changes, float]) -> Changes:
    """The changes of a sum of results of one setup, each times a number.

    Args:
        terms: changes of a result and its factor [any]
    """

    def scope(*columns: tuple[float, ...]) -> tuple[float, ...]:
        return tuple(sum(map(mul, factors, column)) for column in zip(*columns, strict=True))

    changes, factors = zip(*terms, strict=True)
    return changes_of(
        scope(*(one.of_lifter for one in changes)),
        scope(*(one.of_exercise for one in changes)),
        scope(*(one.of_repetition for one in changes)),
        scope(*(one.of_setup for one in changes)),
        sum(factor * one.shift for one, factor in terms),
    )


def interval_of(value: float, changes: Changes) -> Interval:
    """The interval of one result in one repetition: one standard deviation either side of its mean.

    Args:
        value: central value [any]
        changes: its changes with the uncertain inputs

    Returns:
        value and ends [any]

    Source: JCGM 100:2008, law of propagation of uncertainty for independent inputs.
    """
    return _about(value, changes.shift, changes.variance + changes.repeated)


def average_of(value: float, changes: Changes) -> Interval:
    """The interval of what is expected of one result on average over repetitions.

    Args:
        value: central value [any]
        changes: its changes with the uncertain inputs

    Returns:
        value and ends [any]
    """
    return _about(value, changes.shift, changes.variance)


def _about(value: float, shift: float, variance: float) -> Interval:
    middle, deviation = value + shift, sqrt(variance)
    return Interval(value, min(value, middle - deviation), max(value, middle + deviation))


class Ratio(Struct, frozen=True, gc=False):
    """The ratio of two results of one lifter.

    Attributes:
        one: of one repetition to one [1]
        on_average: of what is expected of each on average [1]
    """

    one: Interval
    on_average: Interval


def is_certain(value: float, changes: Changes) -> bool:
    """Whether a result is on average further from nil than its deviation, so that it can be divided by.

    Args:
        value: central value [any]
        changes: its changes with the uncertain inputs
    """
    middle = value + changes.shift
    return middle * value > 0.0 and changes.variance < middle * middle


def ratio_of_two(new: float, changes: Changes, other: float, other_changes: Changes, *, same_exercise: bool) -> Ratio:
    """The ratio new/other of two results of one lifter, shared inputs moving both at once.

    The ends are the ratios q at which new - q other is its own standard deviation away from nil.

    Args:
        new: central value [any]
        changes: its changes with the uncertain inputs
        other: central value of the reference, which must be certain [any]
        other_changes: its changes with the uncertain inputs
        same_exercise: whether both are one exercise in one stance

    Returns:
        the ratio with ends of one standard deviation

    Source: Fieller 1954.
    """
    base = other + other_changes.shift
    variance = other_changes.variance + other_changes.repeated
    top = new + changes.shift
    both = _covariance(changes, other_changes, same_exercise=same_exercise)
    ratio = new / other
    return Ratio(
        _ends(ratio, top, base, changes.variance + changes.repeated, variance, both),
        _ends(ratio, top, base, changes.variance, other_changes.variance, both),
    )


def difference_of_two(
    new: float, changes: Changes, other: float, other_changes: Changes, *, same_exercise: bool
) -> Interval:
    """The expected difference new - other of two results of one lifter, shared inputs moving both at once.

    Args:
        new: central value [any]
        changes: its changes with the uncertain inputs
        other: central value of the reference [any]
        other_changes: its changes with the uncertain inputs
        same_exercise: whether both are one exercise in one stance

    Returns:
        difference with ends of one standard deviation [any]

    Source: JCGM 100:2008.
    """
    both = _covariance(changes, other_changes, same_exercise=same_exercise)
    variance = changes.variance - 2.0 * both + other_changes.variance
    return _about(new - other, changes.shift - other_changes.shift, max(0.0, variance))


def _covariance(new: Changes, other: Changes, *, same_exercise: bool) -> float:
    both: float = sum(map(mul, new.of_lifter, other.of_lifter))
    return both + sum(map(mul, new.of_exercise, other.of_exercise)) if same_exercise else both


def _ends(ratio: float, new: float, other: float, of_new: float, of_other: float, both: float) -> Interval:
    """The ratios q at which (new - q other)² equals the variance of new - q other.

    Where repetitions scatter so much that no end would be the last, the deviation of new - ratio other over other.
    """
    square = other * other - of_other
    if square <= 0.0:
        deviation = sqrt(max(0.0, of_new - 2.0 * ratio * both + ratio * ratio * of_other)) / abs(other)
        return Interval(ratio, ratio - deviation, ratio + deviation)
    middle = new * other - both
    root = sqrt(max(0.0, middle * middle - square * (new * new - of_new)))
    return Interval(ratio, min(ratio, (middle - root) / square), max(ratio, (middle + root) / square))
