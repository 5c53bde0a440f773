"""A sign that leaves the training as it is never makes an answer milder than the pain by itself does."""

from __future__ import annotations

import copy
from typing import Any, Final

import pytest

from service.knowledge.signs import SIGNS
from tests.support.in_process import BY_NAME, client

app: Final = client()
MILD: Final = "pain_that_wakes"
ASKED: Final[dict[str, dict[str, Any]]] = {
    name: BY_NAME[name].examples[0].request for name in ("adjustments", "week-adjustments", "session-review")
}


def asked(name: str, pain: float, **beside: Any) -> dict[str, Any]:  # noqa: ANN401 - signs or circumstances
    """A question with a score of pain, and signs or circumstances."""
    question = copy.deepcopy(ASKED[name])
    if "complaint" in question:
        question["complaint"] = {"region": question["complaint"]["region"], "pain_in_session": pain}
        if "signs" in beside:
            question["complaint"]["signs"] = beside.pop("signs")
    else:
        question["sessions"] = [{"pain_in_session": pain, "pain_next_morning": 1}]
    return question | beside


def lifters_page(name: str, question: dict[str, Any]) -> str:
    reply = app.post(f"/v1/{name}?as=markdown&for=lifter", json=question)
    assert reply.status_code == 200, reply.text
    return str(reply.text)


each = pytest.mark.parametrize("name", list(ASKED))


@each
def test_pain_that_pauses_pauses_beside_a_sign_too(name: str) -> None:
    assert SIGNS[MILD].urgency == "hold_and_review"
    answer = app.post(f"/v1/{name}", json=asked(name, 9, signs=[MILD])).json()
    assert answer["decision"] == "refer"
    assert answer["referral"]["urgency"] == "hold_and_review"
    assert answer["pause"]["rule"] == "severe_pain"
    codes = [one["code"] for one in answer["why"]]
    assert codes.index("pause_stop") < codes.index("urgency_hold_and_review")
    page = lifters_page(name, asked(name, 9, signs=[MILD]))
    assert "**Pause, and have it looked at.**" in page
    assert page.split("## What to do\n\n- ")[1].startswith("Stop this lift today, and leave out whatever loads")


@each
def test_pain_that_stops_the_lift_for_today_does_so_beside_a_sign_or_a_circumstance_too(name: str) -> None:
    for beside in ({"signs": [MILD]}, {"circumstances": {"age": 15}}):
        question = asked(name, 6, **beside)
        answer = app.post(f"/v1/{name}", json=question).json()
        assert answer["decision"] in ("refer", "confirm_first")
        assert answer.get("pause") is None
        assert "stop_today" in [one["code"] for one in answer["why"]]
        first = lifters_page(name, question).split("## What to do\n\n- ")[1]
        assert first.startswith("Pain of 6 of 10 in the session is above 5: stop this lift for today.")


@each
def test_up_to_amber_pain_adds_nothing_to_a_sign(name: str) -> None:
    answer = app.post(f"/v1/{name}", json=asked(name, 4, signs=[MILD])).json()
    assert answer.get("pause") is None
    assert not {"stop_today", "pause_stop"} & {one["code"] for one in answer["why"]}


@each
def test_a_more_urgent_sign_says_itself_what_happens_to_the_training(name: str) -> None:
    answer = app.post(f"/v1/{name}", json=asked(name, 9, signs=["fever_or_unwell", MILD])).json()
    assert answer["referral"]["urgency"] != "hold_and_review"
    assert answer.get("pause") is None


def test_a_professional_is_asked_for_without_condition_only_where_that_comes_first() -> None:
    look = "Have it looked at by a doctor or physical therapist within a week at most"
    again = lifters_page("adjustments", asked("adjustments", 9))
    assert "if it is still above 5 after 7 days" in again
    assert look not in again.partition("## Warning signs")[0]
    question = asked("adjustments", 4)
    question["complaint"]["pain_at_rest"] = 6
    first = lifters_page("adjustments", question).partition("## Warning signs")[0]
    assert "before anything loads the region again" in first
    assert look in first
