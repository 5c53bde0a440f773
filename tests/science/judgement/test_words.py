"""What people read has words and no ids: sentences, lines and pictures of consultations, and a whole course of care."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Final

import msgspec
import pytest

from service.api.docs.course import SCENARIO, course
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.cues import CUES
from service.vocabulary import LEVERS
from tests.science.judgement.measure import DRAWS, seeds
from tests.support.asking import BY_NAME, decoded, in_full

IDS: Final = {one for one in (*EXERCISES, *REGIONS, *CUES, *LEVERS) if "_" in one}
JOINED: Final = re.compile(r"[a-z]+(?:_[a-z0-9]+)+")
TAGS: Final = re.compile(r"<[^>]+>")
CONSULTATIONS: Final = 40


def said(answer: Any) -> Iterator[str]:  # noqa: ANN401 - any JSON
    """Every text of an answer that is for people."""
    if isinstance(answer, dict):
        for name, value in answer.items():
            if name in ("text", "words") and isinstance(value, str):
                yield value
            else:
                yield from said(value)
    elif isinstance(answer, list):
        for one in answer:
            yield from said(one)


def ids(text: str) -> set[str]:
    return IDS.intersection(JOINED.findall(text))


@pytest.mark.parametrize("draw", DRAWS)
def test_consultations_and_their_pictures_are_in_words(draw: str) -> None:
    operation, read = BY_NAME["adjustments"], 0
    for seed in seeds(draw, CONSULTATIONS):
        request = decoded("adjustments", in_full(DRAWS[draw][0](seed)))
        try:
            answer, pages = operation.compute(request), operation.picture(request) if operation.picture else []
        except Refusal:
            continue
        texts = [*said(msgspec.to_builtins(answer)), *(TAGS.sub(" ", page.svg()) for page in pages)]
        assert [(text, ids(text)) for text in texts if ids(text)] == []
        read += 1
    assert read > CONSULTATIONS / 2


def test_a_course_of_care_is_in_words() -> None:
    texts = [text for asked in course(SCENARIO) for text in said(asked.answer)]
    assert texts
    assert [(text, ids(text)) for text in texts if ids(text)] == []


def test_an_id_is_seen() -> None:
    assert ids("Do the front_squat (gullett_2009).") == {"front_squat"}
