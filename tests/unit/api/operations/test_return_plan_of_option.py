"""Every option of adjustments leads back: sent to return-plan as it is, it gets a plan, whatever its changes."""

from __future__ import annotations

from itertools import pairwise
from typing import Any, Final

import msgspec
import pytest

from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from tests.support.asking import ask, kg

LIFTER: Final[dict[str, Any]] = {"body_mass": kg(71), "stature": {"value": 174, "unit": "cm"}, "sex": "male"}
LOADS: Final = {
    "squat": 95.0, "hinge": 120.0, "split": 35.0, "press": 60.0, "pull": 50.0,
    "calf": 90.0, "carry": 60.0, "core": 10.0, "hip_machine": 45.0,
}  # fmt: skip
PAIN: Final = {"strength": 4, "tendon": 5}


def originals() -> list[dict[str, Any]]:
    """Every lift of the catalogue with a load of its kind; lifts of the own body with a little added."""
    return [
        {
            "exercise": exercise.id,
            "sets": 4,
            "reps": {"low": 6, "high": 7},
            "load": kg(7.5 if exercise.carry == "body" else LOADS.get(exercise.family, 40.0)),
            "reps_in_reserve": 2,
            "days_per_week": 2,
        }
        for exercise in EXERCISES.values()
    ]


def options_of(original: dict[str, Any], region: str, aim: str) -> list[dict[str, Any]]:
    """The prescriptions of all options; none where adjustments has nothing to say of the lift and region."""
    request = {
        "lifter": LIFTER,
        "prescription": original,
        "complaint": {"region": region, "pain_in_session": PAIN[aim]},
        "aim": aim,
        "limit": 12,
    }
    try:
        return [msgspec.to_builtins(option.prescription) for option in ask("adjustments", request).options]
    except Refusal:
        return []


@pytest.mark.parametrize("aim", ["strength", "tendon"])
def test_every_option_leads_back(aim: str) -> None:
    counted, steps = 0, []
    for original in originals():
        for region in EXERCISES[original["exercise"]].regions:
            for adjusted in options_of(original, region, aim):
                request = {"lifter": LIFTER, "original": original, "adjusted": adjusted, "region": region}
                plan = ask("return-plan", request)
                last = plan.steps[-1].prescription
                assert (last.exercise, last.sets, last.load.value) == (
                    original["exercise"],
                    4,
                    original["load"]["value"],
                )
                done = [msgspec.structs.replace(step.prescription, reps_in_reserve=None) for step in plan.steps]
                assert all(one not in done[:place] for place, one in enumerate(done))
                assert all(step.changed for step in plan.steps)
                weeks = [0, *(step.week for step in plan.steps)]
                assert all(after > before for before, after in pairwise(weeks))
                counted += 1
                steps.append(len(plan.steps))
    assert counted > 600
    # twelve steps are aimed at: demand from a fifth of the original's to the whole needs eight of a tenth
    assert sorted(steps)[len(steps) // 2] <= 5
    assert sum(number > 12 for number in steps) <= 0.01 * counted
