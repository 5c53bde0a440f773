"""What an option keeps of the training effect: an index from nought to one, never better for doing less."""

from __future__ import annotations

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from service.adjustment.prescription import Prescription
from service.adjustment.stimulus import HARD, Aim, Likeness, effort_factor, stimulus
from service.training.volume import Reps

PRESENT = Prescription("front_squat", 4, Reps(5, 6), 60.0, 2.0, 2)
aims = st.sampled_from(get_args(Aim))
likenesses = st.sampled_from(get_args(Likeness))
reserves = st.floats(0, 15)


@given(reserves, reserves)
def test_effort_counts_in_full_up_to_a_hard_set_and_then_fades(one: float, other: float) -> None:
    harder, easier = sorted((one, other))
    assert 0 <= effort_factor(easier) <= effort_factor(harder) <= 1
    assert effort_factor(min(harder, HARD)) == 1
    assert effort_factor(HARD + 6) == 0


@pytest.mark.parametrize("aim", get_args(Aim))
def test_unchanged_prescription_keeps_everything(aim: Aim) -> None:
    found = stimulus(PRESENT, PRESENT, aim, "same", 0.8, 0.8, 1.0)
    assert (found.hard_sets, found.volume_load, found.kept) == (1, 1, 1)


@given(aims, likenesses, st.floats(0.05, 1), st.integers(1, 8), reserves, st.floats(0.1, 1.5))
def test_index_is_between_nought_and_one_and_never_more_for_another_lift(
    aim: Aim, likeness: Likeness, share: float, sets: int, reserve: float, moment: float
) -> None:
    new = replace(PRESENT, sets=sets, reserve=reserve)
    found = stimulus(new, PRESENT, aim, likeness, share, 0.8, moment)
    assert 0 <= found.kept <= 1
    assert found.kept <= stimulus(new, PRESENT, aim, "same", share, 0.8, moment).kept
    assert found.hard_sets == sets / 4


@given(aims, st.floats(0.05, 1), st.floats(0.05, 1))
def test_less_of_the_maximum_never_keeps_more(aim: Aim, one: float, other: float) -> None:
    light, heavy = sorted((one, other))
    kept = [stimulus(PRESENT, PRESENT, aim, "same", share, 0.8, 1.0).kept for share in (light, heavy)]
    assert kept[0] <= kept[1]


def test_load_matters_for_strength_and_not_for_size() -> None:
    # lopez_2021 (abstract): heavier is better for strength, load makes little difference to size near failure
    assert stimulus(PRESENT, PRESENT, "strength", "same", 0.6, 0.8, 1.0).kept == pytest.approx(0.75)
    assert stimulus(PRESENT, PRESENT, "muscle_size", "same", 0.6, 0.8, 1.0).kept == 1


@given(aims, st.integers(1, 4), st.integers(1, 4))
def test_fewer_sets_never_keep_more(aim: Aim, one: int, other: int) -> None:
    few, many = sorted((one, other))
    kept = [stimulus(replace(PRESENT, sets=sets), PRESENT, aim, "same", 0.8, 0.8, 1.0).kept for sets in (few, many)]
    assert kept[0] <= kept[1]


def test_volume_is_that_of_the_week() -> None:
    new = replace(PRESENT, sets=2, days=4, load=30.0)
    found = stimulus(new, PRESENT, "strength", "same", 0.4, 0.8, 1.0)
    assert (found.hard_sets, found.volume_load) == (1, 0.5)


def test_heavier_load_does_not_make_up_for_fewer_sets() -> None:
    assert stimulus(replace(PRESENT, sets=2), PRESENT, "strength", "same", 0.96, 0.8, 1.0).kept == pytest.approx(0.5)
