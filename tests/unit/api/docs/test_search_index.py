"""What the search of the page looks through: operations, fields, codes, exercises, each at a place that is there."""

from __future__ import annotations

import json
import re
from typing import Final

from service.api.docs.contents import contents
from service.api.docs.page import page
from service.api.docs.search_index import search_index
from service.http.problems import KINDS
from service.knowledge.catalogue import EXERCISES
from service.messages.catalogue import CATALOGUE

INDEX: Final[list[list[str]]] = json.loads(search_index())
BY_ADDRESS: Final = {address: (name, kind, words) for name, kind, words, address in INDEX}


def named(kind: str) -> set[str]:
    return {name for name, of, _, _ in INDEX if of == kind}


def test_everything_has_its_entry() -> None:
    assert named("exercise") == set(EXERCISES)
    assert named("message") == set(CATALOGUE)
    assert {address.removeprefix("#problem-") for address in BY_ADDRESS if "#problem-" in address} == set(KINDS)
    fields = {f"#{row.anchor}" for shape in contents().all_shapes() for row in shape.fields}
    assert fields <= set(BY_ADDRESS)
    ways = [way for section in contents().sections for one in section.operations for way in one.ways]
    assert named("operation") == {f"{way.method} {way.path}" for way in ways}


def test_every_address_is_there() -> None:
    ids = set(re.findall(r' id="([^"]*)"', page().decode()))
    elsewhere = {f"/v1/messages/{code}" for code in CATALOGUE}
    assert [address for address in BY_ADDRESS if address.removeprefix("#") not in ids | elsewhere] == []


def test_an_exercise_is_found_by_what_the_trade_calls_it() -> None:
    name, kind, words = BY_ADDRESS["#ExerciseId.front_squat"]
    assert (name, kind) == ("front_squat", "exercise")
    assert all(alias in words for alias in EXERCISES["front_squat"].aliases)
