"""Where no bar is stated, answers with loads on a bar say which one was taken, and that a lighter one allows less."""

from __future__ import annotations

from typing import Any, Final

import pytest

from tests.support.asking import Answered, ask, kg

STATURE: Final = {"value": 165, "unit": "cm"}
LIFTER: Final = {"body_mass": kg(61), "stature": STATURE, "sex": "female"}
BAR: Final = {"bar": {"bar": kg(10)}}


def press(load: dict[str, Any], exercise: str = "overhead_press") -> dict[str, Any]:
    return {"exercise": exercise, "sets": 3, "reps": {"low": 8, "high": 8}, "load": load, "reps_in_reserve": 2}


def pound(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "lb"}


def questions(lift: dict[str, Any], lighter: dict[str, Any], gym: dict[str, Any] | None) -> dict[str, dict[str, Any]]:
    complaint = {"region": "shoulder", "pain_in_session": 4}
    calm = {"pain_in_session": 0, "pain_next_morning": 1, "reps_done": [8, 8, 8]}
    limits = {} if gym is None else {"constraints": {"gym": gym}}
    place = {} if gym is None else {"gym": gym}
    week = [{"day": 1, "prescription": lift}]
    return {
        "adjustments": {"lifter": LIFTER, "prescription": lift, "complaint": complaint, "aim": "strength", **limits},
        "week-adjustments": {
            "lifter": LIFTER,
            "week": week,
            "complaint": complaint,
            "hurts": [0],
            "aim": "strength",
            **limits,
        },
        "return-plan": {"lifter": LIFTER, "original": lift, "adjusted": lighter, "region": "shoulder", **place},
        "session-review": {
            "prescription": lift,
            "region": "shoulder",
            "sessions": [calm, calm],
            "usual_pain": 1,
            **place,
        },
    }


OPERATIONS: Final = ("adjustments", "week-adjustments", "return-plan", "session-review")


def said(answer: Answered) -> list[str]:
    return [one.text for one in answer.basis.assumptions if one.code == "assumed_bar_not_stated"]


@pytest.mark.parametrize("operation", OPERATIONS)
def test_the_bar_that_was_taken_is_among_the_assumptions(operation: str) -> None:
    in_kilograms = ask(operation, questions(press(kg(40)), press(kg(30)), None)[operation])
    in_pounds = ask(operation, questions(press(pound(95)), press(pound(75)), None)[operation])
    (words,) = said(in_kilograms)
    assert words.startswith("No bar was stated: one of 20 kg with plates from 1.25 kg up was taken;")
    assert words.endswith("a lighter one allows less.")
    assert "one of 45 lb with plates from 2.5 lb up" in said(in_pounds)[0]


@pytest.mark.parametrize("operation", OPERATIONS)
def test_nothing_is_said_of_a_bar_that_is_stated(operation: str) -> None:
    assert said(ask(operation, questions(press(kg(40)), press(kg(30)), BAR)[operation])) == []


@pytest.mark.parametrize("operation", ["return-plan", "session-review"])
def test_nothing_is_said_of_a_bar_where_nothing_is_lifted_with_one(operation: str) -> None:
    lift, lighter = press(kg(24), "overhead_press_dumbbell"), press(kg(20), "overhead_press_dumbbell")
    assert said(ask(operation, questions(lift, lighter, None)[operation])) == []


def hurting(gym: dict[str, Any] | None) -> dict[str, Any]:
    session = {"pain_in_session": 6, "pain_next_morning": 1, "reps_done": [8, 8, 8]}
    place = {} if gym is None else {"gym": gym}
    return {
        "lifter": LIFTER,
        "prescription": press(kg(25)),
        "region": "shoulder",
        "sessions": [session],
        "usual_pain": 1,
        **place,
    }


def test_a_lift_left_out_because_of_an_assumed_bar_says_that_a_lighter_one_may_do() -> None:
    assumed, stated = ask("session-review", hurting(None)), ask("session-review", hurting(BAR))
    assert assumed.next is None
    assert assumed.why[-1].text.startswith(
        "No bar was stated, and one of 20 kg was taken: a lighter bar may allow less"
    )
    assert stated.next is not None
    assert "lighter_bar_may_do" not in {one.code for one in stated.why}


def test_so_does_a_consultation_without_an_option() -> None:
    asked = questions(press(kg(25)), press(kg(20)), None)["adjustments"]
    asked["complaint"] = {"region": "shoulder", "pain_in_session": 6}
    assumed = ask("adjustments", asked)
    stated = ask("adjustments", {**asked, "constraints": {"gym": BAR}})
    assert assumed.options == []
    assert "lighter_bar_may_do" in {one.code for one in assumed.why}
    assert stated.options
    assert "lighter_bar_may_do" not in {one.code for one in stated.why}
