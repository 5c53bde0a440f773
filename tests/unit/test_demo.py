"""The demo is one whole course of care: what an answer prescribes goes into the next question as it came."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import pytest

from service.api.operations.adjustments.examples import EXAMPLES
from service.cli import main
from service.demo import MOST, SCENARIO, Asked, Scenario, course, report, week_asked, week_report

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


def test_every_sentence_of_the_answers_is_printed_in_its_order() -> None:
    text, place = report(), 0
    for asked in ASKED:
        answer = asked.answer
        steps = answer["steps"] if asked.operation == "return-plan" else [answer]
        for said in (one["text"] for step in steps for one in step["why"]):
            found = text.find(f"- {said}\n", place)
            assert found >= 0, said
            place = found
    assert all(f"- Caution: {one['text']}\n" in text for asked in ASKED for one in asked.answer["cautions"])


def test_the_command_prints_the_report(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo"]) == 0
    assert capsys.readouterr().out == f"{report()}\n{week_report()}"


def test_the_week_is_told_in_the_sentences_of_its_first_option() -> None:
    text, (demand, adjusted) = week_report(), week_asked()
    assert (demand.operation, adjusted.operation) == ("week-demand", "week-adjustments")
    assert demand.question["week"] == adjusted.question["week"]
    option = adjusted.answer["options"][0]
    said = [one["text"] for one in adjusted.answer["why"]]
    said += [one["words"] for one in option["changes"]] + [one["text"] for one in option["why"]]
    assert all(f"- {one}\n" in text for one in said)
    assert all(f"- Caution: {one['text']}\n" in text for one in adjusted.answer["cautions"])


def test_what_each_lift_is_of_the_week_is_told_by_both_ends_of_the_weighting() -> None:
    demand = week_asked()[0].answer["regions"]["low_back"]["lifts"]
    text = week_report()
    assert len(demand) == 5
    for lift in demand:
        shares = (f"{100 * lift['share'][one]['value']:.0f} %" for one in ("linear", "tenth_power"))
        assert " by moments, ".join(shares) + " by their tenth power" in text
