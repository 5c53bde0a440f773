"""Volume: repetitions that keep it, and sets spread over days."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.training.volume import Reps, equal_volume_reps, spread_evenly, volume_load
from tests.support.asking import ask, kg, lb

counts = st.integers(1, 50)
ranges = st.tuples(st.integers(1, 40), st.integers(0, 20)).map(lambda pair: Reps(pair[0], pair[0] + pair[1]))
loads = st.floats(5, 400)


def test_volume_load_is_the_product() -> None:
    assert volume_load(4, 6, 62.5) == 1500


@settings(max_examples=400)
@given(counts, ranges, loads, counts, loads)
def test_equal_volume_stays_inside_the_old_volume_or_is_the_nearest_whole_repetition(
    sets: int, reps: Reps, load: float, new_sets: int, new_load: float
) -> None:
    new = equal_volume_reps(sets, reps, load, new_sets, new_load)
    per_rep = sets * load / (new_sets * new_load)
    dust = 1e-6
    inside = reps.low * per_rep <= new.low + dust and new.high <= reps.high * per_rep + dust
    middle = (reps.low + reps.high) / 2 * per_rep
    nearest = new.low == new.high and (abs(new.low - middle) <= 0.5 + dust or (new.low == 1 and middle < 1))
    assert 1 <= new.low <= new.high
    assert inside or nearest
    # the range inside the old volume is used whenever a whole repetition lies in it
    if math.ceil(reps.low * per_rep - dust) <= math.floor(reps.high * per_rep + dust):
        assert new.low - reps.low * per_rep < 1 + dust
        assert reps.high * per_rep - new.high < 1 + dust


@given(counts, ranges, loads)
def test_unchanged_sets_and_load_keep_the_repetitions(sets: int, reps: Reps, load: float) -> None:
    assert equal_volume_reps(sets, reps, load, sets, load) == reps


@given(counts, ranges, loads, st.sampled_from([0.45359237, 2.2046226218487757]))
def test_equal_volume_does_not_depend_on_the_unit(sets: int, reps: Reps, load: float, unit: float) -> None:
    new_load = load * 0.8
    assert equal_volume_reps(sets, reps, load * unit, sets, new_load * unit) == equal_volume_reps(
        sets, reps, load, sets, new_load
    )


@given(st.integers(0, 400), st.integers(1, 7))
def test_sets_spread_over_days_add_up_and_differ_by_one_at_most(total: int, days: int) -> None:
    found = spread_evenly(total, days)
    assert len(found) == days
    assert sum(found) == total
    assert max(found) - min(found) <= 1
    assert list(found) == sorted(found, reverse=True)


def test_fuller_days_come_first() -> None:
    assert spread_evenly(8, 3) == (3, 3, 2)


@pytest.mark.parametrize(("reps", "expected"), [(Reps(1, 1), Reps(1, 1)), (Reps(2, 3), Reps(1, 1))])
def test_at_least_one_repetition_is_left(reps: Reps, expected: Reps) -> None:
    assert equal_volume_reps(3, reps, 20, 3, 100) == expected


def test_volumes_are_told_each_in_the_unit_of_its_own_load() -> None:
    current = {"sets": 4, "reps": {"low": 5, "high": 6}, "load": kg(60)}
    volume = ask("rep-targets", {"current": current, "new_load": lb(110)}).equal_volume
    low, high = volume.volume_load.current.low, volume.volume_load.current.high
    assert [(one.value, one.unit) for one in (low, high)] == [(1200, "kg"), (1440, "kg")]
    new = volume.volume_load.new
    for reps, one in ((volume.reps.low, new.low), (volume.reps.high, new.high)):
        assert (one.value, one.unit) == (pytest.approx(volume.sets * reps * 110, abs=0.1), "lb")
