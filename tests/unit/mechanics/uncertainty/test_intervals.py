"""Intervals of one result and of the ratio of two from what uncertain inputs change about them."""

from __future__ import annotations

from math import isclose, sqrt

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.intervals import Interval
from service.mechanics.uncertainty.intervals import (
    Changes,
    Ratio,
    average_of,
    changes_of,
    combined,
    difference_of_two,
    interval_of,
    is_certain,
    parts_of,
    ratio_of_two,
)

DRAWS = np.random.default_rng(16).standard_normal((2, 400_000))

values = st.floats(50.0, 500.0)
parts = st.floats(0.0, 0.3)


def of_lifter(change: float, scatter: float = 0.0) -> Changes:
    return changes_of((change, 0.0, 0.0), (0.0,), (scatter,))


def of_exercise(change: float) -> Changes:
    return changes_of((0.0, 0.0, 0.0), (change,))


def uneven_of_lifter(down: float, up: float) -> Changes:
    moved = parts_of(down, up)
    return changes_of((0.0, moved.even, moved.uneven), (0.0,), shift=moved.shift)


def ends(interval: Interval) -> tuple[float, float]:
    return interval.low, interval.high


def ratio(new: float, changes: Changes, other: float, other_changes: Changes, *, same: bool = False) -> Ratio:
    assert is_certain(other, other_changes)
    return ratio_of_two(new, changes, other, other_changes, same_exercise=same)


def test_independent_changes_add_by_squares() -> None:
    found = interval_of(10.0, changes_of((3.0,), (-4.0,)))
    assert (found.low, found.value, found.high) == (5.0, 10.0, 15.0)


def test_scatter_between_repetitions_is_in_the_interval_of_one_and_not_in_what_is_expected() -> None:
    changes = of_lifter(3.0, scatter=4.0)
    assert ends(interval_of(10.0, changes)) == (5.0, 15.0)
    assert ends(average_of(10.0, changes)) == (7.0, 13.0)


def test_what_is_a_setup_s_own_never_cancels_and_counts_for_the_average() -> None:
    seen = changes_of((0.0,), (0.0,), of_setup=(10.0,))
    found = ratio(100.0, seen, 100.0, seen, same=True)
    assert found.one == found.on_average
    assert (found.one.high - found.one.low) / 2 == pytest.approx(sqrt(2) * 0.1, rel=0.02)


def test_a_sum_of_results_varies_as_its_terms_do_together() -> None:
    one = changes_of((3.0, 0.0), (1.0,), (2.0,), (0.5,), shift=1.0)
    other = changes_of((-3.0, 4.0), (1.0,), (-1.0,), (0.0,))
    found = combined((one, 2.0), (other, 1.0))
    assert found == changes_of((3.0, 4.0), (3.0,), (3.0,), (1.0,), shift=2.0)


@given(down=st.floats(-1.0, 1.0), up=st.floats(-1.0, 1.0))
def test_an_uneven_input_has_the_mean_and_the_spread_of_draws_that_it_moves_so(down: float, up: float) -> None:
    moved = DRAWS[0] * np.where(DRAWS[0] < 0.0, -down, up)
    found = parts_of(down, up)
    assert found.shift == pytest.approx(np.mean(moved), abs=0.005)
    assert sqrt(found.even**2 + found.uneven**2) == pytest.approx(np.std(moved), abs=0.005)


@given(ends=st.tuples(*[st.floats(-1.0, 1.0)] * 4))
def test_two_results_vary_together_with_an_uneven_input_as_draws_do(ends: tuple[float, ...]) -> None:
    down, up, other_down, other_up = ends
    one, other = (DRAWS[0] * np.where(DRAWS[0] < 0.0, -a, b) for a, b in ((down, up), (other_down, other_up)))
    mine, theirs = parts_of(down, up), parts_of(other_down, other_up)
    assert mine.even * theirs.even + mine.uneven * theirs.uneven == pytest.approx(np.cov(one, other)[0, 1], abs=0.01)


def test_an_input_that_moves_one_way_only_widens_that_side_more() -> None:
    risen, fallen = interval_of(10.0, uneven_of_lifter(0.0, 2.0)), interval_of(10.0, uneven_of_lifter(0.0, -2.0))
    assert risen.high - 10.0 > 3 * (10.0 - risen.low)
    assert 10.0 - fallen.low == pytest.approx(risen.high - 10.0)


