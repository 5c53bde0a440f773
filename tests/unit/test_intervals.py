"""Values with their span."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.intervals import Interval, around

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
