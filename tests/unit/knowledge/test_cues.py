"""Cues: offered where they relieve a region, never where they load it more, and each says what it rests on."""

from __future__ import annotations

from itertools import product

import msgspec
import pytest

from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.cues import CUES, Cue, cues_for


@pytest.mark.parametrize(
    ("exercise", "region", "cue"),
    [
        ("bench_press", "shoulder", "shoulder_blades_back"),  # noteboom_2024, against noteboom_2023
        ("bench_press", "shoulder", "upper_arms_at_most_45_degrees"),  # green_comfort_2007
        ("bench_press_narrow_grip", "elbow", "grip_wider"),  # mausehund_2022
        ("overhead_press", "shoulder", "press_in_front_of_the_head"),  # mckean_burkett_2015, secondary
        ("pull_up", "shoulder", "front_shoulder_width_grip"),  # prinold_bull_2016
        ("bench_press_dumbbell", "wrist", "palms_facing_each_other"),  # common practice, no source
        ("deadlift_conventional", "elbow", "lifting_straps"),  # weak: common practice, no source
    ],
)
def test_cue_is_offered_for_the_region_that_it_relieves(exercise: str, region: str, cue: str) -> None:
    assert CUES[cue] in cues_for(exercise, region)


def test_a_cue_is_never_offered_for_a_region_that_it_loads_more() -> None:
    for exercise, region in product(EXERCISES, REGIONS):
        assert all(cue.regions[region] == "lower" for cue in cues_for(exercise, region))
    assert CUES["grip_wider"] not in cues_for("bench_press", "shoulder")


def test_cues_speak_of_regions_that_their_lifts_load() -> None:
    for cue in CUES.values():
        for exercise in cue.exercises:
            assert any(region in EXERCISES[exercise].regions for region in cue.regions), (cue.id, exercise)


def test_cues_are_whole_sentences_and_say_what_they_rest_on() -> None:
    for cue in CUES.values():
        assert cue.text[0].isupper(), cue.id
        assert cue.text.endswith("."), cue.id
        assert cue.note, cue.id
        if cue.known == "practice":
            assert cue.sources == ("common_practice",), cue.id
            assert any(words in cue.note.lower() for words in ("no evidence", "no measurement", "not shown")), cue.id


def test_conflict_on_the_shoulder_blades_is_told() -> None:
    # noteboom_2023 (abstract) found a higher net moment where noteboom_2024 found lower shear
    assert CUES["shoulder_blades_back"].against == ("noteboom_2023",)


def test_a_variation_is_no_cue() -> None:
    cue = {"id": "x", "exercises": [], "text": "X.", "regions": {}, "sources": [], "note": "", "known": "practice"}
    assert msgspec.convert({**cue, "lever": "technique"}, Cue).lever == "technique"
    with pytest.raises(msgspec.ValidationError, match="lever"):
        msgspec.convert({**cue, "lever": "variation"}, Cue)
