"""The training effect that an option is taken to keep: part by part, never better for doing less."""

from __future__ import annotations

from typing import Any, Final, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from service.adjustment.kept import Change, Kept, effort_factor, kept
from service.adjustment.prescription import Prescription
from service.knowledge.design_choices import CHOICES
from service.training.fractional_sets import trained_muscles
from service.training.volume import Reps
from service.vocabulary import Aim, Likeness

PRESENT: Final = Prescription("front_squat", 4, Reps(5, 6), 60.0, 2.0, 2)
AS_NOW: Final = Change("same", 0.8, 0.8, 0.8, 1.0, 0.9)
HARD: Final = CHOICES.effort.hard_set_reserve
FADES: Final = CHOICES.adjustments.effect_fades
aims = st.sampled_from(get_args(Aim))
likenesses = st.sampled_from(get_args(Likeness))
reserves = st.floats(0, 25)
shares = st.floats(0.05, 1)


def effect(new: Prescription = PRESENT, aim: Aim = "strength", **change: Any) -> Kept:  # noqa: ANN401 (any field)
    return kept(new, PRESENT, aim, replace(AS_NOW, **change))


@given(reserves, reserves, st.floats(1, 30))
def test_effort_counts_in_full_up_to_a_hard_set_and_then_fades(one: float, other: float, fades: float) -> None:
    harder, easier = sorted((one, other))
    assert 0 <= effort_factor(easier, fades) <= effort_factor(harder, fades) <= 1
    assert effort_factor(min(harder, HARD), fades) == 1
    assert effort_factor(HARD + fades, fades) == pytest.approx(0)


@pytest.mark.parametrize("aim", get_args(Aim))
def test_unchanged_prescription_keeps_everything(aim: Aim) -> None:
    found = effect(aim=aim)
    assert (found.index.value, found.index.low, found.index.high) == (1, 1, 1)
    assert found.parts == {}


@given(
    aims, likenesses, st.one_of(st.none(), shares), st.integers(1, 8), reserves, st.floats(0, 1.2), st.floats(0, 0.6)
)
def test_index_lies_in_its_span_between_nought_and_one(
    aim: Aim, likeness: Likeness, share: float | None, sets: int, reserve: float, load: float, cut: float
) -> None:
    new = replace(PRESENT, sets=sets, reserve=reserve)
    found = effect(new, aim, likeness=likeness, share=share, region_load=load, range_cut=cut, ratio_spread=0.1)
    for part in (found.index, *found.parts.values(), *found.muscles.values()):
        assert 0 <= part.low <= part.value <= part.high <= 1


@given(aims, likenesses, shares, reserves)
def test_another_lift_never_keeps_more_than_the_same(
    aim: Aim, likeness: Likeness, share: float, reserve: float
) -> None:
    new = replace(PRESENT, reserve=reserve)
    assert effect(new, aim, likeness=likeness, share=share).value <= effect(new, aim, share=share).value


@given(aims, shares, shares)
def test_less_of_the_maximum_never_keeps_more(aim: Aim, one: float, other: float) -> None:
    light, heavy = sorted((one, other))
    assert effect(aim=aim, share=light).value <= effect(aim=aim, share=heavy).value


@given(aims, reserves, reserves)
def test_more_left_in_reserve_never_keeps_more(aim: Aim, one: float, other: float) -> None:
    hard, easy = sorted((one, other))
    found = [effect(replace(PRESENT, reserve=reserve), aim).value for reserve in (easy, hard)]
    assert found[0] <= found[1]


@given(aims, st.integers(1, 4), st.integers(1, 4))
def test_fewer_sets_never_keep_more(aim: Aim, one: int, other: int) -> None:
    few, many = sorted((one, other))
    assert effect(replace(PRESENT, sets=few), aim).value <= effect(replace(PRESENT, sets=many), aim).value


def test_load_matters_for_strength_and_not_for_size() -> None:
    # lopez_2021 (abstract): heavier is better for strength, load makes little difference to size near failure
    assert effect(share=0.6).value == pytest.approx(0.75)
    assert effect(aim="muscle_size", share=0.6).value == 1


