"""Circumstances that a professional has to confirm stop every plan until that is done."""

from __future__ import annotations

import json
from typing import Any

import msgspec
import pytest

from service.api.operations.registry import OPERATIONS
from service.knowledge.signs import SIGNS
from tests.support.asking import ask, faults

LIFTER = {"body_mass": {"value": 71, "unit": "kg"}, "stature": {"value": 174, "unit": "cm"}}
SQUAT: dict[str, Any] = {
    "exercise": "back_squat_high_bar",
    "sets": 4,
    "reps": {"low": 6, "high": 7},
    "load": {"value": 90, "unit": "kg"},
    "reps_in_reserve": 2,
}
REVIEWED: dict[str, Any] = {key: value for key, value in SQUAT.items() if key != "reps_in_reserve"}
QUESTIONS: dict[str, dict[str, Any]] = {
    "adjustments": {
        "lifter": LIFTER,
        "prescription": SQUAT,
        "complaint": {"region": "knee", "pain_in_session": 4},
        "aim": "strength",
    },
    "return-plan": {
        "lifter": LIFTER,
        "original": SQUAT,
        "adjusted": {**SQUAT, "load": {"value": 75, "unit": "kg"}},
        "region": "knee",
    },
    "session-review": {
        "prescription": REVIEWED,
        "region": "knee",
        "sessions": [{"pain_in_session": 1, "pain_next_morning": 0}] * 2,
        "usual_pain": 0,
    },
    "week-adjustments": {
        "lifter": LIFTER,
        "week": [{"day": 2, "prescription": SQUAT}, {"day": 5, "prescription": {**SQUAT, "sets": 3}}],
        "complaint": {"region": "knee", "pain_in_session": 4},
        "aim": "strength",
    },
}
# our own rule; supervision of the young: nsca_youth_2009; progressive lifting with osteoporosis: brooke_wavell_2022
CIRCUMSTANCES: list[dict[str, Any]] = [
    {"age": 17},
    {"pregnant": True},
    {"post_operative": True},
    {"osteoporosis": True},
]
EVERYTHING: dict[str, Any] = {"age": 16, "pregnant": True, "post_operative": True, "osteoporosis": True}
EMPTY: dict[str, tuple[str, ...]] = {
    "adjustments": ("options",),
    "return-plan": ("steps",),
    "session-review": ("next", "changed", "professional_review"),
    "week-adjustments": ("options",),
}


@pytest.mark.parametrize("name", QUESTIONS)
@pytest.mark.parametrize("stated", CIRCUMSTANCES)
def test_nothing_is_planned_until_it_is_confirmed_and_nobody_is_referred(name: str, stated: dict[str, Any]) -> None:
    unconfirmed = ask(name, {**QUESTIONS[name], "circumstances": stated})
    assert (unconfirmed.decision, unconfirmed.referral) == ("confirm_first", None)
    (asked,) = unconfirmed.confirmation.circumstances
    assert unconfirmed.confirmation.what_to_do == [asked.what_to_do]
    assert unconfirmed.confirmation.stop_rule
    assert not any(getattr(unconfirmed, field) for field in EMPTY[name])
    confirmed = ask(name, {**QUESTIONS[name], "circumstances": {**stated, "confirmed_by_professional": True}})
    assert (confirmed.decision in ("refer", "confirm_first"), confirmed.confirmation) == (False, None)
    assert f"confirmed_{asked.id}" in [caution.code for caution in confirmed.cautions]


def test_a_healthy_lifter_of_16_is_asked_to_confirm_first_and_not_referred() -> None:
    for name, question in QUESTIONS.items():
        answer = ask(name, {**question, "circumstances": {"age": 16}})
        assert (answer.decision, answer.referral) == ("confirm_first", None)
        assert [one.id for one in answer.confirmation.circumstances] == ["under_age"]


@pytest.mark.parametrize("name", QUESTIONS)
def test_other_circumstances_change_nothing(name: str) -> None:
    plain = ask(name, QUESTIONS[name])
    assert ask(name, {**QUESTIONS[name], "circumstances": {"age": 18}}) == plain
    assert plain.decision not in ("refer", "confirm_first")


