"""A lifter's own curve: what defines one, and what it gives back."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.errors import Refusal
from service.training.individual_profile import fit

tops = st.floats(20, 300)
rates = st.floats(0.012, 0.08)
repetitions = st.lists(st.integers(1, 20), min_size=2, max_size=8, unique=True)


def exact(top: float, rate: float, reps: list[int]) -> list[tuple[float, float]]:
    return [(top * math.exp(-rate * (count - 1)), float(count)) for count in reps]


def far_enough(rate: float, reps: list[int]) -> bool:
    return rate * (max(reps) - min(reps)) > 0.06


@given(tops, rates, repetitions)
def test_exact_sets_give_back_the_curve_they_were_made_from(top: float, rate: float, reps: list[int]) -> None:
    if not far_enough(rate, reps):
        return
    curve = fit(exact(top, rate, reps))
    assert curve.rate == pytest.approx(rate, rel=1e-6)
    assert curve.load_at(1) == pytest.approx(top, rel=1e-6)
    assert (curve.sets, curve.fewest_reps, curve.most_reps) == (len(reps), min(reps), max(reps))


@given(tops, rates, repetitions, st.floats(1, 20))
def test_load_and_repetitions_are_inverse(top: float, rate: float, reps: list[int], asked: float) -> None:
    if not far_enough(rate, reps):
        return
    curve = fit(exact(top, rate, reps))
    assert curve.reps_at(curve.load_at(asked)) == pytest.approx(asked, abs=1e-6)


@given(tops, rates, repetitions, st.floats(1.05, 1.5))
def test_curve_does_not_depend_on_the_order_of_the_sets_nor_on_the_unit(
    top: float, rate: float, reps: list[int], unit: float
) -> None:
    if not far_enough(rate, reps):
        return
    sets = exact(top, rate, reps)
    one, other = fit(sets), fit([(load * unit, count) for load, count in reversed(sets)])
    assert other.rate == pytest.approx(one.rate, rel=1e-6)
    assert other.load_at(5) == pytest.approx(one.load_at(5) * unit, rel=1e-6)


def test_error_grows_away_from_the_sets_done() -> None:
    curve = fit([(100, 4), (90, 8), (80, 12)])
    middle = math.exp(curve.mean_log_load)
    errors = [curve.reps_error(middle * factor) for factor in (1, 1.05, 1.2, 1.5)]
    assert errors == sorted(errors)
    assert errors[0] < errors[-1]
    assert errors[0] == pytest.approx(1.1 / math.sqrt(3))  # mitter_2022 (abstract): retest error of 1.1 repetitions


def test_scatter_wider_than_the_retest_error_is_the_one_used() -> None:
    assert fit([(100, 4), (90, 8)]).error == 1.1
    assert fit([(100, 1), (90, 14), (85, 6), (80, 20)]).error > 1.1


@pytest.mark.parametrize(
    "sets",
    [[(100, 5)], [(100, 5), (100, 8)], [(100, 5), (96, 7)], [(100, 5), (95.1, 7)]],
    ids=["one set", "one load", "4 % apart", "4.9 % apart"],
)
def test_sets_whose_loads_hardly_differ_define_no_curve(sets: list[tuple[float, float]]) -> None:
    with pytest.raises(Refusal, match="5 % or more") as caught:
        fit(sets)
    assert caught.value.faults[0].pointer == "/sets"


def test_five_percent_apart_is_enough() -> None:
    assert fit([(100, 5), (94.9, 7)]).sets == 2


@pytest.mark.parametrize("sets", [[(100, 8), (80, 5)], [(100, 6), (80, 6)]])
def test_sets_in_which_more_load_did_not_cost_repetitions_define_no_curve(sets: list[tuple[float, float]]) -> None:
    with pytest.raises(Refusal, match="did not mean fewer repetitions"):
        fit(sets)


def test_sets_that_no_lifter_has_define_no_curve() -> None:
    with pytest.raises(Refusal, match="costs more of the load than in any"):
        fit([(100, 4), (50, 5)])
