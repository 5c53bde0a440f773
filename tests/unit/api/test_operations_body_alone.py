"""Lifts with nothing on the implement: the first prescription of many beginners, valid wherever it makes sense."""

from __future__ import annotations

from itertools import product
from typing import Any, Final

import pytest

from service.adjustment.prescription import lifts_the_body, may_be_unloaded
from service.knowledge.catalogue import EXERCISES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.spinal_setups import CARRIES
from tests.support.asking import Answered, ask, faults, in_full
from tests.support.consultations import AIMS, quantity
from tests.support.drawn import description, words
from tests.support.every_lift import LIFTER, LIFTS, asked, prescription, way_back
from tests.unit.api.operations.test_adjustments_chart import pictured

ALONE: Final = [lift for lift in LIFTS if may_be_unloaded(lift)]
LOADED: Final = [lift for lift in LIFTS if not may_be_unloaded(lift)]
STANDING: Final = [lift for lift in ALONE if not lifts_the_body(lift)]


def unloaded(exercise: str) -> dict[str, Any]:
    return prescription(exercise, 0)


def consultation(exercise: str, region: str, aim: str = "muscle_size", **more: object) -> dict[str, Any]:
    return {
        "lifter": LIFTER,
        "prescription": unloaded(exercise),
        "complaint": {"region": region, "pain_in_session": 4},
        "aim": aim,
        "limit": 20,
        **more,
    }


def test_the_lifts_of_a_beginner_may_be_without_a_load_and_presses_and_machines_may_not() -> None:
    first = {"back_squat_high_bar", "goblet_squat", "split_squat", "lunge", "step_up", "single_leg_squat", "pull_up"}
    assert first <= set(ALONE)
    assert {"bench_press", "bench_press_dumbbell", "leg_press", "leg_extension", "barbell_row"} <= set(LOADED)


def tried(answer: Answered) -> list[str]:
    """What was tried without giving an option, in words."""
    return [one.tried.text for group in answer.ruled_out for one in group.trials if one.tried]


@pytest.mark.parametrize("exercise", STANDING)
def test_adjustments_of_the_body_alone(exercise: str) -> None:
    for region, aim in product(EXERCISES[exercise].regions, AIMS):
        request = in_full(consultation(exercise, region, aim))
        answer = asked("adjustments", request, exercise, region, "/complaint/region")
        for option in answer.options if answer else ():
            assert option.prescription.load.value == 0
            assert "load" not in option.levers
            assert "with body mass" in option.words or option.prescription.hold
            other = option.prescription.exercise != exercise
            assert EXERCISES[option.prescription.exercise].unloaded or not other
        said = tried(answer) if answer else []
        assert not [text for text in said if " 0 kg" in text]


def test_what_helps_a_sore_knee_in_body_weight_squats() -> None:
    answer = ask("adjustments", consultation("back_squat_high_bar", "knee"))
    found = {tuple(option.levers) for option in answer.options}
    assert {("sets",), ("exercise",)} <= found
    assert "range_of_motion" in {levers[0] for levers in found}
    assert {one.lever: one.code for one in answer.ruled_out}["load"] == "no_load_to_take_off"
    assert "tempo" in {one.lever for one in answer.ruled_out}


def test_body_mass_may_be_what_is_tolerated() -> None:
    loaded = consultation("split_squat", "knee") | {"prescription": prescription("split_squat", 20)}
    tolerated = loaded | {
        "complaint": {"region": "knee", "pain_in_session": 4, "tolerated": {"load": quantity(0, "kg")}}
    }
    answer = ask("adjustments", tolerated)
    assert 0 < answer.target.ratio < 1


@pytest.mark.parametrize("exercise", LOADED)
def test_nothing_on_a_press_or_a_machine_is_refused_at_the_load(exercise: str) -> None:
    region = EXERCISES[exercise].regions[0]
    (fault,) = faults("adjustments", consultation(exercise, region))
    assert (fault.pointer, fault.allowed) == ("/prescription/load", "at least 0.1 kg")
    review = {"prescription": unloaded(exercise), "region": region, "sessions": [{"pain_in_session": 1}]}
    assert [fault.pointer for fault in faults("session-review", review)] == ["/prescription/load"]


