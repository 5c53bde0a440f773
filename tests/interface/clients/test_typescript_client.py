"""The TypeScript client made by openapi-typescript and openapi-fetch: typed, and it holds the demo consultation."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from tests.interface.clients.description import ENUMS, EXAMPLES, JSON, OPERATIONS, SCHEMAS
from tests.interface.clients.typescript_client import TypeScriptClient, node
from tests.support.description import examples
from tests.support.live import Live


@pytest.fixture(scope="module")
def told(compiled: Path, served: Live) -> dict[tuple[str, str], dict[str, Any]]:
    """What the compiled program got for each operation and example."""
    ended = node(compiled / "examples.js", f"http://127.0.0.1:{served.port}")
    assert ended.returncode == 0, ended.stderr
    lines = [json.loads(line) for line in ended.stdout.splitlines()]
    return {(line["operation"], line["example"]): line for line in lines}


def test_it_is_generated_without_warning(typescript_client: TypeScriptClient) -> None:
    assert not re.search(r"warn|error|⚠", typescript_client.said, re.IGNORECASE)


def test_nothing_is_any(typescript_client: TypeScriptClient) -> None:
    """`unknown` stands only for headers beside those described, and for examples of whatever may stand somewhere."""
    code = typescript_client.code("api.ts")
    assert re.findall(r"^.*\bany\b.*$", code, re.MULTILINE) == []
    assert set(re.findall(r"^\s*(.*\bunknown\b.*)$", code.replace('"unknown"', ""), re.MULTILINE)) == {
        "[name: string]: unknown;",
        "example: unknown;",
        "example?: unknown;",
    }


def test_every_shape_and_operation_has_its_type(typescript_client: TypeScriptClient) -> None:
    code = typescript_client.code("api.ts")
    assert set(re.findall(r"^export type (\w+) = components\['schemas'\]", code, re.MULTILINE)) == set(SCHEMAS)
    operations = code.partition("export interface operations")[2]
    assert set(re.findall(r"^    (\w+): \{$", operations, re.MULTILINE)) == set(OPERATIONS)


def test_lists_of_values_are_enumerations_with_their_names(typescript_client: TypeScriptClient) -> None:
    """No other enumeration is made, so no list of values stands unnamed; a list of one tells shapes apart."""
    code = typescript_client.code("api_with_enums.ts")
    made = {
        name: re.findall(r'= "([^"]*)"', body)
        for name, body in re.findall(r"export enum (\w+) \{(.*?)\}", code, re.DOTALL)
    }
    lists = {name: values for name, values in made.items() if len(values) > 1}
    assert {name: sorted(values) for name, values in lists.items()} == ENUMS


def test_alternatives_are_a_union_told_apart(typescript_client: TypeScriptClient) -> None:
    code = typescript_client.code("api.ts")
    for name, schema in SCHEMAS.items():
        for value in re.findall(r"'const': '([\w-]+)'", str(schema.get("properties", {}))):
            body = re.search(rf"^        {name}: \{{(.*?)^        \}};", code, re.DOTALL | re.MULTILINE)
            assert body is not None, name
            assert f': "{value}"' in body.group(1), name


def test_it_compiles_strictly(compiled: Path) -> None:
    assert (compiled / "examples.js").exists()


@pytest.mark.parametrize("example", EXAMPLES, ids=[example.label for example in EXAMPLES])
def test_an_example_is_asked_and_answered(example: Any, told: dict[tuple[str, str], dict[str, Any]]) -> None:  # noqa: ANN401
    found = told[example.operation_id, example.name]
    assert "error" not in found
    assert found["data"] == example.answer


@pytest.mark.parametrize("operation_id", [name for name, found in OPERATIONS.items() if found["method"] == "get"])
def test_a_question_by_address_is_answered(operation_id: str, told: dict[tuple[str, str], dict[str, Any]]) -> None:
    """An entry's or a computation's example is the whole answer; a list's is the beginning of its list."""
    found = told[operation_id, ""]
    assert "error" not in found
    example = next(iter(examples(OPERATIONS[operation_id]["responses"]["200"]["content"][JSON]).values()))["value"]
    if operation_id.startswith("list"):
        assert found["data"].keys() == example.keys()
        for name, value in example.items():
            answered = found["data"][name]
            assert (answered[: len(value)] if isinstance(value, list) else answered) == value
    elif operation_id == "getVersion":  # holds the checksum of the description, which cannot stand in it
        assert found["data"].keys() == example.keys()
    else:
        assert found["data"] == example


def test_the_consultation(compiled: Path, served: Live) -> None:
    ended = node(compiled / "consultation.js", f"http://127.0.0.1:{served.port}")
    assert ended.returncode == 0, ended.stderr
    lines = ended.stdout.splitlines()
    assert lines[0].startswith("adjust: ")
    assert re.fullmatch(r"ahead: [1-9]\d* weeks", lines[1])
    assert lines[2] == "course: back_to_original, hold, progress, step_back, ends back_to_original"
    assert lines[3].startswith("known from: ")
    assert lines[4].startswith("refer: ")
    assert lines[5:] == ["row 1: answered", "row 2: refused, 422"]
