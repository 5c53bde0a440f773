"""Relief by a light start is said to be that, and what is left of it with the load that stands for the present one."""

from __future__ import annotations

from typing import Any, Final

import msgspec
import pytest

from tests.support.asking import ask, kg

LIFTER: Final[dict[str, Any]] = {"body_mass": kg(77), "stature": {"value": 176, "unit": "cm"}, "sex": "male"}
CODES: Final = {"start_load_relieves_alone", "start_load_relieves_in_part"}


def said(exercise: str, region: str, load: float, substitute: str) -> list[dict[str, Any]]:
    """What is said of the start load of a substitute."""
    asked = {
        "lifter": LIFTER,
        "prescription": {
            "exercise": exercise,
            "sets": 4,
            "reps": {"low": 5, "high": 5},
            "load": kg(load),
            "reps_in_reserve": 2,
        },
        "complaint": {"region": region, "pain_in_session": 4},
        "aim": "strength",
        "limit": 12,
        "constraints": {"exercises": [substitute, exercise]},
    }
    options = [one for one in ask("adjustments", asked).options if one.prescription.exercise == substitute]
    assert options
    return [msgspec.to_builtins(line) for option in options for line in option.why if line.code in CODES]


@pytest.mark.parametrize(
    ("exercise", "region", "load", "substitute", "code"),
    [
        ("bench_press", "shoulder", 80, "floor_press", "start_load_relieves_alone"),
        ("back_squat_high_bar", "knee", 110, "belt_squat", "start_load_relieves_alone"),
        ("deadlift_conventional", "low_back", 130, "deadlift_sumo", "start_load_relieves_in_part"),
    ],
)
def test_what_the_start_load_does_is_said_to_be_done_by_it(
    exercise: str, region: str, load: float, substitute: str, code: str
) -> None:
    lines = said(exercise, region, load, substitute)
    assert {line["code"] for line in lines} == {code}
    shares = [line["values"]["share"] for line in lines]
    assert all((share >= 0.995) == (code == "start_load_relieves_alone") for share in shares)


def test_nothing_is_said_of_it_where_the_lift_itself_relieves() -> None:
    assert said("back_squat_high_bar", "low_back", 110, "belt_squat") == []
