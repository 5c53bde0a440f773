"""What an option keeps of the training effect: an index from nought to one, never better for doing less."""

from __future__ import annotations

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from service.adjustment.prescription import Prescription, relative_load
from service.adjustment.stimulus import Stimulus, effort_factor, rest_factor, set_seconds, stimulus
from service.knowledge.design_choices import CHOICES
from service.training.volume import Reps
from service.vocabulary import Aim, Likeness

PRESENT = Prescription("front_squat", 4, Reps(5, 6), 60.0, 2.0, 2)
aims = st.sampled_from(get_args(Aim))
likenesses = st.sampled_from(get_args(Likeness))
reserves = st.floats(0, 15)
shares = st.one_of(st.none(), st.floats(0.05, 1))
moments = st.one_of(st.none(), st.floats(0.1, 1.5))


def kept(
    new: Prescription,
    aim: Aim = "strength",
    likeness: Likeness = "same",
    share: float | None = 0.8,
    moment: float | None = 1.0,
) -> Stimulus:
    return stimulus(new, PRESENT, new.load / PRESENT.load, aim, likeness, share, 0.8, moment)


@given(reserves, reserves)
def test_effort_counts_in_full_up_to_a_hard_set_and_then_fades(one: float, other: float) -> None:
    harder, easier = sorted((one, other))
    assert 0 <= effort_factor(easier) <= effort_factor(harder) <= 1
    assert effort_factor(min(harder, CHOICES.effort.hard_set_reserve)) == 1
    assert effort_factor(CHOICES.effort.hard_set_reserve + 6) == 0


@pytest.mark.parametrize("aim", get_args(Aim))
def test_unchanged_prescription_keeps_everything(aim: Aim) -> None:
    found = kept(PRESENT, aim)
    assert (found.hard_sets, found.volume_load, found.kept) == (1, 1, 1)


@given(aims, likenesses, shares, st.integers(1, 8), reserves, moments)
def test_index_is_between_nought_and_one_and_never_more_for_another_lift(
    aim: Aim, likeness: Likeness, share: float | None, sets: int, reserve: float, moment: float | None
) -> None:
    new = replace(PRESENT, sets=sets, reserve=reserve)
    found = kept(new, aim, likeness, share, moment)
    assert 0 <= found.kept <= kept(new, aim, "same", share, moment).kept <= 1
    assert found.hard_sets == sets / 4


@given(aims, st.floats(0.05, 1), st.floats(0.05, 1))
def test_less_of_the_maximum_never_keeps_more(aim: Aim, one: float, other: float) -> None:
    light, heavy = sorted((one, other))
    assert kept(PRESENT, aim, share=light).kept <= kept(PRESENT, aim, share=heavy).kept


def test_load_matters_for_strength_and_not_for_size() -> None:
    # lopez_2021 (abstract): heavier is better for strength, load makes little difference to size near failure
    assert kept(PRESENT, "strength", share=0.6).kept == pytest.approx(0.75)
    assert kept(PRESENT, "muscle_size", share=0.6).kept == 1


def test_effort_matters_for_size_and_not_for_strength() -> None:
    # robinson_2024 (abstract): size grows with nearness to failure, strength hardly
    easy = replace(PRESENT, reserve=CHOICES.effort.hard_set_reserve + 3)
    assert kept(easy, "strength").kept == 1
    assert kept(easy, "muscle_size").kept == pytest.approx(0.5)


@pytest.mark.parametrize("aim", get_args(Aim))
def test_untested_load_is_not_taken_to_keep_everything(aim: Aim) -> None:
    # design choice
    untested = replace(PRESENT, load=30.0, reserve=3.0)
    assert kept(untested, aim, share=None, moment=None).kept == pytest.approx(0.5)
    assert kept(untested, aim, share=None, moment=0.7).kept == pytest.approx(0.7)


@given(aims, st.integers(1, 4), st.integers(1, 4))
def test_fewer_sets_never_keep_more(aim: Aim, one: int, other: int) -> None:
    few, many = sorted((one, other))
    assert kept(replace(PRESENT, sets=few), aim).kept <= kept(replace(PRESENT, sets=many), aim).kept


def test_a_third_of_the_sets_maintains() -> None:
    # bickel_2011 (abstract; the counts from memory): 3 of 9 sets a week
    assert kept(replace(PRESENT, sets=3, days=1), "maintain").kept == 1
    assert kept(replace(PRESENT, sets=1, days=1), "maintain").kept < 0.5


def test_volume_is_that_of_the_week() -> None:
    found = kept(replace(PRESENT, sets=2, days=4, load=30.0), share=0.4)
    assert (found.hard_sets, found.volume_load) == (1, 0.5)


def test_body_mass_counts_as_volume_where_it_is_lifted() -> None:
    pull_up = replace(PRESENT, exercise="pull_up", load=0.0)
    half = replace(pull_up, load=-35.0)
    moved = relative_load(half, pull_up, 70.0)
    assert moved == 0.5
    found = stimulus(half, pull_up, moved, "strength", "same", 0.4, 0.8, None)
    assert found.volume_load == 0.5


def test_heavier_load_does_not_make_up_for_fewer_sets() -> None:
    assert kept(replace(PRESENT, sets=2), share=0.96).kept == pytest.approx(0.5)


def test_longer_rest_makes_up_for_a_part_of_fewer_sets() -> None:
    # rbme_2007, motriz_2013: more repetitions are kept over the sets
    short = replace(PRESENT, rest=60.0)
    fewer, rested = replace(short, sets=3), replace(short, sets=3, rest=180.0)
    assert rest_factor(rested, short) > rest_factor(fewer, short) > 0
    values = [stimulus(new, short, 1.0, "strength", "same", 0.8, 0.8, 1.0).kept for new in (fewer, rested)]
    assert values[0] < values[1] <= 1


def test_time_under_tension_is_that_of_the_tempo_or_the_hold() -> None:
    # definition: 6 s a repetition, five and a half of them in the middle of the range
    slow = set_seconds(replace(PRESENT, tempo="3-0-3-0"))
    assert slow is not None
    assert slow.value == pytest.approx(33)
    held = set_seconds(replace(PRESENT, hold=45.0))
    assert held is not None
    assert held.value == 45
    assert set_seconds(PRESENT) is None
