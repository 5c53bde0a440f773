"""The same lift with another implement: started low, found by a ramp, within what the gym has."""

from __future__ import annotations

from typing import Any, Final

import pytest

from service.adjustment.consultation import Candidate, RuledOut
from service.adjustment.levers.implement import other_implements
from service.adjustment.options.search import candidates
from service.knowledge.design_choices import CHOICES
from tests.support.asking import Answered, ask, kg
from tests.support.consultations import case_of

CHOICE: Final = CHOICES.adjustments
DUMBBELLS: Final = [{"implement": "dumbbells", "step": kg(2), "heaviest": kg(32)}]


def request(exercise: str, load: float, region: str, gym: list[Any] | None = None) -> dict[str, Any]:
    return {
        "lifter": {"body_mass": kg(78), "stature": {"value": 176, "unit": "cm"}},
        "prescription": {
            "exercise": exercise,
            "sets": 3,
            "reps": {"low": 8, "high": 8},
            "load": kg(load),
            "reps_in_reserve": 2,
            "days_per_week": 2,
        },
        "complaint": {"region": region, "pain_in_session": 4},
        "aim": "muscle_size",
        "constraints": {} if gym is None else {"gym": {"implements": gym}},
        "limit": 20,
        "detail": "full",
    }


def otherwise(asked: dict[str, Any]) -> dict[str | None, Candidate]:
    """The present lift's candidates with another implement."""
    case = case_of(asked)
    found = [one for one in candidates(case) if isinstance(one, Candidate)]
    return {
        one.prescription.implement: one
        for one in found
        if one.levers == ("equipment",) and one.prescription.exercise == case.now.exercise
    }


def reasons(asked: dict[str, Any]) -> set[str]:
    return {one.reason for one in other_implements(case_of(asked)) if isinstance(one, RuledOut)}


def option(answer: Answered, implement: str) -> Answered:
    [found] = [one for one in answer.options if one.prescription.implement == implement]
    return found


def test_a_bar_gives_way_to_dumbbells_that_start_below_what_is_tolerated() -> None:
    asked = request("split_squat", 60, "knee")
    pair = otherwise(asked)["dumbbells"]
    assert pair.trial.untested
    assert pair.effects["knee"].evidence == "computed"
    found = option(ask("adjustments", asked), "dumbbells")
    assert found.ramp.start.value == found.prescription.load.value == pair.prescription.load
    assert found.ramp.start.value <= CHOICE.untested_start.computed * found.ramp.at_most.value + 5
    assert found.ramp.at_most.value < 60
    assert found.demand["knee"].value <= found.ramp.at_most.value / 60 + 0.3
    assert any("arms hanging" in one.text for one in found.why)


def test_the_gym_is_honoured() -> None:
    gym = [{"implement": "barbell"}, *DUMBBELLS]
    assert {*otherwise(request("lunge", 60, "knee", gym))} == {"dumbbells"}
    load = otherwise(request("lunge", 60, "knee", gym))["dumbbells"].prescription.load
    assert load % 4 == pytest.approx(0)
    assert load <= 64


def test_without_the_present_implement_the_lift_is_done_with_what_there_is() -> None:
    assert {*otherwise(request("romanian_deadlift", 140, "low_back", DUMBBELLS))} == {"dumbbells"}


def test_dumbbells_far_too_light_for_the_lifter_are_not_offered_while_the_bar_is_there() -> None:
    asked = request("deadlift_conventional", 180, "low_back", [{"implement": "barbell"}, *DUMBBELLS])
    assert otherwise(asked) == {}
    assert "implement_too_light" in reasons(asked)


def test_what_asks_more_for_its_load_is_not_offered() -> None:
    """A safety bar acts further forward than a bar on the back; in a good morning the lean is as before."""
    asked = request("good_morning", 60, "low_back")
    assert "safety_bar" not in otherwise(asked)
    assert "asks_more_for_its_load" in reasons(asked)


def test_of_implements_that_ask_the_same_the_first_stands_for_all() -> None:
    case = case_of(request("romanian_deadlift", 60, "low_back"))
    assert {"dumbbells", "one_dumbbell", "trap_bar"} <= set(case.own_implements)
    assert {*otherwise(request("romanian_deadlift", 60, "low_back"))} == {"dumbbells"}


def test_one_dumbbell_does_not_press_what_two_did() -> None:
    assert "one_dumbbell" not in case_of(request("bench_press_dumbbell", 60, "shoulder")).own_implements


def test_the_body_alone_is_for_those_to_whom_the_lightest_load_asks_too_much() -> None:
    asked = request("lunge", 20, "hip")
    asked["complaint"]["tolerated"] = {"load": kg(5)}
    assert "body_weight" in otherwise(asked)
    assert otherwise(asked)["body_weight"].prescription.load == 0
    assert "body_weight" not in otherwise(request("lunge", 60, "hip"))


def test_nothing_lighter_than_the_lightest_load_asked_for() -> None:
    asked = request("lunge", 20, "hip")
    asked["complaint"]["tolerated"] = {"load": kg(5)}
    asked["constraints"]["lightest_load"] = kg(10)
    assert "body_weight" not in otherwise(asked)


def test_only_where_equipment_may_change() -> None:
    asked = request("lunge", 60, "hip")
    asked["constraints"]["levers"] = ["load", "reps"]
    assert otherwise(asked) == {}


def test_the_stack_of_a_machine_says_nothing_of_a_bar() -> None:
    """Hip thrusts have no posture rule: less load of free weights asks less, that of a machine cannot be compared.

    Where a lighter bar does as well no other implement is needed.
    """
    machine = [{"implement": "barbell"}, {"implement": "machine", "step": kg(5)}]
    assert otherwise(request("hip_thrust", 60, "hip", machine)) == {}
    assert otherwise(request("hip_thrust", 60, "hip")) == {}
    assert {*otherwise(request("hip_thrust", 20, "hip"))} == {"one_dumbbell", "body_weight"}


def test_a_shoulder_that_a_bar_hurts_need_hold_none() -> None:
    found = otherwise(request("split_squat", 40, "shoulder"))
    assert {"dumbbells", "safety_bar"} <= set(found)
    assert all(one.meets_by == "direction_only" for one in found.values())


def test_what_is_too_light_for_its_usual_implement_is_done_with_the_present_one() -> None:
    asked = request("kettlebell_swing", 20, "low_back")
    found = [one for one in candidates(case_of(asked)) if isinstance(one, Candidate)]
    (bridge,) = [one for one in found if one.prescription.exercise == "glute_bridge" and len(one.levers) == 1]
    assert bridge.prescription.implement == "kettlebell"
    assert bridge.prescription.load == 8


@pytest.mark.parametrize("region", ["wrist", "elbow"])
def test_a_sore_wrist_or_elbow_gets_no_straight_bar_for_its_dumbbells(region: str) -> None:
    """The moment of a curl is the same with both: what would fall with a bar is the load alone."""
    asked = request("biceps_curl", 24, region)
    assert "barbell" not in otherwise(asked)
    assert "not_said_to_ask_less" in reasons(asked)
    bar = request("biceps_curl", 30, region)
    bar["prescription"]["implement"] = "barbell"
    assert "dumbbells" in otherwise(bar)
