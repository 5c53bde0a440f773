"""The load of a lift that is new: a start that is worth the session, in steps, never above what should be tolerated."""

from __future__ import annotations

from typing import Any

import pytest

from service.adjustment.consultation import Candidate, Case
from service.adjustment.options.ramp import Ramp, ramp
from service.adjustment.options.search import candidates
from service.knowledge.design_choices import CHOICES
from tests.support.asking import kg
from tests.support.consultations import case_of


def lifted(exercise: str, load: float, region: str) -> Case:
    request: dict[str, Any] = {
        "lifter": {"body_mass": kg(92), "stature": {"value": 180, "unit": "cm"}, "sex": "male"},
        "prescription": {
            "exercise": exercise,
            "sets": 4,
            "reps": {"low": 5, "high": 5},
            "load": kg(load),
            "reps_in_reserve": 2,
            "days_per_week": 2,
        },
        "complaint": {"region": region, "pain_in_session": 4},
        "aim": "strength",
    }
    return case_of(request)


def ramp_to(case: Case, exercise: str) -> Ramp | None:
    """The ramp of the first candidate that is another lift alone; None where there is none."""
    for one in candidates(case):
        if isinstance(one, Candidate) and one.prescription.exercise == exercise and len(one.levers) == 1:
            return ramp(case, one)
    return None


# what a coach would begin with: [kg], from and to
@pytest.mark.parametrize(
    ("exercise", "load", "region", "new", "start", "most"),
    [
        ("deadlift_conventional", 215, "low_back", "deadlift_sumo", (130, 170), (180, 215)),
        ("deadlift_conventional", 215, "low_back", "block_pull", (120, 170), (180, 215)),
        ("deadlift_conventional", 215, "low_back", "single_leg_stiff_leg_deadlift", (20, 40), (40, 60)),
        ("romanian_deadlift", 70, "low_back", "single_leg_stiff_leg_deadlift", (10, 20), (25, 45)),
        ("romanian_deadlift", 70, "low_back", "deadlift_trap_bar", (35, 50), (50, 70)),
        ("back_squat_high_bar", 120, "low_back", "split_squat", (20, 35), (40, 60)),
        ("barbell_row", 70, "low_back", "dumbbell_row", (12, 25), (25, 40)),
    ],
)
def test_a_lift_that_is_new_starts_where_a_coach_would(
    exercise: str, load: float, region: str, new: str, start: tuple[float, float], most: tuple[float, float]
) -> None:
    found = ramp_to(lifted(exercise, load, region), new)
    assert found is not None
    assert start[0] <= found.start <= start[1]
    assert most[0] <= found.at_most <= most[1]
    assert found.step is not None
    assert found.reserve >= CHOICES.adjustments.untested_reserve


def test_a_deadlift_that_asks_more_of_the_back_for_its_load_is_none_for_a_romanian_one() -> None:
    assert ramp_to(lifted("romanian_deadlift", 70, "low_back"), "deadlift_conventional") is None


@pytest.mark.parametrize("exercise", ["deadlift_conventional", "back_squat_high_bar", "bench_press", "barbell_row"])
def test_no_ramp_goes_above_the_present_load_or_what_stands_for_it(exercise: str) -> None:
    case = lifted(exercise, 100, "shoulder" if exercise == "bench_press" else "low_back")
    ramps = 0
    for one in candidates(case):
        found = ramp(case, one) if isinstance(one, Candidate) else None
        if found is not None and isinstance(one, Candidate):
            ramps += 1
            assert found.start <= found.at_most <= 100
            assert one.trial.intended is None or found.at_most <= max(found.start, one.trial.intended)
            assert found.step is None or found.start + found.step <= found.at_most + 1e-6
    assert ramps > 3
