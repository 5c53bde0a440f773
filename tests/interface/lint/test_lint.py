"""The description passes both linters with their strict rule sets, and the linters see what is broken on purpose."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import pytest

from tests.interface.lint.linters import LINTERS, SPECTRAL, redocly, spectral, switched_off
from tests.support.paths import DESCRIPTION

FILE: Final = DESCRIPTION
DOCUMENT: Final[dict[str, Any]] = json.loads(FILE.read_bytes())
SETS: Final = 3  # of spectral: OpenAPI, OWASP, documentation
LONG_ENOUGH: Final = 25  # characters of a reason

each_linter = pytest.mark.parametrize("linter", LINTERS)


@each_linter
def test_nothing_is_found(linter: str) -> None:
    find, rules = LINTERS[linter]
    assert [f"{found.rule} at {found.place}: {found.words}" for found in find(FILE, rules)] == []


@each_linter
def test_a_rule_is_switched_off_only_with_a_reason(linter: str) -> None:
    _, rules = LINTERS[linter]
    unexplained = [rule for rule, reason in switched_off(rules).items() if len(reason) < LONG_ENOUGH]
    assert unexplained == []


def test_no_rule_is_switched_off_in_vain(tmp_path: Path) -> None:
    """Without the exceptions spectral finds exactly what they are for: one that finds nothing has to go."""
    text = SPECTRAL.read_text(encoding="utf-8")
    everything = tmp_path / "spectral.yaml"
    everything.write_text(text.partition("rules:")[0].replace("../../support/", f"{SPECTRAL.parents[2]}/support/"))
    assert {found.rule for found in spectral(FILE, everything)} == set(switched_off(SPECTRAL))


def no_id(document: dict[str, Any]) -> None:
    del document["paths"]["/readyz"]["get"]["operationId"]


def lazy_words(document: dict[str, Any]) -> None:
    document["tags"][0]["description"] = "the main job"


def no_end(document: dict[str, Any]) -> None:
    document["components"]["schemas"]["Endless"] = {
        "type": "array",
        "items": {"$ref": "#/components/schemas/Endless"},
        "description": "A list of lists without end.",
    }
    document["components"]["schemas"]["Problem"]["properties"]["endless"] = {"$ref": "#/components/schemas/Endless"}


def left_over(document: dict[str, Any]) -> None:
    document["components"]["schemas"]["LeftOver"] = {"type": "string", "description": "A shape that nothing uses."}


BROKEN: Final[dict[str, tuple[Callable[[Path], list[Any]], Callable[[dict[str, Any]], None], str]]] = {
    "spectral, OpenAPI": (spectral, no_id, "operation-operationId"),
    "spectral, OWASP": (spectral, no_end, "owasp:api4:2023-array-limit"),
    "spectral, documentation": (spectral, lazy_words, "docs-description"),
    "redocly": (redocly, left_over, "no-unused-components"),
}


@pytest.mark.parametrize("case", BROKEN)
def test_what_is_broken_is_found(case: str, tmp_path: Path) -> None:
    find, spoil, rule = BROKEN[case]
    some = dict(list(DOCUMENT["paths"].items())[:1])  # enough to be spoilt, and quick
    document = copy.deepcopy({**DOCUMENT, "paths": {"/readyz": DOCUMENT["paths"]["/readyz"], **some}})
    spoil(document)
    broken = tmp_path / "openapi.json"
    broken.write_text(json.dumps(document))
    assert rule in {found.rule for found in find(broken)}


def test_all_rule_sets_are_in_use() -> None:
    lines = SPECTRAL.read_text(encoding="utf-8").partition("extends:")[2].partition("rules:")[0].splitlines()
    assert len([line for line in lines if line.strip().startswith("- ")]) == SETS
