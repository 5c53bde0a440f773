"""Estimates by a lifter's own curve: inverse of each other, and no narrower than curve, day and test."""

from __future__ import annotations

from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.errors import Refusal
from service.intervals import Interval
from service.training.individual_profile import fit
from service.training.own_estimates import own_load, own_maximum, own_reps


def in_order(interval: Interval) -> bool:
    return interval.low <= interval.value <= interval.high


CURVE: Final = fit([(100, 4), (90, 8), (80, 12)])


@given(st.floats(1, 18))
def test_own_load_and_own_repetitions_are_inverse(reps: float) -> None:
    load = own_load(CURVE, reps, lifted=0)
    assert in_order(load)
    assert load.low < load.value < load.high
    assert own_reps(CURVE, load.value, lifted=0).value == pytest.approx(reps, abs=1e-9)


def test_own_maximum_is_the_load_of_one_repetition_and_no_narrower_than_its_test() -> None:
    found = own_maximum(CURVE, lifted=0)
    assert found.value == pytest.approx(CURVE.load_at(1))
    assert found.low <= found.value * 0.958
    assert found.high >= found.value * 1.042


def test_load_above_the_own_maximum_is_refused() -> None:
    with pytest.raises(Refusal) as caught:
        own_reps(CURVE, own_maximum(CURVE, lifted=0).value * 1.01, lifted=0)
    assert caught.value.faults[0].pointer == "/load"


def test_own_repetitions_are_no_nearer_than_curve_and_day() -> None:
    # mitter_2022 (abstract): 0.7 at 90 % to 1.1 repetitions at 70 %
    load = CURVE.load_at(8)
    found, curve = own_reps(CURVE, load, lifted=0), CURVE.reps_error(load)
    assert (curve**2 + 0.7**2) ** 0.5 < found.high - found.value < (curve**2 + 1.1**2) ** 0.5
    assert found.value - found.low == pytest.approx(found.high - found.value)


def test_reserves_stated_too_low_move_the_upper_end_and_not_the_value() -> None:
    plain, understated = CURVE, fit([(100, 4), (90, 8), (80, 12)], understated=0.5)
    for found, other in (
        (own_load(plain, 5, lifted=0), own_load(understated, 5, lifted=0)),
        (own_reps(plain, 85, lifted=0), own_reps(understated, 85, lifted=0)),
    ):
        assert other.value == found.value
        assert other.high > found.high
        assert other.low > found.low
