"""Curves of people: published rows, where they go past them, and what of the spread is each person's own."""

from __future__ import annotations

from statistics import NormalDist, fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.knowledge.studies import RepetitionTable
from service.training.repetition_tables import CURVES, LIFTERS, two_thirds

PLACES = [NormalDist().inv_cdf(part) for part in (0.05, 0.158655, 0.358655, 0.641345, 0.841345, 0.95)]


def test_people_in_order_span_one_standard_deviation_either_side() -> None:
    assert two_thirds(PLACES) == pytest.approx((-1, 1), abs=1e-5)
    assert two_thirds([-place for place in PLACES]) == pytest.approx((-1, 1), abs=1e-5)


def test_people_out_of_order_are_summed_and_not_cut() -> None:
    # the square of a standard normal number: its 16th and 84th percentiles are 0.04 and 1.99
    low, high = two_thirds([place**2 for place in PLACES])
    assert 0 < low < 0.2
    assert 1.3 < high < 2.7


@given(st.floats(-3, 3), st.floats(0.1, 5))
def test_ends_move_and_stretch_with_what_is_said(shift: float, scale: float) -> None:
    low, high = two_thirds([shift + scale * place for place in PLACES])
    assert (low, high) == pytest.approx((shift - scale, shift + scale), abs=1e-3)


@pytest.mark.parametrize(("share", "spread", "day"), [(0.90, 1.90, 0.7), (0.80, 2.51, 0.9), (0.70, 3.31, 1.1)])
def test_own_spread_and_the_day_make_the_published_one(share: float, spread: float, day: float) -> None:
    # by nuzzo_2024 (secondary) and mitter_2022 (abstract)
    below, above = (LIFTERS["general"].people[place].reps_at(share) for place in (1, 4))
    assert ((above - below) / 2) ** 2 + day**2 == pytest.approx(spread**2, rel=1e-6)


@pytest.mark.parametrize("name", LIFTERS)
def test_the_mean_lifter_is_the_published_one_and_goes_on(name: RepetitionTable) -> None:
    published, carried = CURVES[name][0], LIFTERS[name].mean
    for share in published.shares:
        assert carried.reps_at(share) == pytest.approx(published.reps_at(share))
    if name != "textbook":
        assert carried.shares[-1] < published.shares[-1] - 0.15
    assert list(carried.log_reps) == sorted(carried.log_reps)


def test_past_the_last_row_the_logarithms_go_on_in_a_line() -> None:
    mean = LIFTERS["general"].mean
    assert mean.reps_at(0.55) == pytest.approx(19.53 * 19.53 / 17.11)
    single = CURVES["general"]
    assert single[1].reps_at(0.55) - single[-1].reps_at(0.55) == pytest.approx(2 * 4.37 * 4.37 / 3.80)


@pytest.mark.parametrize("name", ["general", "bench_press", "leg_press"])
def test_the_mean_of_people_is_near_the_mean_lifter(name: RepetitionTable) -> None:
    lifters = LIFTERS[name]
    assert fmean(one.reps_at(0.8) for one in lifters.people) == pytest.approx(lifters.mean.reps_at(0.8))
