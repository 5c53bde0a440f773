"""Pain where a lift asks next to nothing, is not known to load, or asks for more with less load: no dead ends."""

from __future__ import annotations

from typing import Any, Final

import pytest

from service.knowledge.catalogue import EXERCISES
from tests.support.asking import Answered, ask, faults, kg

FIRST_STEP: Final = 0.9  # our own choice
SPARED: Final = [
    ("belt_squat", "low_back"),
    ("leg_press", "low_back"),
    ("leg_press", "shoulder"),
    ("overhead_press", "ankle"),
    ("bench_press", "knee"),
    ("leg_extension", "wrist"),
]
IDLE: Final = [("deadlift_conventional", "knee"), ("deadlift_sumo", "knee"), ("deadlift_sumo", "front_of_knee")]


def asked(exercise: str, region: str, pain: float, load: float = 150, mass: float = 84, **more: Any) -> Answered:  # noqa: ANN401
    return ask("adjustments", question(exercise, region, pain, load, mass, **more))


def question(
    exercise: str, region: str, pain: float, load: float = 150, mass: float = 84, **more: object
) -> dict[str, Any]:
    return {
        "lifter": {
            "body_mass": kg(mass),
            "stature": {"value": 181 if mass < 100 else 190, "unit": "cm"},
            "sex": "male",
        },
        "prescription": {
            "exercise": exercise,
            "sets": 4,
            "reps": {"low": 5, "high": 6},
            "load": kg(load),
            "reps_in_reserve": 2,
            "days_per_week": 2,
        },
        "complaint": {"region": region, "pain_in_session": pain, **more},
        "aim": "strength",
    }


def codes(answer: Answered) -> set[str]:
    return {one.code for one in answer.why}


@pytest.mark.parametrize(("exercise", "region"), [*SPARED, *IDLE])
@pytest.mark.parametrize(
    ("pain", "decision", "tier"),
    [
        (1, "no_change_needed", "green"),
        (4, "adjust", "amber"),
        (6, "adjust", "red"),
        (8, "pause_and_review", "pause"),
    ],
)
def test_the_pain_decides_before_what_is_known_of_the_lift(
    exercise: str, region: str, pain: float, decision: str, tier: str
) -> None:
    answer = asked(exercise, region, pain)
    assert (answer.decision, answer.tier) == (decision, tier)
    if decision != "adjust":
        return
    known = region in EXERCISES[exercise].regions
    assert {"asks_next_to_nothing" if known else "not_known_to_load", "confirm_the_complaint"} <= codes(answer)
    assert "first_step" not in codes(answer)
    assert answer.options
    for option in answer.options:
        assert region not in option.demand
        assert option.meets_by in ("direction_only", "session_exposure", "week_exposure")
    assert ("stop_today" in codes(answer)) == (tier == "red")


@pytest.mark.parametrize(("exercise", "region"), SPARED)
def test_what_is_the_spared_lift_already_is_taken_down_and_not_exchanged(exercise: str, region: str) -> None:
    for pain in (4, 6):
        answer = asked(exercise, region, pain)
        assert {option.prescription.exercise for option in answer.options} == {exercise}
        assert "load" in answer.options[0].levers


def test_a_knee_in_a_deadlift_is_never_sent_to_a_trap_bar() -> None:
    answer = asked("deadlift_conventional", "knee", 4)
    assert all("trap_bar" not in option.prescription.exercise for option in answer.options)
    assert any(option.levers[0] == "load" for option in answer.options)


@pytest.mark.parametrize(("exercise", "region"), [*SPARED, *IDLE])
def test_reviews_and_ways_back_take_what_such_an_answer_shows(exercise: str, region: str) -> None:
    now = question(exercise, region, 4)
    for option in asked(exercise, region, 4).options:
        if option.prescription.exercise != exercise:
            continue
        course = {"region": region, "lifter": now["lifter"], "original": now["prescription"]}
        well = [{"pain_in_session": 0, "pain_next_morning": 0}] * 2
        review = ask(
            "session-review", course | {"prescription": option.prescription, "usual_pain": 0, "sessions": well}
        )
        assert review.next is not None
        assert ask("return-plan", course | {"adjusted": option.prescription, "step": 0.3}).steps


def test_a_way_back_between_two_lifts_needs_one_that_loads_the_region() -> None:
    request = {"lifter": question("bench_press", "knee", 4)["lifter"], "region": "knee"}
    bench, press = (question(one, "knee", 4)["prescription"] for one in ("bench_press", "overhead_press"))
    (fault,) = faults("return-plan", request | {"original": bench, "adjusted": press})
    assert fault.pointer == "/region"


# --- a tolerated load that asks no less -------------------------------------------------------------------------------


@pytest.mark.parametrize(("exercise", "load", "share"), [("box_squat", 120, 0.9), ("deadlift_conventional", 200, 0.7)])
def test_a_tolerated_load_that_asks_for_more_sets_no_target_above_now(exercise: str, load: float, share: float) -> None:
    tolerated = {"load": kg(load * share)}
    answer = asked(exercise, "knee", 4, load, 110, tolerated=tolerated)
    assert answer.target.ratio == FIRST_STEP
    assert answer.target.rule.code == "rule_beside_tolerated_load"
    assert "load_is_not_the_lever" in codes(answer)
    peaks = [option for option in answer.options if option.meets_by == "peak"]
    assert peaks
    assert all(option.demand["knee"].value <= FIRST_STEP for option in peaks)
    assert set(answer.options[0].levers) - {"load"}
    assert asked(exercise, "knee", 2, load, 110, tolerated=tolerated).target.ratio == FIRST_STEP


def test_a_tolerated_load_that_asks_for_less_sets_the_target() -> None:
    answer = asked("front_squat", "low_back", 4, tolerated={"load": kg(120)})
    assert answer.target.rule.code == "rule_of_tolerated_load"
    assert answer.target.ratio < 1
    assert "load_is_not_the_lever" not in codes(answer)


# --- reserves that nobody can tell ------------------------------------------------------------------------------------


@pytest.mark.parametrize("pain", [4, 6])
@pytest.mark.parametrize(("exercise", "region"), [("deadlift_conventional", "low_back"), ("front_squat", "knee")])
def test_no_reserve_is_said_that_nobody_can_tell(exercise: str, region: str, pain: float) -> None:
    """Six are ours."""
    said = [option for option in asked(exercise, region, pain).options if option.ramp is None]
    far = [option for option in said if option.prescription.reps_in_reserve >= 6]
    assert far
    assert all(option.words.endswith("far from failure.") for option in far)
    assert not any("far from failure" in option.words for option in said if option not in far)
