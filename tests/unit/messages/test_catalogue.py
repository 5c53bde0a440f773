"""Every sentence of the catalogue can be made, and its text follows from code and values alone."""

from __future__ import annotations

import ast
from pathlib import Path
from typing import Final

import msgspec
import pytest

from service.messages import Message, message, text_of
from service.messages.catalogue import CATALOGUE
from tests.support.paths import ROOT

SERVICE: Final = ROOT / "service"


def calls() -> list[tuple[Path, int, str, set[str] | None]]:
    """Where message("code", …) stands: file, line, code, and the names of its values unless they come as a mapping."""
    found = []
    for path in SERVICE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_bytes())):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "message":
                [code] = node.args
                names = {keyword.arg for keyword in node.keywords}
                if isinstance(code, ast.Constant):
                    known = None if None in names else {name for name in names if name is not None}
                    found.append((path, node.lineno, str(code.value), known))
    return found


@pytest.mark.parametrize("code", CATALOGUE)
def test_every_sentence_can_be_made(code: str) -> None:
    made = message(code, **CATALOGUE[code].example)
    assert made.code == code
    assert made.text
    assert "{" not in made.text


@pytest.mark.parametrize("code", CATALOGUE)
def test_the_text_follows_from_code_and_values_as_json_shows_them(code: str) -> None:
    made = message(code, **CATALOGUE[code].example)
    shown = msgspec.json.decode(msgspec.json.encode(made), type=Message)
    assert text_of(shown.code, shown.values) == made.text
    assert message(shown.code, **shown.values) == made


def test_a_sentence_without_values_is_made_once() -> None:
    assert message("heels_flat") is message("heels_flat")


def test_every_call_has_a_code_of_the_catalogue_with_its_values() -> None:
    for path, line, code, names in calls():
        assert code in CATALOGUE, f"{path}:{line}"
        assert names is None or names == CATALOGUE[code].kinds.keys(), f"{path}:{line}"
