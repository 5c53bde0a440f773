"""What each step of a way back says of itself: its gate, its fallback, its demand, its rise and the reserve expected.

Every figure is worked out anew from the answer's other fields, from joint-demand or from reps-for-load. All derived.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any, Final

import pytest

from tests.support.asking import Answered, ask, kg

LIFTER: Final = {"body_mass": kg(70), "stature": {"value": 172, "unit": "cm"}, "sex": "male"}
ORIGINAL: Final[dict[str, Any]] = {
    "exercise": "back_squat_high_bar",
    "sets": 4,
    "reps": {"low": 5, "high": 6},
    "load": kg(90),
    "reps_in_reserve": 2,
    "days_per_week": 3,
}
ADJUSTED: Final[dict[str, Any]] = {
    **ORIGINAL,
    "sets": 3,
    "reps": {"low": 4, "high": 5},
    "load": kg(70),
    "reps_in_reserve": 4,
    "days_per_week": 2,
}


def way_back(adjusted: dict[str, Any], **more: object) -> Answered:
    request = {"lifter": LIFTER, "original": ORIGINAL, "adjusted": adjusted, "region": "hip", "bar": {"bar": kg(20)}}
    return ask("return-plan", {**request, **more})


@pytest.fixture(scope="module")
def answer() -> Answered:
    return way_back(ADJUSTED)


def middle(reps: Answered) -> float:
    return float(reps.low + reps.high) / 2


def peak(load: float) -> float:
    """Demand of the hip with a load against the original's, both in sets by which the maximum is the same."""
    done = {"load": kg(90), "reps": 6, "reps_in_reserve": 2}
    setups = []
    for one in (90, load):
        target = {"load": kg(one), "reps_in_reserve": 0}
        left = ask("reps-for-load", {"exercise": ORIGINAL["exercise"], "set": done, "target": target}).reps.value - 1
        effort = {"reps": {"low": 1, "high": 1}, "reps_in_reserve": left}
        setups.append({"label": f"{one} kg", "exercise": ORIGINAL["exercise"], "load": kg(one), **effort})
    return float(ask("joint-demand", {"lifter": LIFTER, "setups": setups}).setups[1].relative.hip_resultant.value)


def test_plan_changes_load_sets_repetitions_and_days(answer: Answered) -> None:
    assert {lever for step in answer.steps for lever in step.changed} == {"load", "sets", "reps", "days"}


def test_every_gate_asks_for_calm_and_for_the_originals_reserve(answer: Answered) -> None:
    # the limits are those of the bands (thomee_1997, from memory), of a real change (childs_2005) and our own
    for step in answer.steps:
        gate = step.gate
        assert (gate.sessions, gate.pain_in_session_up_to, gate.next_morning_above_usual_below) == (2, 2, 1)
        assert gate.stop_above == 5
        assert gate.reps_in_reserve_at_least == min(2, step.prescription.reps_in_reserve)
    assert [step.fallback for step in answer.steps] == [0, *(step.week for step in answer.steps[:-1])]


def test_demand_of_a_session_and_a_week_is_that_of_its_repetitions(answer: Answered) -> None:
    for step in answer.steps:
        done = step.prescription
        repetition = peak(done.load.value)
        session = repetition * done.sets * middle(done.reps) / (4 * 5.5)
        assert step.sore_region.repetition == pytest.approx(repetition, abs=1e-4)
        assert step.sore_region.session == pytest.approx(session, abs=1e-4)
        assert step.sore_region.week == pytest.approx(session * done.days_per_week / 3, abs=1e-4)


def test_rise_is_the_larger_of_a_repetitions_and_a_sessions(answer: Answered) -> None:
    start = peak(70)
    demands = [(start, start * 3 * 4.5 / (4 * 5.5))]
    demands += [(step.sore_region.repetition, step.sore_region.session) for step in answer.steps]
    rises = [max(now - before for before, now in zip(*both, strict=True)) for both in pairwise(demands)]
    assert [step.rise for step in answer.steps] == pytest.approx(rises, abs=3e-4)
    assert max(rises) <= answer.step + 1e-4
    # with more of the dose the session rises alone, with more load the repetition as much
    assert len({now[0] - before[0] > now[1] - before[1] - 3e-4 for before, now in pairwise(demands)}) == 2


def test_reserve_is_what_the_load_leaves_and_no_less_than_the_nearer_to_failure_of_the_two() -> None:
    done = {"load": kg(90), "reps": 6, "reps_in_reserve": 2}
    steps = way_back({**ORIGINAL, "load": kg(80), "reps_in_reserve": 4}, step=0.02).steps
    for step in steps[:-1]:
        target = {"load": kg(step.prescription.load.value), "reps_in_reserve": 0}
        expected = ask("reps-for-load", {"exercise": ORIGINAL["exercise"], "set": done, "target": target}).reps.value
        left = max(2, expected - step.prescription.reps.high)
        assert step.prescription.reps_in_reserve == pytest.approx(left, abs=0.051)
        # what can be told apart is asked for, and no more than the original leaves (zourdos_2021)
        assert step.gate.reps_in_reserve_at_least == 2
    assert steps[0].prescription.reps_in_reserve > 4 > steps[-2].prescription.reps_in_reserve
    assert steps[-1].prescription.reps_in_reserve == 2


def test_weeks_of_the_plan_end_with_its_last_step(answer: Answered) -> None:
    answers = [answer, *(way_back({**ORIGINAL, "load": kg(load)}) for load in (50, 60, 70, 80))]
    for one in answers:
        last = one.steps[-1].week
        assert one.weeks.low == last
        # our own choice: half of the weeks are done twice before their gate is passed
        assert one.weeks.high == last + -(-last // 2)
    assert {one.weeks.low % 2 for one in answers} == {0, 1}
