r"""A text that ends in a newline fits no pattern of the description, wherever a client sends it.

In Python `$` also matches before a last newline, and what passes so far fails further in. The patterns of the structs
end in `\Z`; the description has `$`, which is the end of the text in ECMA-262.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator
from itertools import pairwise
from typing import Any, Final

import jsonschema_rs
import pytest

from service.api.models.operation import Operation
from service.api.openapi.document import document
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from service.knowledge.catalogue import EXERCISES
from service.knowledge.cues import CUES
from service.knowledge.signs import SIGNS
from tests.support.asking import objects
from tests.support.description import parameters
from tests.support.in_process import client, name_of

Schema = dict[str, Any]
DESCRIPTION: Final[Schema] = document()
OPEN_ENDED: Final = frozenset({r"\S", '^"'})  # of whole bodies and of headers of answers: they bind no end
TEXTS: Final = (
    *(
        "5",
        "5-6",
        "20kg",
        "20cm",
        "20deg",
        "90s",
        "25kgx4",
        "true",
        "3-1-X-1",
        "tempo",
        "wide",
        "eye",
        "knee",
        "dumbbells",
        "load",
        "tempo",
        "/set/reps",
        "left",
        f'"{"0" * 24}"',
    ),
    *(next(iter(ids)) for ids in (EXERCISES, SIGNS, CUES)),
    "a label",
)
UNFIT: Final = ("The value ", "The text ", "Only cells ")
app: Final = client()


def patterns(node: Any) -> Iterator[str]:  # noqa: ANN401 - any JSON
    return (found["pattern"] for found in objects(node) if isinstance(found.get("pattern"), str))


def fits(pattern: str, text: str) -> bool:
    return jsonschema_rs.Draft202012Validator({"type": "string", "pattern": pattern}).is_valid(text)


def fitting(pattern: str) -> str:
    """A text that fits a pattern of the description."""
    return next(text for text in TEXTS if fits(pattern, text))


POINTER: Final = "^(?:/(?:[^~/]|~[01])*)*$"  # a name in a JSON Pointer may hold any character
BOUND: Final = sorted(set(patterns(DESCRIPTION)) - OPEN_ENDED - {POINTER})


def test_every_pattern_binds_the_end_of_the_text() -> None:
    assert len(BOUND) >= 29
    assert [pattern for pattern in BOUND if not pattern.endswith("$")] == []


@pytest.mark.parametrize("pattern", BOUND)
def test_no_pattern_takes_a_last_newline(pattern: str) -> None:
    text = fitting(pattern)
    assert fits(pattern, text)
    assert not fits(pattern, text + "\n")


def resolved(schema: Schema) -> Schema:
    while "$ref" in schema:
        schema = DESCRIPTION["components"]["schemas"][schema["$ref"].rsplit("/", 1)[1]]
    return schema


def patterned(schema: Schema, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], str]]:
    """Where a body of the schema has a text with a pattern; of lists the first item."""
    found = resolved(schema)
    if "pattern" in found:
        yield path, found["pattern"]
    for name, inner in found.get("properties", {}).items():
        yield from patterned(inner, (*path, name))
    if "items" in found:
        yield from patterned(found["items"], (*path, 0))
    for inner in (*found.get("anyOf", ()), *found.get("oneOf", ())):
        yield from patterned(inner, path)


def with_text(body: Any, path: tuple[str | int, ...], text: str) -> Any:  # noqa: ANN401 - any JSON
    changed = copy.deepcopy(body)
    node = changed
    for step, below in pairwise(path):
        node = node.setdefault(step, [{}] if below == 0 else {}) if isinstance(node, dict) else node[step]
    node[path[-1]] = text
    return changed


@pytest.mark.parametrize("operation", OPERATIONS, ids=name_of)
def test_no_text_of_a_body_may_end_in_a_newline(operation: Operation) -> None:
    body = DESCRIPTION["paths"][operation.path]["post"]["requestBody"]["content"]["application/json"]["schema"]
    example = operation.examples[0].request
    for path, pattern in patterned(body):
        reply = app.post(operation.path, json=with_text(example, path, fitting(pattern) + "\n"))
        assert reply.status_code == 422, (path, reply.text)
        pointer = "/" + "/".join(map(str, path))
        assert pointer in [fault["pointer"] for fault in reply.json()["errors"]]


@pytest.mark.parametrize("operation", OPERATIONS, ids=name_of)
def test_no_parameter_may_end_in_a_newline(operation: Operation) -> None:
    described = parameters(DESCRIPTION["paths"][operation.path]["get"])
    texts = [one for one in described if one["in"] == "query" and "pattern" in resolved(one["schema"])]
    reader = Reader[Any](operation.request)
    asked = QueryForm(operation, reader).flat.to_texts(reader.fit(operation.examples[0].request))
    for parameter in texts:
        value = fitting(resolved(parameter["schema"])["pattern"]) + "\n"
        reply = app.get(operation.path, params=asked | {parameter["name"]: value})
        assert reply.status_code == 422, (parameter["name"], reply.text)
        assert any(fault["detail"].startswith(UNFIT) for fault in reply.json()["errors"]), reply.text


def test_the_id_of_a_question_in_a_batch_may_not_end_in_a_newline() -> None:
    question = {"operation": "tempo", "id": "first\n", "body": {"tempo": "3-1-X-1", "reps": {"low": 5, "high": 6}}}
    reply = app.post("/v1/batch", json={"requests": [question]})
    assert [one["status"] for one in reply.json()["results"]] == [422]
