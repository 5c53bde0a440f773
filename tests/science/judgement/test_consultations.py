"""Consultations written out with what an expert would want first and would never want: all of it holds.

They were written before the answers were looked at. Made into pages with `python -m tests.science.judgement.pages`.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import chain
from pathlib import Path
from typing import Final

import pytest

from service.knowledge.catalogue import EXERCISES, SOURCES
from service.vocabulary import REGIONS
from tests.science.judgement.altered import altered
from tests.science.judgement.pages import page
from tests.science.judgement.plausible import FIRST_SEED, consultation
from tests.science.judgement.sentences import Asked
from tests.science.judgement.verdicts import Verdict, answer, verdicts, wanted_of
from tests.science.judgement.vocabulary import holds
from tests.science.judgement.wanted import Consultation, Line, consultations, everywhere, files

FILES: Final = files()
ALL: Final = [one for path in FILES for one in consultations(path)]


@cache
def asked() -> dict[str, Asked | None]:
    return {one.name: answer(one.asked) for one in ALL}


def failing(consultation: Consultation) -> list[Verdict]:
    return [one for one in verdicts(consultation, asked()[consultation.name]) if not one.holds]


@pytest.mark.parametrize("consultation", ALL, ids=lambda one: one.name)
def test_what_an_expert_wants_holds_and_what_they_never_want_does_not(consultation: Consultation) -> None:
    assert [one.line.it for one in failing(consultation)] == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.stem))
def test_page_is_the_one_read(path: Path) -> None:
    assert page(path) == path.with_suffix(".md").read_text(encoding="utf-8")


@cache
def answers() -> list[Asked]:
    drawn = [answer(consultation(seed)) for seed in range(FIRST_SEED, FIRST_SEED + 3)]
    return [one for one in (*asked().values(), *drawn) if one is not None]


def others() -> Iterator[Asked]:
    """True answers first, then altered ones."""
    return chain(answers(), chain.from_iterable(altered(one) for one in answers()))


@pytest.mark.parametrize("consultation", ALL, ids=lambda one: one.name)
def test_every_line_can_fail_and_can_hold(consultation: Consultation) -> None:
    """Of some answer each sentence is true and of another it is not, so that no line is idle."""
    idle = []
    for _, line in wanted_of(consultation, None):
        truths: set[bool] = set()
        for one in others():
            truths.add(holds(line.it, one))
            if len(truths) > 1:
                break
        else:
            idle.append(line.it)
    assert idle == []


def lines() -> list[Line]:
    own = [line for one in ALL for line in (*one.must, *one.must_not)]
    return [*own, *everywhere().must, *everywhere().must_not]


def test_every_line_says_why_and_on_what_it_rests() -> None:
    assert all(line.why and line.sources for line in lines())
    assert {source for line in lines() for source in line.sources} <= set(SOURCES)


def test_every_consultation_has_something_to_want_and_something_never_to_want() -> None:
    assert len(ALL) >= 30
    assert len({one.name for one in ALL}) == len(ALL)
    assert [one.name for one in ALL if not one.must or not one.must_not] == []


def test_they_cover_what_lifters_come_with() -> None:
    requests = [one.request for one in ALL]
    complaints = [one["complaint"] for one in requests]
    assert {one["region"] for one in complaints} == set(REGIONS)
    assert {one["aim"] for one in requests} == {"strength", "muscle_size", "tendon", "maintain"}
    families = {EXERCISES[one["prescription"]["exercise"]].family for one in requests}
    assert families >= {"squat", "split", "hinge", "press", "pull"}
    implements = {one["prescription"].get("implement") for one in requests}
    assert implements >= {"dumbbells", "one_dumbbell", "kettlebell", "body_weight"}
    pains = [one["pain_in_session"] for one in complaints]
    assert {2, 3, 4, 5, 6, 8} <= set(pains)
    for name in ("pain_at_rest", "after_adjustment", "signs", "side", "onset", "provoked_by", "painful_range", "weeks"):
        assert any(name in one for one in complaints), name
    assert {word for one in complaints for word in one.get("provoked_by", [])} >= {"load", "volume", "range", "speed"}
    assert sum("constraints" in one for one in requests) >= 5
    assert sum("circumstances" in one for one in requests) >= 3
