"""A prescription is the same as the value of a message and as an answer shows it."""

from __future__ import annotations

import pytest
from msgspec import convert

from service.adjustment.prescription import Prescription
from service.adjustment.text.prescription import prescription_value
from service.api.models import prescription as shape
from service.api.models.prescription_shown import shown
from service.errors import Refusal
from service.mechanics.setups import Depth, Technique
from service.training.volume import Reps
from tests.support.asking import ask, kg

CUES = ("shoulder_blades_back", "wrist_wraps")
PLAIN = Prescription("front_squat", 4, Reps(5, 6), 62.5)


@pytest.mark.parametrize("unit", ["kg", "lb"])
@pytest.mark.parametrize(
    "prescription",
    [
        PLAIN,
        Prescription("pull_up", 3, Reps(5, 5), -12.5, 2.04, 1),
        Prescription(
            "front_squat",
            4,
            Reps(1, 1),
            60,
            8.0,
            2,
            Depth(knee_flexion=1.2),
            Technique(),
            None,
            120.0,
            45.0,
            CUES,
        ),
        Prescription(
            "block_pull", 4, Reps(4, 6), 60, None, None, Depth(box_height=0.2), Technique(0.02, "wide"), "3-1-X-1"
        ),
        Prescription(
            "bench_press",
            4,
            Reps(4, 6),
            60,
            1.0,
            None,
            Depth(above_bottom=0.1),
            Technique(grip_width=0.5, shoulder_abduction=1.1, bench_angle=-0.2, wrist_bend=0.0),
        ),
        Prescription(
            "split_squat", 4, Reps(4, 6), 20, 1.0, None, Depth(-0.5), None, implement="dumbbells", side="left"
        ),
    ],
)
def test_a_message_and_an_answer_show_the_same_prescription(prescription: Prescription, unit: str) -> None:
    value = prescription_value(prescription, unit)  # type: ignore[arg-type]
    assert convert(value, shape.Prescription) == shown(prescription, unit)  # type: ignore[arg-type]
    assert None not in value.values()


@pytest.mark.parametrize("field", ["original", "adjusted"])
def test_a_repetition_of_no_time_is_refused_by_its_name(field: str) -> None:
    done = {"exercise": "front_squat", "sets": 4, "reps": {"low": 5, "high": 6}, "load": kg(50)}
    lifter = {"body_mass": kg(64), "stature": {"value": 168, "unit": "cm"}}
    request = {"lifter": lifter, "original": done | {"load": kg(60)}, "adjusted": done, "region": "low_back"}
    request[field] = done | {"tempo": "0-0-0-0"}
    with pytest.raises(Refusal) as refused:
        ask("return-plan", request)
    assert [fault.pointer for fault in refused.value.faults] == [f"/{field}/tempo"]
