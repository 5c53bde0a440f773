"""The guide is one consultation: what one answer prescribes, the next question states."""

from __future__ import annotations

import re
from typing import Any, Final
from urllib.parse import urlsplit

import pytest

from service.api.docs.course import SCENARIO
from service.api.docs.guide.models import ADDRESS, GuideStep
from service.api.docs.guide.steps import guide
from service.api.docs.guide.writing import CELLS, LANGUAGES
from service.api.openapi.document import rendered
from service.api.serialization.query import MOST_CHARACTERS

STEPS: Final = {step.id: step for step in guide()}
ASKED: Final = [step for step in STEPS.values() if step.request is not None]


def test_it_goes_from_signs_by_pain_to_the_week() -> None:
    assert list(STEPS) == ["signs", "red-flag", "pain", "adjust", "return", "review", "setback", "week"]
    assert STEPS["adjust"].request == SCENARIO.question | {"limit": 3}


def test_each_prescription_is_sent_on_as_it_was_answered() -> None:
    option = STEPS["adjust"].answer["options"][0]["prescription"]
    review, setback = STEPS["review"], STEPS["setback"]
    assert STEPS["return"].request["adjusted"] == option
    assert review.request["prescription"] == option
    assert review.answer["decision"] == "progress"
    assert review.answer["next"] == STEPS["return"].answer["steps"][0]["prescription"]
    assert setback.request["previous"] == review.answer["next"]
    assert setback.answer["next"] == setback.request["previous"]


def test_it_is_of_one_lifter_with_one_complaint() -> None:
    week: Any = STEPS["week"].request
    assert all(step.request["lifter"] == SCENARIO.question["lifter"] for step in ASKED)
    assert week["complaint"] == SCENARIO.question["complaint"]
    assert week["week"][0]["prescription"].items() <= SCENARIO.question["prescription"].items()
    assert all(week["week"][entry]["prescription"]["exercise"] == "front_squat" for entry in week["hurts"])
    for name in ("return", "review", "setback"):
        assert STEPS[name].request["original"] == SCENARIO.question["prescription"]
        assert STEPS[name].request["region"] == SCENARIO.question["complaint"]["region"]


def test_a_sign_of_the_list_refers_and_leaves_no_options() -> None:
    sign = STEPS["red-flag"].request["complaint"]["signs"][0]
    assert sign in [one["id"] for one in STEPS["signs"].answer["signs"]]
    assert STEPS["red-flag"].answer["decision"] == "refer"
    assert "signs" not in STEPS["pain"].request["complaint"]


def test_what_the_words_say_of_the_sessions_is_so() -> None:
    before, after = STEPS["review"].request["sessions"], STEPS["setback"].request["sessions"]
    assert (len(before), len(after)) == (3, 6)
    assert all(session["pain_in_session"] <= 2 for session in before[1:])
    assert "pain is 4 of 10, and 3.5 the next morning where 1 is usual" in STEPS["setback"].paragraphs[0]
    assert (after[-1]["pain_in_session"], after[-1]["pain_next_morning"]) == (4, 3.5)
    assert STEPS["setback"].request["usual_pain"] == 1


@pytest.mark.parametrize("step", STEPS.values(), ids=list(STEPS))
def test_a_step_is_short_enough_to_be_read(step: GuideStep) -> None:
    assert 2 <= len(step.paragraphs) <= 3
    assert all(len(re.findall(r"[.:] ", paragraph)) <= 5 for paragraph in step.paragraphs)
    assert len(step.shown.splitlines()) <= 65
    assert len(step.question.splitlines()) <= 65
    assert all(step.paragraphs[0].count("`") % 2 == 0 for paragraph in step.paragraphs)


@pytest.mark.parametrize("step", STEPS.values(), ids=list(STEPS))
def test_what_stands_as_code_is_a_word_of_the_description(step: GuideStep) -> None:
    known = set(re.findall(r"[a-z_]+", rendered().decode()))
    codes = [code for paragraph in step.paragraphs for code in re.findall(r"`([^`]*)`", paragraph)]
    assert codes
    assert [word for code in codes for word in re.findall(r"[a-z_]+", code) if word not in known] == []


@pytest.mark.parametrize("step", ASKED, ids=[step.id for step in ASKED])
def test_it_is_written_in_every_language_and_as_two_formulas(step: GuideStep) -> None:
    assert [snippet.language for snippet in step.snippets] == [*LANGUAGES, *CELLS]
    for formula in step.snippets[-2:]:
        pieces = re.findall(r'"([^"]{6,})"', formula.code)
        url = "".join(pieces[: formula.code.count('"&"') + 1])
        assert max(map(len, pieces)) <= 250
        assert len(url.removeprefix(ADDRESS)) <= MOST_CHARACTERS
        assert urlsplit(url).path == urlsplit(step.target).path


def test_the_signs_stand_in_no_cell() -> None:
    assert [snippet.language for snippet in STEPS["signs"].snippets] == [*LANGUAGES]
    assert STEPS["signs"].remark == "The first 2 of 37, with some of their fields."


def test_snippets_ask_where_they_are_told_to() -> None:
    there = "https://example.org"
    for step in guide(there):
        assert all(there in snippet.code and ADDRESS not in snippet.code for snippet in step.snippets)


def test_a_formula_states_what_the_question_states() -> None:
    """And no value that stands for what is left out, which would only make it longer."""
    pain, review = (STEPS[name].snippets[-1].code for name in ("pain", "review"))
    assert "complaint_usual_pain=1&aim=strength&" in pain
    assert "limit=" not in pain
    assert "sessions_pain_next_morning=1.5,1,1&sessions_reps_done=9;9;9,9;9;9,9;9;9&original_" in review.replace(
        '"&"', ""
    )