@pytest.mark.parametrize("exercise", STANDING)
@pytest.mark.parametrize(
    ("session", "changed"),
    [
        ({"pain_in_session": 3, "pain_next_morning": 1}, None),
        ({"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [8, 7, 7, 6]}, "reps"),
    ],
    ids=["hold", "progress"],
)
def test_session_review_goes_on_with_the_body_alone(
    exercise: str, session: dict[str, Any], changed: str | None
) -> None:
    region = EXERCISES[exercise].regions[0]
    request = {"prescription": unloaded(exercise), "region": region, "usual_pain": 1, "sessions": [session, session]}
    answer = ask("session-review", request)
    assert answer.next.load.value == 0
    assert answer.changed == ([] if changed is None else [changed])
    assert "with body mass" in next(one.text for one in answer.why if one.code == "review_next")


@pytest.mark.parametrize("exercise", STANDING)
def test_session_review_leaves_out_what_nothing_can_be_taken_off(exercise: str) -> None:
    region = EXERCISES[exercise].regions[0]
    sessions = [{"pain_in_session": 1}, {"pain_in_session": 7, "pain_next_morning": 1}]
    request = {"prescription": unloaded(exercise), "region": region, "usual_pain": 1, "sessions": sessions}
    answer = ask("session-review", request)
    assert (answer.decision, answer.next, answer.changed) == ("step_back", None, [])
    assert answer.why[-1].code == "nothing_sure_of_the_lift"


@pytest.mark.parametrize("exercise", STANDING)
def test_joints_and_spine_carry_the_body_alone(exercise: str) -> None:
    setups = [
        {"label": "alone", "exercise": exercise, "load": quantity(0, "kg")},
        {"label": "loaded", "exercise": exercise, "load": quantity(30, "kg")},
    ]
    if exercise in EXERCISE_RULES:
        alone, loaded = ask("joint-demand", {"lifter": LIFTER, "setups": setups}).setups
        assert alone.total_load.value == 0
        assert 0 < alone.moments.hip.value < loaded.moments.hip.value
    if EXERCISES[exercise].carry in CARRIES:
        # a pull with nothing in the hands balances only at a lean of its own
        pull = exercise in EXERCISE_RULES and EXERCISE_RULES[exercise].family == "pull"
        lean = {} if pull else {"trunk_lean": quantity(30, "deg")}
        alone, loaded = ask("spinal-load", {"lifter": LIFTER, "setups": [one | lean for one in setups]}).setups
        assert alone.load_through_spine.value == 0
        assert alone.relative.load_through_spine is None
        assert loaded.relative.moment.value > alone.relative.moment.value or EXERCISES[exercise].carry == "pelvis"


@pytest.mark.parametrize(("original", "adjusted"), [(60, 0), (0, 0), (20, 0)])
@pytest.mark.parametrize("before", ["split_squat", "back_squat_high_bar", "goblet_squat"])
def test_the_way_back_from_and_to_the_body_alone(before: str, original: float, adjusted: float) -> None:
    request = way_back(before, "back_squat_high_bar", "knee") | {"step": 0.5}
    request["original"] = prescription("back_squat_high_bar", original)
    request["adjusted"] = prescription(before, adjusted) | {"sets": 2}
    heavier_to_begin_with = (before, original) == ("goblet_squat", 0)  # and no way leads back from there after a break
    for weeks_off in (0,) if heavier_to_begin_with else (0, 3):
        answer = ask("return-plan", request | {"weeks_off": weeks_off})
        assert answer.steps[-1].prescription.load.value == original


def test_no_way_leads_from_a_load_back_to_none() -> None:
    request = way_back("goblet_squat", "back_squat_high_bar", "knee")
    request["original"] = unloaded("back_squat_high_bar")
    (fault,) = faults("return-plan", request)
    assert (fault.pointer, fault.allowed) == ("/adjusted/load", "0")


@pytest.mark.parametrize(
    ("before", "after", "original"),
    [
        ("glute_bridge", "hip_thrust", 60),
        ("hip_thrust", "hip_thrust", 60),
        ("deadlift_trap_bar_high_handle", "belt_squat", 20),
        ("single_leg_stiff_leg_deadlift", "single_leg_stiff_leg_deadlift", 20),
        ("split_squat", "single_leg_squat", 0),
    ],
)
@pytest.mark.parametrize("weeks_off", [0, 3])
def test_a_way_leads_back_from_the_body_alone_though_no_number_is_known_of_it(
    before: str, after: str, original: float, weeks_off: int
) -> None:
    """What it asks is said not to be known, and the first step from it comes with little and after a test."""
    ended = prescription(after, original)
    request = way_back(before, after, "hip") | {"weeks_off": weeks_off, "original": ended, "adjusted": unloaded(before)}
    answer = ask("return-plan", request)
    assert answer.steps[-1].prescription.load.value == original
    done = before
    for step in answer.steps:
        unknown = step.prescription.load.value == 0 and (original > 0 or step.prescription.exercise != after)
        assert (step.sore_region.repetition is None) == unknown
        assert unknown == ("return_asks_unknown" in {one.code for one in step.why})
        if step.prescription.load.value > 0 or step.prescription.exercise != done:
            assert step.rise is None
            assert step.test_first is not None
            break
        done = step.prescription.exercise
    review = {key: request[key] for key in ("lifter", "original", "region")} | {
        "prescription": unloaded(before),
        "sessions": 2 * [{"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [8, 8, 8, 8]}],
        "usual_pain": 1,
    }
    found = ask("session-review", review)
    assert (found.decision, found.test_first is None) == ("progress", False)


def test_the_same_body_alone_asks_as_much_of_a_repetition_as_before() -> None:
    original = unloaded("single_leg_squat")
    request = way_back("single_leg_squat", "single_leg_squat", "knee") | {"original": original}
    steps = ask("return-plan", request | {"adjusted": {**original, "sets": 2}}).steps
    assert [step.sore_region.repetition for step in steps] == [1] * len(steps)
    assert all(0 < step.rise <= 0.3 for step in steps)


@pytest.mark.parametrize(
    "exercise", ["bench_press_dumbbell", "overhead_press_dumbbell", "lat_pulldown", "leg_extension"]
)
@pytest.mark.parametrize("pain", [4, 7])
def test_no_implement_is_prescribed_with_nothing_on_it(exercise: str, pain: int) -> None:
    region = EXERCISES[exercise].regions[0]
    request = consultation(exercise, region, "tendon") | {"prescription": prescription(exercise, 5)}
    answer = ask("adjustments", in_full(request | {"complaint": {"region": region, "pain_in_session": pain}}))
    assert [option for option in answer.options if option.prescription.load.value == 0] == []
    assert [text for text in tried(answer) if " 0 kg" in text] == []


def test_pictures_of_the_body_alone_say_so() -> None:
    _, svg = pictured(consultation("split_squat", "knee"))
    said = " ".join([*words(svg), description(svg)])
    assert "body mass" in said
    assert " 0 kg" not in said


def test_legs_share_the_body_alone() -> None:
    request = {"stance": "split_squat", "load": quantity(0, "kg"), "body_mass": quantity(77, "kg")}
    answer = ask("leg-distribution", request)
    assert answer.load_only.lead.value == 0
    assert answer.with_body_mass.lead.value == pytest.approx(0.75 * 77)


def test_nothing_is_lifted_in_a_press_without_a_load() -> None:
    setups = [{"label": "a", "exercise": "bench_press", "load": quantity(0, "kg")}]
    (fault,) = faults("joint-demand", {"lifter": LIFTER, "setups": setups})
    assert (fault.pointer, fault.allowed) == ("/setups/0/load", "more than 0")


def test_sets_of_the_body_alone_are_spread_and_replaced_by_their_repetitions() -> None:
    current = {"sets": 3, "reps": {"low": 10, "high": 12}, "load": quantity(0, "kg"), "reps_in_reserve": 2}
    found = ask("rep-targets", {"current": current, "new_sets": 4, "exercise": "back_squat_high_bar"})
    assert (found.equal_volume.reps.low, found.equal_volume.reps.high) == (8, 9)
    assert found.equal_volume.volume_load.new.high.value == 0
    assert (found.equal_volume.ratio.low, found.equal_volume.ratio.high) == (1, pytest.approx(32 / 30, abs=1e-4))
    (fault,) = faults("rep-targets", {"current": current, "exercise": "bench_press"})
    assert fault.pointer == "/current/load"
    (fault,) = faults("rep-targets", {"current": current, "new_load": quantity(10, "kg"), "exercise": "lunge"})
    assert fault.pointer == "/current/load"
    split = {"weekly_sets": {"low": 6, "high": 9}, "days": 3, "reps": {"low": 10, "high": 12}}
    assert ask("session-split", {**split, "load": quantity(0, "kg")}).week.volume_load.high.value == 0
