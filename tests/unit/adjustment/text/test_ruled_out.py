"""Every reason why a trial gave no option has its message, and its facts are the values of it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from typing import Final, get_args

import pytest

from service.adjustment.consultation import Reason, RuledOut
from service.adjustment.text.ruled_out import reason_message
from service.messages import Message, message
from service.messages.catalogue import CATALOGUE
from tests.support.paths import ROOT

FACTS: Final[dict[str, str | float | Message]] = {
    "detail": message("depth_in_one_way"),
    "exercise": "belt_squat",
    "region": "hip",
    "load": 12.5,
    "share": 0.87,
    "most": 0.93,
    "below": 0.9,
    "least": 0.1,
    "limit": 5.0,
    "rest": 180.0,
}
REASONS: Final[tuple[Reason, ...]] = get_args(Reason)


def test_every_reason_has_a_message_and_no_message_is_without_a_reason() -> None:
    assert {code for code in CATALOGUE if code.startswith("ruled_out_")} == {f"ruled_out_{one}" for one in REASONS}


@pytest.mark.parametrize("reason", REASONS)
def test_words_are_a_sentence_once_the_facts_are_in_their_places(reason: Reason) -> None:
    facts = {name: FACTS[name] for name in CATALOGUE[f"ruled_out_{reason}"].kinds}
    text = reason_message(RuledOut(("load",), reason, facts=facts), "kg").text
    assert text.endswith(".")
    assert text[0].isupper()
    assert "belt_squat" not in text  # an exercise goes by its name


def given() -> Iterator[tuple[str, set[str]]]:
    """Each reason that the code names, with the names of the facts given with it."""
    for path in (ROOT / "service" / "adjustment").rglob("*.py"):
        for call in ast.walk(ast.parse(path.read_bytes())):
            if isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id == "RuledOut":
                facts = [
                    one for one in (*call.args, *(more.value for more in call.keywords)) if isinstance(one, ast.Dict)
                ]
                names = {str(key.value) for one in facts for key in one.keys if isinstance(key, ast.Constant)}
                if isinstance(call.args[1], ast.Constant):
                    yield str(call.args[1].value), names


def test_every_reason_is_given_the_facts_that_its_message_names() -> None:
    found = list(given())
    assert len(found) > 20
    for reason, names in found:
        assert names == CATALOGUE[f"ruled_out_{reason}"].kinds.keys(), reason


def test_a_load_is_said_in_the_unit_asked_about() -> None:
    facts: dict[str, str | float | Message] = {"exercise": "belt_squat", "load": 12.5}
    said = reason_message(RuledOut(("exercise",), "start_load_below_implement", facts=facts), "lb")
    assert said.values["load"] == {"value": 27.5578, "unit": "lb"}
    assert "27.6 lb" in said.text
