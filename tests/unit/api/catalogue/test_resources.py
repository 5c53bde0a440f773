"""The signs to ask about where a region hurts."""

from __future__ import annotations

from typing import Any

import pytest

from service.api.catalogue.resources import RESOURCES
from service.knowledge.signs import SIGNS, URGENCIES
from service.training.fractional_sets import muscle_shares
from service.vocabulary import REGIONS, Region

(BY_REGION,) = (resource.filter for resource in RESOURCES if resource.filter is not None)


def test_signs_can_be_asked_for_by_every_region() -> None:
    assert BY_REGION.parameter == "region"
    assert list(BY_REGION.ids) == list(REGIONS)


@pytest.mark.parametrize("region", REGIONS)
def test_a_region_has_its_own_signs_and_those_of_every_region_the_most_urgent_first(region: Region) -> None:
    listed = [SIGNS[sign] for sign in BY_REGION.ids[region]]
    assert {sign.id for sign in listed} == {
        sign.id for sign in SIGNS.values() if not sign.regions or region in sign.regions
    }
    order = [(URGENCIES[sign.urgency].rank, not sign.regions) for sign in listed]
    assert order == sorted(order)


def test_a_sore_ankle_is_asked_about_bone_tendon_and_vein_and_not_about_the_neck() -> None:
    ankle = set(BY_REGION.ids["ankle"])
    assert {"ottawa_ankle", "ottawa_foot", "achilles_rupture", "dvt_suspected", "hot_swollen_joint"} <= ankle
    assert {"back_muscle_compartment", "chest_pain_exertional", "rhabdomyolysis_suspected"} <= ankle
    assert not {"arterial_event", "saddle_numbness", "acute_cuff_tear"} & ankle


def test_no_sign_is_left_out_of_every_region() -> None:
    assert {sign for ids in BY_REGION.ids.values() for sign in ids} == set(SIGNS)


def entries(name: str) -> dict[str, Any]:
    (resource,) = (one for one in RESOURCES if one.name == name)
    return dict(resource.entries)


def test_an_exercise_says_what_it_trains_from_what_and_how_that_is_known_the_most_first() -> None:
    squat = entries("exercises")["back_squat_high_bar"].muscles
    assert [one.share for one in squat] == sorted((one.share for one in squat), reverse=True)
    (glutes,) = (one for one in squat if one.muscle == "glutes")
    assert (glutes.share, glutes.sources, glutes.known) == (1.0, ["plotkin_2023"], "abstract")
    assert {one.muscle: one.share for one in squat}["hamstrings"] == 0.0, "looked at and not trained"


def test_exercises_and_muscles_are_one_ledger_read_from_both_sides() -> None:
    exercises, muscles = entries("exercises").values(), entries("muscles").values()
    of_exercises = {(one.id, part.muscle, part.share, part.known) for one in exercises for part in one.muscles}
    of_muscles = {(part.exercise, one.id, part.share, part.known) for one in muscles for part in one.exercises}
    assert of_exercises == of_muscles
    assert of_exercises


def test_a_muscle_lists_what_trains_it_the_most_first() -> None:
    for muscle in entries("muscles").values():
        shares = [one.share for one in muscle.exercises]
        assert shares == sorted(shares, reverse=True), muscle.id


def test_options_of_one_lift_and_weeks_count_by_the_shares_that_are_shown() -> None:
    for exercise in entries("exercises").values():
        assert muscle_shares(exercise.id) == {one.muscle: one.share for one in exercise.muscles}
