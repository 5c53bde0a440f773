"""Circumstances that a professional has to confirm stop every plan until that is done."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.asking import ask

LIFTER = {"body_mass": {"value": 71, "unit": "kg"}, "stature": {"value": 174, "unit": "cm"}}
SQUAT: dict[str, Any] = {
    "exercise": "back_squat_high_bar",
    "sets": 4,
    "reps": {"low": 6, "high": 7},
    "load": {"value": 90, "unit": "kg"},
    "reps_in_reserve": 2,
}
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
        "prescription": {key: value for key, value in SQUAT.items() if key != "reps_in_reserve"},
        "region": "knee",
        "sessions": [{"pain_in_session": 1, "pain_next_morning": 0}] * 2,
        "usual_pain": 0,
    },
}
# after an operation, pregnancy, under 18: our own rule; qualified supervision of the young: nsca_youth_2009
CIRCUMSTANCES: list[dict[str, Any]] = [{"age": 17}, {"pregnant": True}, {"post_operative": True}]


@pytest.mark.parametrize("name", QUESTIONS)
@pytest.mark.parametrize("given", CIRCUMSTANCES)
def test_nothing_is_planned_until_it_is_confirmed(name: str, given: dict[str, Any]) -> None:
    unconfirmed = ask(name, {**QUESTIONS[name], "circumstances": given})
    assert unconfirmed.decision == "refer"
    assert unconfirmed.referral.urgency == "confirm_first"
    assert unconfirmed.referral.what_to_do
    confirmed = ask(name, {**QUESTIONS[name], "circumstances": {**given, "confirmed_by_professional": True}})
    assert confirmed.decision != "refer"
    assert any(caution.code.startswith("confirmed_") for caution in confirmed.cautions)


@pytest.mark.parametrize("name", QUESTIONS)
def test_other_circumstances_change_nothing(name: str) -> None:
    plain = ask(name, QUESTIONS[name])
    assert ask(name, {**QUESTIONS[name], "circumstances": {"age": 18}}) == plain
    assert plain.decision != "refer"


@pytest.mark.parametrize("name", QUESTIONS)
def test_a_red_flag_outranks_what_is_to_be_confirmed(name: str) -> None:
    question = {**QUESTIONS[name], "circumstances": {"pregnant": True}}
    if name == "adjustments":
        question["complaint"] = {**question["complaint"], "signs": ["bladder_change"]}
    else:
        question["signs"] = ["bladder_change"]
    assert ask(name, question).referral.urgency == "emergency_now"


def test_strong_pain_at_rest_has_to_be_confirmed() -> None:
    # thomee_1997: above 5 of 10 is the high-risk zone; that rest decides is our own rule
    for pain, decision in ((5, "adjust"), (5.5, "refer")):
        complaint = {**QUESTIONS["adjustments"]["complaint"], "pain_at_rest": pain}
        assert ask("adjustments", {**QUESTIONS["adjustments"], "complaint": complaint}).decision == decision
