"""A prescription in words: as a coach says it."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec import convert

from service.api.models.prescription import Prescription
from service.messages.catalogue import KINDS

SQUAT = {"exercise": "front_squat", "sets": 4, "reps": {"low": 5, "high": 6}, "load": {"value": 62.5, "unit": "kg"}}
LINE = "Front squat, 4 sets of 5 to 6 repetitions with 62.5 kg"
HOLD = {
    "exercise": "back_squat_high_bar",
    "sets": 4,
    "reps": {"low": 1, "high": 1},
    "load": {"value": 60, "unit": "kg"},
    "hold": {"value": 45, "unit": "s"},
}


@pytest.mark.parametrize(
    ("change", "form", "text"),
    [
        ({}, "", LINE),
        ({"tempo": "3-1-X-1"}, "", f"{LINE}, 3 s down, 1 s at the bottom, up as fast as you can, 1 s at the top"),
        ({"tempo": "3-0-3-0"}, "", f"{LINE}, 3 s down, 3 s up"),
        ({"sets": 1, "reps": {"low": 1, "high": 1}}, "sets", "1 set of 1 repetition"),
        ({"days_per_week": 1}, "work", "4 sets of 5 to 6 repetitions with 62.5 kg on one day a week"),
        ({"days_per_week": 3}, "work", "4 sets of 5 to 6 repetitions with 62.5 kg on 3 days a week"),
        ({"load": {"value": 0, "unit": "kg"}}, "load", "body mass"),
        ({"exercise": "split_squat"}, "sets", "4 sets of 5 to 6 repetitions on each leg"),
        ({"exercise": "pull_up"}, "load", "62.5 kg added to body mass"),
        ({"exercise": "pull_up", "assistance": {"value": 12, "unit": "kg"}}, "load", "12 kg of assistance"),
        ({"exercise": "bench_press_dumbbell"}, "load", "two dumbbells of 31.25 kg"),
        ({"exercise": "split_squat", "implement": "dumbbells"}, "load", "two dumbbells of 31.25 kg"),
        ({"exercise": "goblet_squat", "implement": "kettlebell"}, "load", "a kettlebell of 62.5 kg"),
        ({"exercise": "hip_thrust", "implement": "one_dumbbell"}, "load", "one dumbbell of 62.5 kg"),
        ({"exercise": "biceps_curl", "implement": "barbell"}, "load", "62.5 kg on a barbell"),
        ({"exercise": "split_squat", "implement": "safety_bar"}, "load", "62.5 kg on a safety bar"),
        ({"exercise": "split_squat", "implement": "barbell"}, "load", "62.5 kg"),
        ({"exercise": "dumbbell_row", "implement": "kettlebell"}, "load", "62.5 kg for each arm in turn"),
        ({"exercise": "one_arm_cable_row"}, "load", "62.5 kg for each arm in turn"),
        (HOLD, "sets", "4 × 45 s"),
        (HOLD | {"reps": {"low": 2, "high": 2}}, "sets", "4 × 2 × 45 s"),
        (
            {"depth": {"thigh_below_horizontal": {"value": -35, "unit": "deg"}}},
            "",
            f"{LINE}, go down only until the thighs are 35 degrees short of level",
        ),
        (
            {
                "depth": {"box_height": {"value": 0.4, "unit": "m"}},
                "tempo": "3-1-X-1",
                "rest": {"value": 120, "unit": "s"},
            },
            "",
            (
                f"{LINE}, go down to a box of 40 cm, 3 s down, 1 s at the bottom, up as fast as you can, "
                "1 s at the top, rest 120 s"
            ),
        ),
        (
            {"exercise": "bench_press", "depth": {"above_bottom": {"value": 0.05, "unit": "m"}}},
            "",
            "Bench press, 4 sets of 5 to 6 repetitions with 62.5 kg, stop 5 cm above the chest",
        ),
        (
            {"exercise": "floor_press", "sets": 1, "depth": {"above_bottom": {"value": 0.05, "unit": "m"}}},
            "",
            "Floor press, 1 set of 5 to 6 repetitions with 62.5 kg, stop 5 cm above the lowest point of the full range",
        ),
        (
            {"technique": {"heel_lift": {"value": 0.025, "unit": "m"}, "stance": "narrow"}},
            "",
            f"{LINE}, raise the heels by 2.5 cm, take a narrow stance",
        ),
    ],
)
def test_a_prescription_is_said_as_a_coach_says_it(change: dict[str, Any], form: str, text: str) -> None:
    assert KINDS["prescription"].writer(form)(KINDS["prescription"].shown(SQUAT | change)) == text


def test_what_is_not_stated_is_not_a_value() -> None:
    assert KINDS["prescription"].shown(convert(SQUAT | {"tempo": None, "cues": []}, Prescription)) == SQUAT
