"""Each mistake is refused as it is shown, and its mend is answered."""

from __future__ import annotations

import json
from typing import Final

import pytest

from service.api.docs.guide.mistakes import answered, mistakes
from service.api.docs.guide.models import Mistake
from service.http.problems import KINDS

MISTAKES: Final = {mistake.id: mistake for mistake in mistakes()}
REFUSED: Final = [mistake for mistake in MISTAKES.values() if mistake.id != "no-options"]


def test_the_common_ones_are_there() -> None:
    assert {"load-as-text", "unit-missing", "unknown-exercise", "media-type", "wrong-method", "no-options"} <= set(
        MISTAKES
    )
    assert {mistake.status for mistake in REFUSED} == {400, 405, 415, 422}


@pytest.mark.parametrize("mistake", REFUSED, ids=[mistake.id for mistake in REFUSED])
def test_the_mistake_is_refused(mistake: Mistake) -> None:
    assert mistake.answer["status"] == mistake.status
    assert mistake.answer["type"].removeprefix("/problems/") in KINDS
    assert max(len(line) for line in mistake.shown.splitlines()) < 300


@pytest.mark.parametrize("mistake", MISTAKES.values(), ids=list(MISTAKES))
def test_the_mend_is_answered(mistake: Mistake) -> None:
    assert mistake.mended != mistake.asked
    status, body = answered(mistake.mended)
    assert status == 200
    assert json.loads(body)


def test_the_exercise_of_the_mend_is_the_one_that_was_meant() -> None:
    mistake = MISTAKES["unknown-exercise"]
    assert [json.loads(mistake.mended.body)["exercise"]] == mistake.answer["errors"][0]["did_you_mean"]


def test_every_fault_of_a_field_has_its_pointer() -> None:
    pointers = [fault["pointer"] for fault in MISTAKES["unknown-field"].answer["errors"]]
    assert pointers == ["/set/load", "/set/reps", "/set/weight"]


def test_a_sign_has_no_options_and_says_why() -> None:
    mistake = MISTAKES["no-options"]
    assert (mistake.status, mistake.answer["options"], mistake.answer["decision"]) == (200, [], "refer")
    assert json.loads(answered(mistake.mended)[1])["decision"] == "refer"
