"""The demo is one whole course of care: what an answer prescribes goes into the next question as it came."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Final

import pytest

from service.api.docs.course import MOST, SCENARIO, Asked, Scenario, course, week_asked
from service.api.operations.adjustments.examples import EXAMPLES
from service.cli import main
from service.demo import course_page, reported

ASKED: Final = list(course(SCENARIO))
REVIEWS: Final = [asked for asked in ASKED if asked.operation == "session-review"]


def decisions(reviews: list[Asked]) -> list[str]:
    return [review.answer["decision"] for review in reviews]


def test_it_asks_for_adjustments_then_for_the_way_ahead_then_after_each_session() -> None:
    assert [asked.operation for asked in ASKED] == ["adjustments", "return-plan", *["session-review"] * len(REVIEWS)]
    assert ASKED[0].question == EXAMPLES[0].request


def test_each_prescription_is_sent_on_as_it_was_answered() -> None:
    option = ASKED[0].answer["options"][0]["prescription"]
    prescribed = [option, *(review.answer["next"] for review in REVIEWS)]
    assert ASKED[1].question["adjusted"] == option
    assert [review.question["prescription"] for review in REVIEWS] == prescribed[:-1]
    assert all(review.question["original"] == ASKED[0].question["prescription"] for review in REVIEWS)


def test_a_bad_week_leads_a_step_back_and_the_course_to_the_original_all_the_same() -> None:
    assert set(decisions(REVIEWS)) == {"hold", "progress", "step_back", "back_to_original"}
    bad = decisions(REVIEWS).index("step_back")
    assert REVIEWS[bad].answer["next"] == REVIEWS[bad].question["previous"]
    assert decisions(REVIEWS)[-1] == "back_to_original"
    assert REVIEWS[-1].answer["next"]["load"] == ASKED[0].question["prescription"]["load"]


def test_sessions_before_a_change_count_for_pain_alone() -> None:
    for before, after in pairwise(REVIEWS):
        *earlier, newest = after.question["sessions"]
        assert len(earlier) == len(before.question["sessions"])
        assert "earlier_prescription" not in newest
        if before.answer["changed"]:
            assert all(session["earlier_prescription"] for session in earlier)


def test_what_ends_no_course_is_broken_off() -> None:
    no_mornings = {"pain_in_session": 1}
    held = [*course(Scenario(SCENARIO.question, [no_mornings]))][2:]
    assert len(held) == MOST
    assert set(decisions(held)) == {"hold"}


def test_the_command_prints_the_page_in_under_80_lines(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo"]) == 0
    printed = capsys.readouterr().out
    assert printed == course_page()
    assert len(printed.splitlines()) < 80


def test_the_page_says_what_to_do_when_to_stop_and_why() -> None:
    text, first = course_page(), reported(ASKED[0])
    said = [*first.what_to_do, *first.when_to_stop[:-1], *first.watch, *first.why, *first.lifters_cautions]
    assert all(f"- {one}\n" in text for one in said)


def test_every_session_has_its_line_with_what_was_decided_and_what_is_next() -> None:
    lines = [line for line in course_page().splitlines() if re.match(r"\| \d+ \|", line)]
    assert len(lines) == len(REVIEWS)
    for number, (line, review) in enumerate(zip(lines, REVIEWS, strict=True), 1):
        load = review.answer["next"]["load"]["value"]
        assert line.startswith(f"| {number} |")
        assert f"| {review.answer['decision'].replace('_', ' ')} |" in line
        assert f"with {load:g} kg" in line


def test_every_step_of_the_way_and_every_lift_of_the_week_has_its_line() -> None:
    text = course_page()
    assert all(f"| Week {step['week']} |" in text for step in ASKED[1].answer["steps"])
    demand, adjusted = week_asked()
    assert demand.question["week"] == adjusted.question["week"]
    assert text.count("\n| Day ") - 1 == len(adjusted.answer["options"][0]["week"])


def test_an_operation_without_a_report_cannot_be_reported() -> None:
    with pytest.raises(TypeError):
        reported(week_asked()[0])
