"""Intervals of one result and of the ratio of two from what uncertain inputs change about them."""

from __future__ import annotations

from math import isclose, sqrt

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.mechanics.uncertainty.intervals import (
    ASYMMETRIC_SHARED,
    SYMMETRIC_SHARED,
    UNCHANGED,
    Changes,
    changes_of,
    difference_of_two,
    interval_of,
    ratio_of_two,
)

values = st.floats(50.0, 500.0)
parts = st.floats(0.0, 0.3)


def of_lifter(change: float) -> Changes:
    return changes_of((change, *[0.0] * (SYMMETRIC_SHARED - 1), 0.0), (UNCHANGED,) * (ASYMMETRIC_SHARED + 1))


def of_exercise(change: float) -> Changes:
    return changes_of((*[0.0] * SYMMETRIC_SHARED, change), (UNCHANGED,) * (ASYMMETRIC_SHARED + 1))


def uneven_of_lifter(down: float, up: float) -> Changes:
    return changes_of((0.0,) * (SYMMETRIC_SHARED + 1), ((down, up), *[UNCHANGED] * ASYMMETRIC_SHARED))


def test_independent_changes_add_by_squares() -> None:
    found = interval_of(10.0, changes_of((3.0, -4.0), ()))
    assert (found.low, found.value, found.high) == (5.0, 10.0, 15.0)


def test_an_input_that_moves_one_way_only_widens_one_side_only() -> None:
    risen = interval_of(10.0, changes_of((0.0,), ((0.0, 2.0),)))
    fallen = interval_of(10.0, changes_of((0.0,), ((0.0, -2.0),)))
    assert (risen.low, risen.high) == (10.0, 12.0)
    assert (fallen.low, fallen.high) == (8.0, 10.0)


@given(new=values, other=values, part=parts)
def test_a_certain_result_over_an_uncertain_one_is_divided_by_its_ends(new: float, other: float, part: float) -> None:
    found = ratio_of_two(new, of_lifter(0.0), other, of_lifter(part * other), same_exercise=False)
    assert (found.low, found.high) == pytest.approx((new / (other * (1 + part)), new / (other * (1 - part))))


@given(new=values, other=values, part=parts)
def test_what_moves_both_in_proportion_leaves_the_ratio_alone(new: float, other: float, part: float) -> None:
    found = ratio_of_two(new, of_lifter(part * new), other, of_lifter(part * other), same_exercise=False)
    assert (found.low, found.high) == pytest.approx((new / other, new / other), rel=1e-6)


@given(new=values, other=values, part=st.floats(0.05, 0.3))
def test_what_is_each_exercise_s_own_does_not_cancel(new: float, other: float, part: float) -> None:
    changes, other_changes = of_exercise(part * new), of_exercise(part * other)
    apart = ratio_of_two(new, changes, other, other_changes, same_exercise=False)
    same = ratio_of_two(new, changes, other, other_changes, same_exercise=True)
    assert apart.high - apart.low > 10 * (same.high - same.low)


@given(new=values, other=values, new_part=parts, other_part=parts, down=parts, up=parts)
def test_a_verdict_does_not_depend_on_which_of_two_is_the_reference(
    new: float, other: float, new_part: float, other_part: float, down: float, up: float
) -> None:
    assume(not isclose(new, other, rel_tol=1e-6))
    mine = changes_of(of_lifter(new_part * new).symmetric, uneven_of_lifter(-down * new, up * new).asymmetric)
    theirs = of_exercise(other_part * other)
    forth = ratio_of_two(new, mine, other, theirs, same_exercise=False)
    gap = difference_of_two(new, mine, other, theirs, same_exercise=False)
    assert (forth.low > 1.0) == (gap.low > 0.0)
    assert (forth.high < 1.0) == (gap.high < 0.0)


@given(new=values, other=values, down=parts, up=parts)
def test_a_ratio_of_two_flexor_moments_is_that_of_their_sizes(new: float, other: float, down: float, up: float) -> None:
    sizes = ratio_of_two(new, uneven_of_lifter(-down, up), other, of_exercise(1.0), same_exercise=False)
    signed = ratio_of_two(-new, uneven_of_lifter(down, -up), -other, of_exercise(-1.0), same_exercise=False)
    assert (signed.low, signed.high) == pytest.approx((sizes.low, sizes.high))


def test_the_ends_of_a_ratio_are_where_the_difference_equals_its_deviation() -> None:
    """Fieller 1954: at either end q, (new - q other)² is the variance of new - q other."""
    found = ratio_of_two(120.0, of_exercise(12.0), 100.0, of_exercise(15.0), same_exercise=False)
    for end in (found.low, found.high):
        assert abs(120.0 - end * 100.0) == pytest.approx(sqrt(12.0**2 + (end * 15.0) ** 2))
