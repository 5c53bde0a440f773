"""The ledger of hard sets, by muscle and by what fewer of them are taken to do."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.knowledge.design_choices import CHOICES
from service.knowledge.muscles import MUSCLE_SHARES
from service.training.fractional_sets import (
    WeeklySets,
    fractional_sets,
    muscle_shares,
    size_effect,
    strength_effect,
    trained_muscles,
)

counts = st.floats(0.25, 60)


def test_direct_work_counts_whole_and_indirect_by_half() -> None:
    # the counting of pelland_2024, known from its abstract
    week = [WeeklySets("bench_press", 6), WeeklySets("overhead_press", 4), WeeklySets("lat_pulldown", 8)]
    sets = fractional_sets(week)
    shares = {one.exercise: muscle_shares(one.exercise) for one in week}
    assert sets["chest"] == 6 * shares["bench_press"]["chest"] + 4 * shares["overhead_press"].get("chest", 0)
    assert sets["triceps"] == 6 * shares["bench_press"]["triceps"] + 4 * shares["overhead_press"]["triceps"]
    assert sets["lats"] == 8


def test_no_sets_and_no_exercise_count_nothing() -> None:
    assert fractional_sets([]) == {}
    assert set(fractional_sets([WeeklySets("bench_press", 0)]).values()) == {0}


@pytest.mark.parametrize("exercise", MUSCLE_SHARES)
def test_a_muscle_that_is_only_steadied_counts_as_none_that_is_trained(exercise: str) -> None:
    shares = muscle_shares(exercise)
    assert trained_muscles(exercise)
    assert all(shares[muscle] >= CHOICES.dose.trained_share for muscle in trained_muscles(exercise))


@pytest.mark.parametrize(("sets", "ratio"), [(8, 0.894), (5, 0.707), (4, 0.632), (15, 1.225)])
def test_size_goes_with_the_root_of_the_sets(sets: float, ratio: float) -> None:
    # the shape from pelland_2024 (abstract), the square root from memory
    assert size_effect(sets, 10).value == pytest.approx(ratio, abs=5e-4)


@pytest.mark.parametrize(("sets", "part"), [(1, 0.49), (2, 0.74), (4, 0.93)])
def test_strength_is_flat_near_four_sets(sets: float, part: float) -> None:
    # tiers of pelland_2024 through a summary (secondary); the form is ours
    assert strength_effect(sets, 1e6).value == pytest.approx(part, abs=5e-3)


@given(counts, counts)
def test_as_many_sets_as_now_do_as_much_and_fewer_do_less(one: float, other: float) -> None:
    for effect in (size_effect, strength_effect):
        assert effect(one, one).value == 1
        few, many = sorted((one, other))
        found = effect(few, many)
        assert 0 < found.low <= found.value <= found.high <= 1


@given(counts)
def test_half_of_the_sets_lie_between_half_and_all_of_the_effect(usual: float) -> None:
    assert size_effect(usual / 2, usual).low == pytest.approx(0.5)
    assert strength_effect(usual / 2, usual).value >= 0.5
