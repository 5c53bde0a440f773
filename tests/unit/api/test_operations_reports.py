"""Every decision of every operation that has a report: what to do, when to stop, and all that the answer warns of."""

from __future__ import annotations

from copy import deepcopy
from typing import Any, Final, get_args

import msgspec
import pytest

from service.api.docs.course import SCENARIO, course
from service.api.models.report import AUDIENCES, Report
from service.api.operations.registry import OPERATIONS
from service.api.reports.writing import markdown, page
from service.api.serialization.json import Reader
from service.knowledge.signs import SIGNS
from service.vocabulary import AdjustmentDecision, ReturnDecision, ReviewDecision
from tests.support.asking import ask

Json = dict[str, Any]
BY_NAME: Final = {operation.name: operation for operation in OPERATIONS if operation.report}
DECISIONS: Final[dict[str, Any]] = {
    "adjustments": AdjustmentDecision,
    "session-review": ReviewDecision,
    "return-plan": ReturnDecision,
    "week-adjustments": AdjustmentDecision,
}
SIGN: Final = "bladder_change"


def with_complaint(request: Json, **stated: object) -> Json:
    changed = deepcopy(request)
    changed["complaint"] |= stated
    return changed


def questions(name: str) -> list[Json]:
    """The examples, and what ends in the other decisions."""
    asked = [deepcopy(example.request) for example in BY_NAME[name].examples]
    first = asked[0]
    pregnant = {"circumstances": {"pregnant": True}}
    if "complaint" in first:
        mild = {"pain_in_session": 1, "usual_pain": 1, "pain_next_morning": 1}
        return [
            *asked,
            first | pregnant,
            with_complaint(first, signs=[SIGN]),
            with_complaint(first, **mild),
            with_complaint(first, pain_in_session=8),
        ]
    back = [one.question for one in course(SCENARIO)][-1:] if name == "session-review" else []
    return [*asked, *back, first | pregnant, first | {"signs": [SIGN]}]


def reported(name: str, request: Json) -> Report:
    operation = BY_NAME[name]
    assert operation.report is not None
    return operation.report(Reader(operation.request).read(msgspec.json.encode(request)))


ASKED: Final = [(name, request) for name in BY_NAME for request in questions(name)]


@pytest.mark.parametrize("name", BY_NAME)
def test_every_decision_is_asked_for(name: str) -> None:
    assert {ask(name, request).decision for request in questions(name)} == set(get_args(DECISIONS[name]))


@pytest.mark.parametrize(("name", "request_"), ASKED)
def test_every_report_says_what_to_do_when_to_stop_and_why(name: str, request_: Json) -> None:
    report, answer = reported(name, request_), ask(name, request_)
    assert report.what_to_do
    assert report.when_to_stop
    assert report.why
    assert len(set(report.what_to_do)) == len(report.what_to_do)
    for audience in AUDIENCES:
        text, shown = markdown(report, audience), page(report, audience)
        assert text.index("## What to do") < text.index("## Why")
        assert shown.index('id="what-to-do"') < shown.index('id="when-to-stop"') < shown.index('id="why"')
    assert report.halted == (answer.decision in ("refer", "confirm_first", "pause_and_review"))
    assert report.stop >= report.halted
    said = "\n".join([*report.what_to_do, *report.when_to_stop, *report.why])
    if getattr(answer, "referral", None):
        assert report.what_to_do == [answer.referral.what_to_do.text]
        assert report.when_to_stop == [answer.referral.stop_rule.text]
        assert all(one.message.text in report.why for one in answer.referral.signs)
        assert not report.choices
    if getattr(answer, "confirmation", None):
        assert all(one.text in report.what_to_do for one in answer.confirmation.what_to_do)
        assert not report.choices
    if getattr(answer, "pause", None):
        assert answer.pause.what_to_do.text in said
    if not report.halted:
        assert any("stop" in line for line in report.when_to_stop)
        assert report.signs


@pytest.mark.parametrize("name", ["adjustments", "week-adjustments"])
def test_the_options_are_those_of_the_answer_in_their_order(name: str) -> None:
    request = BY_NAME[name].examples[0].request
    report, answer = reported(name, request), ask(name, request)
    words = [[one.words] if name == "adjustments" else [part.words for part in one.changes] for one in answer.options]
    assert [list(choice.prescriptions) for choice in report.choices] == words
    assert list(report.what_to_do)[: len(words[0])] == words[0]


def test_pain_in_the_red_tier_stops_today_first() -> None:
    for name in ("adjustments", "week-adjustments"):
        report = reported(name, with_complaint(BY_NAME[name].examples[0].request, pain_in_session=6))
        assert report.stop
        assert report.decision.startswith("Stop")
        assert "for today" in report.what_to_do[0]


def test_a_review_that_leaves_nothing_of_the_lift_says_to_leave_it_out() -> None:
    """It said: the same again."""
    request = deepcopy(questions("session-review")[0])
    request["sessions"][-1] |= {"pain_in_session": 6, "pain_next_morning": 4}
    request["prescription"]["load"] = {"value": 15, "unit": "kg"}  # the empty bar
    answer, report = ask("session-review", request), reported("session-review", request)
    assert answer.next is None
    assert report.stop
    assert report.decision == "Leave this lift out for now"
    today, left_out, *_ = report.what_to_do
    assert today.endswith("is above 5: stop this lift for today.")
    assert left_out.startswith("Leave this lift out until the pain is ")


def test_every_caution_of_an_answer_stands_in_its_report() -> None:
    for name, request in ASKED:
        report, answer = reported(name, request), ask(name, request)
        said = {*report.cautions, *(one for choice in report.choices for one in choice.cautions)}
        assert {one.text for one in answer.cautions} <= said


def test_signs_are_those_of_the_region_and_the_age_the_most_urgent_first() -> None:
    request = BY_NAME["adjustments"].examples[0].request
    everybody = [sign for group in reported("adjustments", request).signs for sign in group.signs]
    grown = reported("adjustments", request | {"circumstances": {"age": 30}})
    assert grown.signs[0].what_to_do.startswith("Stop now.")
    shown = [sign for group in grown.signs for sign in group.signs]
    assert set(shown) < set(everybody)
    assert SIGNS[SIGN].text in shown
    assert not any(sign.startswith("Under 18") for sign in shown)


def test_all_steps_of_a_way_back_stand_in_its_report() -> None:
    request = BY_NAME["return-plan"].examples[0].request
    report, answer = reported("return-plan", request), ask("return-plan", request)
    [steps] = [table for table in report.tables if table.for_lifter]
    assert [row[0] for row in steps.rows] == [f"Week {step.week}" for step in answer.steps]
    assert all(row[1] in step.why[0].text for row, step in zip(steps.rows, answer.steps, strict=True))


def test_a_week_shows_every_lift_of_its_first_option_on_its_day() -> None:
    request = BY_NAME["week-adjustments"].examples[0].request
    report, answer = reported("week-adjustments", request), ask("week-adjustments", request)
    [week] = [table for table in report.tables if table.for_lifter]
    assert sorted(row[0] for row in week.rows) == sorted(f"Day {one.day:g}" for one in answer.options[0].week)
    changed = [row for row in week.rows if row[2] == "new"]
    assert 0 < len(changed) < len(week.rows)
    assert len(changed) == sum(len(one.entries) for one in answer.options[0].changes)
