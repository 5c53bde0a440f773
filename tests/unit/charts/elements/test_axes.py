"""Axes: values to positions, and round ticks."""

from __future__ import annotations

from math import log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.charts.elements.axes import Scale, tick_step, ticks


def test_values_are_spread_evenly_and_stay_on_the_axis() -> None:
    scale = Scale(0.0, 2.0, 100.0, 300.0)
    assert [scale.at(value) for value in (0.0, 0.5, 2.0, -1.0, 9.0)] == [100.0, 150.0, 300.0, 100.0, 300.0]


@given(st.floats(-1e4, 1e4), st.floats(0.01, 1e4), st.integers(2, 20))
def test_ticks_are_round_few_and_inside(low: float, width: float, about: int) -> None:
    high = low + width
    step, marks = tick_step(low, high, about), ticks(low, high, about)
    assert len(marks) <= about + 1
    assert all(low - 1e-6 * step <= mark <= high + 1e-6 * step for mark in marks)
    mantissa = step / 10 ** round(log10(step) - 0.5)
    assert min(abs(mantissa - one) for one in (0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 2.5, 5.0, 10.0)) == pytest.approx(
        0, abs=1e-9
    )
