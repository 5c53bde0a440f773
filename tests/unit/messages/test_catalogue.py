"""Every sentence of the catalogue can be made and is used, and its text follows from code and values alone."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import msgspec
import pytest

from service.messages import Message, from_facts, message, text_of
from service.messages.catalogue import CATALOGUE
from tests.support.paths import ROOT

SERVICE: Final = ROOT / "service"
TREES: Final = {path: ast.parse(path.read_bytes()) for path in sorted(SERVICE.rglob("*.py"))}
SHORTEST_PREFIX: Final = 4
# where sentences are made, and what stands in them besides: refusals, the description, and records of operations
ROOMS: Final = ("adjustment", "mechanics", "training", "api/operations", "api/models")
NO_ANSWER: Final = {"Refusal.one", "Fault", "Meta", "whole", "Operation", "Example"}


def calls() -> Iterator[tuple[Path, int, str, set[str]]]:
    """Where message("code", …) stands with its values by name: file, line, code, names."""
    for path, tree in TREES.items():
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "message":
                [code] = node.args
                names = {keyword.arg for keyword in node.keywords}
                if isinstance(code, ast.Constant) and None not in names:
                    yield path, node.lineno, str(code.value), {str(name) for name in names}


def text(node: ast.AST) -> str | None:
    """A text as it stands in the code, with {} for what is filled in; None for anything else."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values)
    return None


def said(node: ast.AST) -> Iterator[tuple[int, str]]:
    """Texts with their lines, but for documentation, refusals and the description."""
    documentation = isinstance(node, ast.Expr) and text(node.value) is not None
    refused = isinstance(node, ast.Raise) or (isinstance(node, ast.Call) and ast.unparse(node.func) in NO_ANSWER)
    named = ast.unparse(node.targets[0]).strip("()").split(", ") if isinstance(node, ast.Assign) else []
    if documentation or refused or "detail" in named:  # of a refusal that follows
        return
    found = text(node)
    if found is not None:
        yield getattr(node, "lineno", 0), found
        return
    for child in ast.iter_child_nodes(node):
        yield from said(child)


def is_sentence(words: str) -> bool:
    return words.rstrip().endswith((".", ".{}")) and len(words.split()) > 1


def spoken_outside() -> list[str]:
    """Sentences that stand in the code of a room where they are made."""
    descriptions = {SERVICE / "api/models" / name for name in ("deprecation.py", "operation.py")}
    return [
        f"{path.relative_to(ROOT)}:{line}: {words}"
        for path, tree in TREES.items()
        if path not in descriptions and path.is_relative_to(SERVICE)
        for line, words in said(tree)
        if any(path.is_relative_to(SERVICE / room) for room in ROOMS) and is_sentence(words)
    ]


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


def test_of_facts_those_are_taken_that_the_sentence_names() -> None:
    assert from_facts("region_hurts", {"region": "knee", "pain": 4, "week": 2}).values == {"region": "knee", "pain": 4}
    with pytest.raises(KeyError):
        from_facts("region_hurts", {"region": "knee"})


def test_every_call_has_a_code_of_the_catalogue_with_its_values() -> None:
    found = list(calls())
    assert len(found) > 200
    for path, line, code, names in found:
        assert code in CATALOGUE, f"{path}:{line}"
        assert names == CATALOGUE[code].kinds.keys(), f"{path}:{line}"


def test_every_sentence_is_said_somewhere() -> None:
    texts = {words for tree in TREES.values() for node in ast.walk(tree) if (words := text(node))}
    texts |= set(re.findall(r'^code = "(\w+)"', (SERVICE / "knowledge/data/postures.toml").read_text(), re.MULTILINE))
    computed = [words for words in texts if "{}" in words and re.fullmatch(r"[\w{}]+", words)]
    long = [words for words in computed if len(words.replace("{}", "")) >= SHORTEST_PREFIX]
    made = re.compile("|".join(re.escape(words).replace(r"\{\}", r"\w+") for words in long))
    assert [code for code in CATALOGUE if code not in texts and not made.fullmatch(code)] == []


def test_no_sentence_is_said_outside_the_catalogue() -> None:
    assert spoken_outside() == []


@pytest.mark.parametrize(
    ("code", "found"),
    [
        ('why = [f"Rest {seconds} s between sets."]', ["Rest {} s between sets."]),
        ('"""What it is."""', []),
        ('raise Refusal.one("rest", "A rest this long is a break.", "less")', []),
        ('message("rest_between_sets", rest=rest)', []),
    ],
)
def test_the_check_sees_a_sentence_in_the_code(code: str, found: list[str]) -> None:
    assert [words for _, words in said(ast.parse(code)) if is_sentence(words)] == found


def test_the_lifters_own_regions_are_said_in_words_that_a_lifter_uses() -> None:
    said = {"knee": "your knee", "front_of_knee": "the front of your knee", "calf_achilles": "your calf or heel tendon"}
    for region, words in said.items():
        hurts = message("region_hurts", region=region, pain=4.0).text
        assert hurts == f"{words[:1].upper()}{words[1:]} hurts 4 of 10 in the session."
        named = message("told_elsewhere_too", regions=["low_back", region]).text
        assert named.startswith(f"No more than now may be asked of your low back and {words} either")


def test_a_proper_name_keeps_its_capital_within_a_sentence() -> None:
    assert "most the Romanian deadlift decides" in message("week_by_the_sum", exercise="romanian_deadlift").text
    assert "most the front squat decides" in message("week_by_the_sum", exercise="front_squat").text