def flagged(name: str, *signs: str, **circumstances: object) -> dict[str, Any]:
    """The question with red flags; what is to be confirmed, or has been, beside them."""
    question = {**QUESTIONS[name], "circumstances": circumstances}
    if "complaint" in question:
        return {**question, "complaint": {**question["complaint"], "signs": list(signs)}}
    return {**question, "signs": list(signs)}


@pytest.mark.parametrize("name", QUESTIONS)
def test_of_equally_urgent_signs_those_of_the_lifters_age_are_named_first_in_every_operation(name: str) -> None:
    for age, first in ((16, "child_hip"), (60, "first_colic_over_55")):
        answer = ask(name, flagged(name, "testicular_pain_sudden", "first_colic_over_55", "child_hip", age=age))
        assert answer.referral.signs[0].id == first


@pytest.mark.parametrize("name", QUESTIONS)
def test_every_answer_says_what_a_sign_or_none_is_worth(name: str) -> None:
    without = [one.code for one in ask(name, QUESTIONS[name]).basis.assumptions]
    with_one = [one.code for one in ask(name, flagged(name, "bladder_change")).basis.assumptions]
    assert ("assumed_no_sign" in without, "assumed_single_sign" in without) == (True, False)
    assert ("assumed_no_sign" in with_one, "assumed_single_sign" in with_one) == (False, True)


def test_every_operation_that_takes_signs_is_asked_here() -> None:
    taking = [one.name for one in OPERATIONS if '"bladder_change"' in json.dumps(msgspec.json.schema(one.request))]
    assert sorted(taking) == sorted(QUESTIONS)


@pytest.mark.parametrize("name", QUESTIONS)
@pytest.mark.parametrize("confirmed", [False, True])
@pytest.mark.parametrize("sign", SIGNS)
def test_a_red_flag_outranks_everything_in_every_operation(name: str, sign: str, *, confirmed: bool) -> None:
    circumstances = EVERYTHING | {"confirmed_by_professional": confirmed}
    answer = ask(name, flagged(name, sign, **circumstances))
    assert (answer.decision, answer.confirmation) == ("refer", None)
    assert answer.referral.urgency == SIGNS[sign].urgency
    assert [one.id for one in answer.referral.signs] == [sign]
    assert not any(getattr(answer, field) for field in EMPTY[name])


@pytest.mark.parametrize("name", QUESTIONS)
def test_the_most_urgent_of_several_signs_decides_in_every_operation(name: str) -> None:
    answer = ask(name, flagged(name, "rapid_worsening", "ottawa_flexion", "bladder_change", "acute_cuff_tear"))
    assert answer.referral.urgency == "emergency_now"
    urgencies = [one.urgency for one in answer.referral.signs]
    assert urgencies == ["emergency_now", "same_day", "urgent_refer", "hold_and_review"]


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("adjustments", {"constraints": {"lightest_load": {"value": 500, "unit": "kg"}}}),  # nothing lighter than now
        ("return-plan", {"original": SQUAT | {"days_per_week": 3}, "days_per_week_max": 2}),
        ("session-review", {"sessions": [{"pain_in_session": 1, "reps_done": [5] * 20}]}),  # of so many sets
        ("week-adjustments", {"hurts": [7]}),  # no such lift
    ],
)
def test_a_red_flag_outranks_what_would_be_refused(name: str, wrong: dict[str, Any]) -> None:
    question = {**QUESTIONS[name], **wrong}
    sore = {"complaint": {"region": "low_back", "pain_in_session": 4}} if name == "adjustments" else {}
    assert faults(name, question | sore)
    with_sign = flagged(name, "bladder_change") | wrong
    if sore:
        with_sign["complaint"] = {**sore["complaint"], "signs": ["bladder_change"]}
    assert ask(name, with_sign).referral.urgency == "emergency_now"


def test_strong_pain_at_rest_pauses_the_region_whoever_confirmed_what() -> None:
    # thomee_1997: above 5 of 10 is the high-risk zone; that rest decides is our own rule
    for pain, decision in ((5, "adjust"), (5.5, "pause_and_review")):
        complaint = {**QUESTIONS["adjustments"]["complaint"], "pain_at_rest": pain}
        assert ask("adjustments", {**QUESTIONS["adjustments"], "complaint": complaint}).decision == decision
