"""An option of adjustments can be sent to return-plan as it is."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from service.errors import Refusal
from tests.support.asking import ask

LIFTER: dict[str, Any] = {
    "body_mass": {"value": 71, "unit": "kg"},
    "stature": {"value": 174, "unit": "cm"},
    "sex": "male",
}
SORE = [
    ("front_squat", "low_back", 70),
    ("back_squat_high_bar", "knee", 95),
    ("deadlift_conventional", "low_back", 120),
    ("split_squat", "knee", 35),
    ("bench_press", "shoulder", 65),
    ("pull_up", "elbow", 7.5),
    ("barbell_row", "low_back", 50),
    ("overhead_press", "wrist", 37.5),
]


@pytest.mark.parametrize("aim", ["strength", "tendon"])
@pytest.mark.parametrize(("exercise", "region", "load"), SORE)
def test_every_option_leads_back_or_is_refused_for_its_step(exercise: str, region: str, load: float, aim: str) -> None:
    original = {
        "exercise": exercise,
        "sets": 4,
        "reps": {"low": 6, "high": 7},
        "load": {"value": load, "unit": "kg"},
        "reps_in_reserve": 2,
        "days_per_week": 2,
    }
    answer = ask(
        "adjustments",
        {
            "lifter": LIFTER,
            "prescription": original,
            "complaint": {"region": region, "pain_in_session": 4},
            "aim": aim,
            "limit": 12,
        },
    )
    assert answer.options
    led_back, refused = 0, []
    for option in answer.options:
        request = {
            "lifter": LIFTER,
            "original": original,
            "adjusted": msgspec.to_builtins(option.prescription),
            "region": region,
        }
        try:
            plan = ask("return-plan", request)
        except Refusal as refusal:
            refused.append(refusal.faults[0].pointer)
            continue
        led_back += 1
        last = plan.steps[-1].prescription
        assert (last.exercise, last.sets, last.load.value) == (exercise, 4, pytest.approx(load))
    assert led_back > 0
    assert set(refused) <= {"/step"}
