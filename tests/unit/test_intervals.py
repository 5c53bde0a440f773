"""Values with their span."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.intervals import Interval, around, combined

numbers = st.floats(-1e6, 1e6)


@given(numbers, st.lists(numbers, min_size=1, max_size=6))
def test_span_of_other_ways_holds_them_all_and_the_value(value: float, others: list[float]) -> None:
    found = around(value, others)
    assert found.value == value
    assert all(found.low <= each <= found.high for each in (*others, value))
    assert {found.low, found.high} <= {value, *others}


@given(numbers, st.floats(0.01, 100))
def test_scaling_keeps_the_order_and_is_undone_by_its_inverse(value: float, factor: float) -> None:
    found = Interval(value, value - 1, value + 2).scaled(factor)
    assert found.low <= found.value <= found.high
    assert found.scaled(1 / factor).value == pytest.approx(value, abs=1e-9)


def test_independent_errors_add_as_squares_on_the_side_on_which_they_are() -> None:
    assert combined(10, (7, 13), (14, 6)) == Interval(10, 5, 15)
    assert combined(10, (10, 13), (10, 14)) == Interval(10, 10, 15)
    assert combined(10, (11, 13)) == Interval(10, 10, 13)  # both ends on one side
    assert combined(10) == Interval(10, 10, 10)


@given(st.floats(1, 100), st.floats(0, 200))
def test_a_floor_raises_value_and_ends_in_proportion(value: float, floor: float) -> None:
    found = Interval(value, 0.9 * value, 1.2 * value).raised(floor)
    assert found.value == pytest.approx(max(value, floor))
    assert found.low / found.value == pytest.approx(0.9)
    assert found.high / found.value == pytest.approx(1.2)
