"""What can be trained while a region is loaded no more."""

from __future__ import annotations

import pytest

from service.adjustment.meanwhile import meanwhile
from service.adjustment.prescription import Prescription
from service.adjustment.present import peak_moments
from service.knowledge.catalogue import EXERCISES
from service.knowledge.catalogue import REGIONS as REGIONS_BY_ID
from service.knowledge.muscles import MUSCLE_SHARES, MUSCLES
from service.mechanics.body import build_body
from service.training.volume import Reps
from service.vocabulary import REGIONS


@pytest.mark.parametrize("region", REGIONS)
def test_nothing_that_loads_the_region_is_offered_and_something_else_is(region: str) -> None:
    found = meanwhile({region}, EXERCISES)
    assert found
    assert set(found) <= set(MUSCLES)
    for muscle, exercises in found.items():
        for exercise in exercises:
            assert region not in EXERCISES[exercise].regions
            assert exercise not in REGIONS_BY_ID[region].not_while_paused
            shares = MUSCLE_SHARES[exercise]
            assert shares[muscle].share == max(one.share for one in shares.values())


def test_every_exercise_has_a_muscle_to_be_listed_under() -> None:
    assert {one for exercises in meanwhile((), EXERCISES).values() for one in exercises} == set(EXERCISES)


def test_only_what_may_be_used_is_offered() -> None:
    assert meanwhile({"knee"}, ["bench_press", "front_squat"]) == {"chest": ("bench_press",)}
    assert meanwhile({"knee", "shoulder"}, ["bench_press", "front_squat"]) == {}


def test_nothing_hangs_from_a_paused_shoulder_and_nothing_stands_on_a_paused_back() -> None:
    def offered(region: str) -> set[str]:
        return {one for exercises in meanwhile({region}, EXERCISES).values() for one in exercises}

    assert not offered("shoulder").intersection(one.id for one in EXERCISES.values() if one.carry == "hands")
    through_the_back = {one.id for one in EXERCISES.values() if one.carry in ("trunk", "overhead", "swung")}
    assert not offered("low_back").intersection({*through_the_back, "hack_squat", "calf_raise_standing"})


@pytest.mark.parametrize("region", REGIONS)
def test_what_is_left_out_besides_is_not_what_is_known_to_load_the_region(region: str) -> None:
    assert all(region not in EXERCISES[one].regions for one in REGIONS_BY_ID[region].not_while_paused)


@pytest.mark.parametrize("region", REGIONS)
@pytest.mark.parametrize("mass", [55.0, 110.0])
def test_what_is_computed_to_ask_much_of_a_paused_region_is_none_to_do_meanwhile(region: str, mass: float) -> None:
    body, whole = build_body(mass, 1.75), REGIONS_BY_ID[region].whole
    asked = {one: peak_moments(body, Prescription(one, 1, Reps(1, 1), mass)).get(whole, 0.0) for one in MUSCLE_SHARES}
    offered = {one for exercises in meanwhile({region}, EXERCISES).values() for one in exercises}
    assert all(asked[one] <= 0.25 * max(asked.values()) for one in offered)


def test_no_trunk_leans_in_a_belt_squat_over_a_paused_back() -> None:
    offered = {one for exercises in meanwhile({"low_back"}, EXERCISES).values() for one in exercises}
    assert "belt_squat" not in offered
    assert "leg_extension" in offered
    assert "leg_press" not in offered, "its sled rounds the back at the bottom"