@given(new=values, other=values, part=parts)
def test_a_certain_result_over_an_uncertain_one_is_divided_by_its_ends(new: float, other: float, part: float) -> None:
    found = ratio(new, of_lifter(0.0), other, of_lifter(part * other)).one
    assert ends(found) == pytest.approx((new / (other * (1 + part)), new / (other * (1 - part))))


@given(new=values, other=values, part=parts)
def test_what_moves_both_in_proportion_leaves_the_ratio_alone(new: float, other: float, part: float) -> None:
    found = ratio(new, of_lifter(part * new), other, of_lifter(part * other)).one
    assert ends(found) == pytest.approx((new / other, new / other), rel=1e-6)


@given(new=values, other=values, part=st.floats(0.05, 0.3))
def test_what_is_each_exercise_s_own_does_not_cancel(new: float, other: float, part: float) -> None:
    changes, other_changes = of_exercise(part * new), of_exercise(part * other)
    apart = ratio(new, changes, other, other_changes).one
    same = ratio(new, changes, other, other_changes, same=True).one
    assert apart.high - apart.low > 10 * (same.high - same.low)


@given(new=values, other=values, part=st.floats(0.02, 0.2))
def test_scatter_between_repetitions_never_cancels_and_leaves_the_expected_ratio_alone(
    new: float, other: float, part: float
) -> None:
    mine, theirs = (of_lifter(0.1 * value, scatter=part * value) for value in (new, other))
    found = ratio(new, mine, other, theirs, same=True)
    assert ends(found.on_average) == pytest.approx((new / other, new / other), rel=1e-6)
    assert (found.one.high - found.one.low) / 2 == pytest.approx(new / other * sqrt(2) * part, rel=0.1)


@given(new=values, other=values, new_part=parts, other_part=parts, down=parts, up=parts)
def test_a_verdict_does_not_depend_on_which_of_two_is_the_reference(
    new: float, other: float, new_part: float, other_part: float, down: float, up: float
) -> None:
    assume(not isclose(new, other, rel_tol=1e-6))
    uneven = uneven_of_lifter(-down * new, up * new)
    mine = changes_of((new_part * new, *uneven.of_lifter[1:]), uneven.of_exercise, shift=uneven.shift)
    theirs = of_exercise(other_part * other)
    forth = ratio(new, mine, other, theirs).on_average
    gap = difference_of_two(new, mine, other, theirs, same_exercise=False)
    assert (forth.low > 1.0) == (gap.low > 0.0)
    assert (forth.high < 1.0) == (gap.high < 0.0)


@given(new=values, other=values, down=parts, up=parts)
def test_a_ratio_of_two_flexor_moments_is_that_of_their_sizes(new: float, other: float, down: float, up: float) -> None:
    sizes = ratio(new, uneven_of_lifter(-down, up), other, of_exercise(1.0)).one
    signed = ratio(-new, uneven_of_lifter(down, -up), -other, of_exercise(-1.0)).one
    assert ends(signed) == pytest.approx(ends(sizes))


def test_the_ends_of_a_ratio_are_where_the_difference_equals_its_deviation() -> None:
    """Fieller 1954: at either end q, (new - q other)² is the variance of new - q other."""
    found = ratio(120.0, of_exercise(12.0), 100.0, of_exercise(15.0)).one
    for end in ends(found):
        assert abs(120.0 - end * 100.0) == pytest.approx(sqrt(12.0**2 + (end * 15.0) ** 2))


@pytest.mark.parametrize(("value", "changes"), [(10.0, of_lifter(10.0)), (0.0, of_lifter(0.0))])
def test_a_result_within_its_deviation_of_nil_is_not_to_be_divided_by(value: float, changes: Changes) -> None:
    assert not is_certain(value, changes)
    assert is_certain(10.0, of_lifter(9.9))


def test_where_repetitions_scatter_across_nil_a_ratio_has_ends_all_the_same() -> None:
    found = ratio(9.0, of_lifter(1.8, scatter=9.0), 10.0, of_lifter(2.0, scatter=10.0))
    assert ends(found.on_average) == pytest.approx((0.9, 0.9))
    assert ends(found.one) == pytest.approx((0.9 - 0.9 * sqrt(2), 0.9 + 0.9 * sqrt(2)))
