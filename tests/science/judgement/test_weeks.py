"""Weeks written out with what an expert would change first and would never do: all of it holds.

They were written before the answers were looked at. Made into a page with `python -m tests.science.judgement.weeks`.
"""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy
from functools import cache
from typing import Final, get_args

import msgspec
import pytest

from service.adjustment.week.worked import Relief
from service.knowledge.catalogue import EXERCISES, SOURCES
from service.vocabulary import WEIGHTINGS
from tests.science.judgement.sentences import Json
from tests.science.judgement.verdicts import wanted_of
from tests.science.judgement.wanted import Consultation, Line, everywhere
from tests.science.judgement.week_vocabulary import WeekAsked, holds
from tests.science.judgement.weeks import ALL, EVERYWHERE, FILE, answer, judged, page

TEN: Final = {"value": 10.0, "low": 10.0, "high": 10.0}


@cache
def asked() -> dict[str, WeekAsked]:
    return {one.name: answer(one.asked) for one in ALL}


@pytest.mark.parametrize("week", ALL, ids=lambda one: one.name)
def test_what_an_expert_wants_holds_and_what_they_never_want_does_not(week: Consultation) -> None:
    assert [one.line.it for one in judged(week, asked()[week.name]) if not one.holds] == []


def test_page_is_the_one_read() -> None:
    assert page() == FILE.with_suffix(".md").read_text(encoding="utf-8")


def altered(one: WeekAsked) -> Iterator[WeekAsked]:
    """The answer with one thing changed, for each thing that a line can be about."""
    parts: list[Json] = [{"decision": "refer"}, {"decision": "adjust"}, {"options": []}, {"why": []}]
    for part in parts:
        yield msgspec.structs.replace(one, answer=one.answer | part)
    yield msgspec.structs.replace(one, demand=_other_demand(one.demand))
    for part in _of_options(one):
        options = [option | part for option in one.options]
        yield msgspec.structs.replace(one, answer=one.answer | {"options": options})
    yield msgspec.structs.replace(
        one, answer=one.answer | {"options": [option | {"demand": _all(option["demand"])} for option in one.options]}
    )


def _all(demand: Json) -> Json:
    """Everything is asked for ten times as much."""
    return {region: dict.fromkeys(WEIGHTINGS, TEN) for region in demand}


def _other_demand(demand: Json) -> Json:
    """Another lift leads, heavy days are far apart, nothing is cautioned, and no muscle gets a set."""
    new = deepcopy(demand)
    for region in new["regions"].values():
        for number, lift in enumerate(region["lifts"]):
            for share in lift["share"].values():
                share["value"] = float(number == len(region["lifts"]) - 1)
        region["shortest_gap"] = None
    return new | {"muscles": {}, "cautions": []}


def _of_options(one: WeekAsked) -> Iterator[Json]:
    yield from ({"relief": words} for words in get_args(Relief))
    yield {"why": []}
    changes = [{"kind": "changed", "entries": [entry], "levers": ["load"]} for entry in range(len(one.week))]
    yield from ({"changes": [change]} for change in changes)
    yield {"changes": changes}
    yield {"changes": [changes[0] | {"levers": ["load", "tempo", "reps", "sets"]}]}
    yield {"changes": [{"kind": "moved", "entries": [0], "levers": ["days"]}]}
    yield {"muscles": {"quads": {"before": 9, "after": 1, "floor": 4, "under_floor": True}}}
    first, *others = one.week
    for exercise in EXERCISES:
        yield {"week": [first | {"prescription": first["prescription"] | {"exercise": exercise}}, *others]}
    heavy = first["prescription"] | {"load": {"value": 900.0, "unit": "kg"}}
    yield {"week": [first | {"prescription": heavy}, *others]}
    yield {"week": [first | {"day": 7}]}
    yield {"week": [lift | {"prescription": lift["prescription"] | {"reps_in_reserve": 0}} for lift in one.week]}


@pytest.mark.parametrize("week", ALL, ids=lambda one: one.name)
def test_every_line_can_fail_and_can_hold(week: Consultation) -> None:
    """Of some answer each sentence is true and of another it is not, so that no line is idle."""
    idle = {line.it for _, line in wanted_of(week, asked()[week.name], EVERYWHERE)}
    truths: dict[str, set[bool]] = {it: set() for it in idle}
    for true in (asked()[week.name], *asked().values()):
        for one in (true, *altered(true)):
            for it in idle:
                truths[it].add(holds(it, one))
        idle = {it for it in idle if len(truths[it]) == 1}
    assert idle == set()


def lines() -> list[Line]:
    own = [line for one in ALL for line in (*one.must, *one.must_not)]
    return [*own, *everywhere(EVERYWHERE).must, *everywhere(EVERYWHERE).must_not]


def test_every_line_says_why_and_on_what_it_rests() -> None:
    assert all(line.why and line.sources for line in lines())
    assert {source for line in lines() for source in line.sources} <= set(SOURCES)


def test_weeks_differ_as_those_of_lifters_do() -> None:
    requests = [one.request for one in ALL]
    assert {one["complaint"]["region"] for one in requests} == {
        "low_back",
        "knee",
        "shoulder",
        "elbow",
        "hip",
        "calf_achilles",
    }
    assert {one["lifter"]["training"] for one in requests} == {"novice", "trained"}
    assert {len({lift["day"] for lift in one["week"]}) for one in requests} == {2, 3, 4, 5}
    assert {one["aim"] for one in requests} == {"muscle_size", "strength"}
    assert any("staying" in one.get("constraints", {}) for one in requests)
    assert any("spare" in one.get("constraints", {}) for one in requests)
