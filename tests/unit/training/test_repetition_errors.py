"""Errors of repetitions: as published, growing with the distance from failure, none for a tested maximum."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.training.repetition_errors import behind, day_error

reserves = st.floats(0, 4)


@pytest.mark.parametrize(("share", "error"), [(0.90, 0.7), (0.70, 1.1), (0.80, 0.9), (0.60, 1.3), (1.0, 0.5)])
def test_days_differ_as_measured_and_in_a_line_past_that(share: float, error: float) -> None:
    assert day_error(share) == pytest.approx(error)  # mitter_2022 (abstract): 0.7 at 90 %, 1.1 at 70 %


@pytest.mark.parametrize(
    ("reserve", "bias", "spread"),
    [
        (0, 0, 0.5),
        (2, 0.17, 1.0),
        (4, 0.95, 1.6),
        (3, 0.56, 1.3),
    ],  # helms_2017a, refalo_2023b, halperin_2022 (abstracts)
)
def test_a_stated_reserve_is_off_as_published(reserve: float, bias: float, spread: float) -> None:
    found = behind(8, reserve)
    assert found.stated == 8 + reserve
    assert found.likely.value == pytest.approx(8 + reserve + bias)
    assert found.likely.high - found.likely.value == pytest.approx(spread)


@given(st.integers(2, 15), reserves, reserves)
def test_further_from_failure_is_less_sure(reps: int, one: float, other: float) -> None:
    near, far = behind(reps, min(one, other)), behind(reps, max(one, other))
    assert far.error(0.8) >= near.error(0.8) - 1e-12
    assert far.likely.value - far.stated >= near.likely.value - near.stated - 1e-12


@given(st.integers(1, 15), reserves, st.floats(0.5, 1))
def test_what_was_done_was_possible(reps: int, reserve: float, share: float) -> None:
    found = behind(reps, reserve)
    assert reps <= found.likely.low <= found.likely.value <= found.likely.high
    fewest, most = found.on_a_day(share)
    assert 1 <= fewest <= found.likely.value <= most


@given(st.floats(0.5, 1))
def test_a_single_with_none_left_is_the_maximum_itself(share: float) -> None:
    assert behind(1, 0).on_a_day(share) == (1, 1)
    assert behind(1, 1).on_a_day(share) != (2, 2)
    assert behind(2, 0).on_a_day(share) != (2, 2)