def test_sets_of_very_few_repetitions_count_in_part_for_size_and_whole_for_strength() -> None:
    # baz_valle_2021 (abstract): counting sets is adequate from 6 repetitions on; in proportion below is our choice
    present = replace(PRESENT, reps=Reps(6, 8))
    for reps, share in ((Reps(6, 8), 1.0), (Reps(4, 6), 1.0), (Reps(2, 4), 4 / 6), (Reps(1, 1), 1 / 6)):
        new = replace(present, reps=reps)
        change = Change("same", 0.8, 0.8, 0.8, 1.0, 0.9)
        size = kept(new, present, "muscle_size", change)
        assert size.index.low == pytest.approx(share, abs=1e-6)  # at the least as the sets
        assert (size.value < 1) == (share < 1)
        assert kept(new, present, "strength", change).value == 1
        assert kept(new, new, "muscle_size", change).value == 1  # as few as now are no loss


def test_far_from_failure_size_is_lost_soon_and_strength_late() -> None:
    # robinson_2024 (abstract): size grows with nearness to failure, strength hardly; that neither is kept by a set that
    # leaves fifteen is our own choice
    easy, very_easy = (replace(PRESENT, reserve=HARD + more) for more in (3.0, 12.0))
    assert effect(easy, "muscle_size").value == pytest.approx(1 - 3 / FADES.muscle_size.value)
    assert effect(easy, "strength").value == pytest.approx(1 - 3 / FADES.strength.value)
    assert effect(easy, "strength").value > effect(easy, "muscle_size").value
    assert effect(very_easy, "strength").value < 0.5


def test_size_is_kept_by_muscle() -> None:
    # pelland_2024 (abstract): fractional sets; a leg extension trains the quadriceps and nothing else of a squat
    new = replace(PRESENT, exercise="leg_extension")
    found = effect(new, "muscle_size", likeness="exercise")
    assert set(found.muscles) == set(trained_muscles("front_squat"))
    assert found.muscles["quads"].value == 1
    assert found.muscles["glutes"].value == 0
    assert 0 < found.value < 0.5


def test_cut_range_keeps_more_of_the_quadriceps_than_of_the_glutes() -> None:
    # common practice; the span reaches to no difference (wolf_2023)
    found = effect(aim="muscle_size", likeness="range_of_motion", range_cut=0.4)
    assert found.muscles["glutes"].value < found.muscles["quads"].value < 1
    assert found.muscles["glutes"].high == 1


def test_untested_load_is_not_taken_to_keep_everything() -> None:
    # design choice
    for aim in ("strength", "muscle_size", "maintain"):
        found = effect(replace(PRESENT, load=30.0, reserve=3.0), aim, share=None)
        assert found.index.low < found.value == CHOICES.adjustments.untested_effect.value < found.index.high


def test_half_of_the_sets_maintains() -> None:
    # tavares_2017 (abstract): half of the volume load; bickel_2011: a third, in people new to it
    assert effect(replace(PRESENT, sets=4, days=1), "maintain").value == 1
    assert effect(replace(PRESENT, sets=1, days=1), "maintain").value < 0.5


def test_more_load_does_not_make_up_for_fewer_sets() -> None:
    assert effect(replace(PRESENT, sets=1), share=0.96).value == effect(replace(PRESENT, sets=1)).value < 1


def test_a_tendon_unloaded_below_the_tolerated_range_keeps_nothing() -> None:
    # design choice: from 0.70 of the tolerated load
    assert effect(aim="tendon", region_load=0.9).value == pytest.approx(0.9)
    assert effect(aim="tendon", region_load=0.62).value == 0
    assert effect(aim="tendon", region_load=0.64).value == pytest.approx(0.64)


def test_a_tendon_is_kept_by_its_load_and_its_time() -> None:
    fewer = replace(PRESENT, sets=2)
    assert effect(fewer, "tendon", region_load=0.9).value < 0.9
    slower = replace(fewer, tempo="3-0-3-0")
    assert effect(slower, "tendon", region_load=0.9).value == pytest.approx(0.9)


def test_a_hold_is_not_judged_by_repetitions_in_reserve() -> None:
    held = replace(PRESENT, reps=Reps(1, 1), hold=45.0, reserve=20.0)
    assert "effort" not in effect(held, "strength").parts
