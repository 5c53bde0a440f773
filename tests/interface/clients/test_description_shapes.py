"""What generators of clients need of the description: a name for every shape, types everywhere, unions told apart."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any, Final

from tests.interface.clients.description import ENUMS, REFERENCE, SCHEMAS, name_in
from tests.support.asking import objects
from tests.support.description import DOCUMENT, parameters

LARGEST: Final = 1_500_000  # characters
NULL: Final = {"type": "null"}
ANY_VALUE: Final = {"MessageValue/example", "ProblemFault/example"}
"""Values of any type, which generators know by a schema without one."""
TYPED: Final = {"type", "$ref", "const", "anyOf", "oneOf"}


def inside(schema: Any, where: str) -> Iterator[tuple[str, dict[str, Any]]]:  # noqa: ANN401 - any part of a schema
    """The schemas within a schema, each with its place; references are not followed."""
    if isinstance(schema, list):
        for index, item in enumerate(schema):
            yield from inside(item, f"{where}/{index}")
    elif isinstance(schema, dict):
        yield where, schema
        for name, field in schema.get("properties", {}).items():
            yield from inside(field, f"{where}/{name}")
        for keyword in ("items", "anyOf", "oneOf", "allOf", "prefixItems", "additionalProperties"):
            if keyword in schema:
                yield from inside(schema[keyword], f"{where}/{keyword}")


def bodies() -> Iterator[tuple[str, dict[str, Any]]]:
    """The schemas that stand in operations: of parameters, bodies and answers, and of the answers they share."""
    for name, response in DOCUMENT["components"]["responses"].items():
        for media_type, content in response["content"].items():
            yield f"{name} {media_type}", content["schema"]
    for path, methods in DOCUMENT["paths"].items():
        for method, operation in methods.items():
            where = f"{method} {path}"
            for parameter in parameters(operation):
                yield f"{where} {parameter['name']}", parameter["schema"]
            for status, part in [("body", operation.get("requestBody", {})), *operation["responses"].items()]:
                for media_type, content in part.get("content", {}).items():
                    yield f"{where} {status} {media_type}", content["schema"]


ALL: Final = [
    *(found for name, schema in SCHEMAS.items() for found in inside(schema, name)),
    *(found for where, schema in bodies() for found in inside(schema, where)),
]
UNNAMED: Final = [(where, schema) for where, schema in ALL if where not in SCHEMAS]


def test_the_walk_reaches_what_is_nested() -> None:
    places = {where for where, _ in ALL}
    assert {"Problem/errors/items", "AdjustmentsAnswer/referral/anyOf/0"} <= places
    assert "post /v1/batch body application/json" in places


def test_no_list_of_values_is_without_a_name() -> None:
    assert [where for where, schema in UNNAMED if "enum" in schema] == []


def test_no_object_is_without_a_name() -> None:
    assert [where for where, schema in UNNAMED if schema.get("type") == "object"] == []


def test_the_same_values_have_one_name() -> None:
    values = [frozenset(values) for values in ENUMS.values()]
    assert [name for name, found in ENUMS.items() if values.count(frozenset(found)) > 1] == []


def test_everything_has_a_type() -> None:
    assert {where for where, schema in ALL if not TYPED & schema.keys()} == ANY_VALUE


NUMBERS: Final = ("integer", "number")


def test_alternatives_are_told_apart_by_a_field() -> None:
    """Null or a number beside one shape is told by its type; anything else is `oneOf` with a discriminator."""
    faults = []
    for where, schema in ALL:
        branches = schema.get("anyOf", []) + schema.get("oneOf", [])
        shapes = [branch for branch in branches if branch != NULL and branch.get("type") not in NUMBERS]
        if len(shapes) < 2:
            continue
        mapping = schema.get("discriminator", {}).get("mapping", {})
        field = schema.get("discriminator", {}).get("propertyName")
        constants = {
            SCHEMAS[name_in(shape)]["properties"].get(field, {}).get("const"): shape["$ref"]
            for shape in shapes
            if "$ref" in shape
        }
        if "oneOf" not in schema or len(mapping) != len(shapes) or mapping != constants:
            faults.append(where)
    assert faults == []


def test_there_are_alternatives() -> None:
    assert any("oneOf" in schema for _, schema in ALL)


def test_no_alternatives_are_without_a_name() -> None:
    """Generators call what has none after the field that holds it: BatchRequestsInner."""
    faults = []
    for where, schema in UNNAMED:
        branches = [branch for branch in schema.get("anyOf", []) + schema.get("oneOf", []) if branch != NULL]
        if len(branches) > 1:
            faults.append(where)
    assert faults == []


def test_every_number_says_how_it_is_stored() -> None:
    formats = {"number": {"double"}, "integer": {"int32", "int64"}}
    numbers = [(where, schema) for where, schema in ALL if schema.get("type") in formats]
    assert len(numbers) > 100
    assert [where for where, schema in numbers if schema.get("format") not in formats[schema["type"]]] == []


def reached(part: Any) -> set[str]:  # noqa: ANN401 - any part of the description
    """The names of all schemas that a part of the description leads to."""
    names: set[str] = set()
    waiting = [part]
    while waiting:
        found = set(re.findall(rf"'{REFERENCE}(\w+)'", str(waiting.pop()))) - names
        names |= found
        waiting += [SCHEMAS[name] for name in found]
    return names


def test_no_text_and_no_number_of_an_answer_is_limited() -> None:
    """Generators make a type of its own of a text with a pattern or a longest length, and of a number with bounds."""
    operations = [operation for methods in DOCUMENT["paths"].values() for operation in methods.values()]
    asked = reached([(parameters(one), one.get("requestBody")) for one in operations])
    answered = reached([one["responses"] for one in operations] + [DOCUMENT["components"]["responses"]]) - asked
    assert {"AdjustmentsAnswer", "Problem"} <= answered
    parts = [found for name in answered for found in inside(SCHEMAS[name], name)]
    assert len(parts) > 500
    limits = {"pattern", "minLength", "maxLength", "minimum", "maximum"}
    assert [where for where, schema in parts if limits & schema.keys()] == []


def test_the_description_stays_small_enough_to_be_read_by_generators() -> None:
    """More than half of it are words and shapes, the rest examples."""
    whole, shown = (len(json.dumps(part)) for part in (DOCUMENT, DOCUMENT["components"]["examples"]))
    assert whole < LARGEST
    assert shown < whole / 2


def test_examples_stand_once() -> None:
    parts = [DOCUMENT["components"]["responses"], DOCUMENT["paths"]]
    kept = DOCUMENT["components"]["examples"]
    shown = [
        one for found in objects(parts) if isinstance(found.get("examples"), dict) for one in found["examples"].values()
    ]
    assert len(shown) > len(kept) > 100
    assert [one for one in shown if one.keys() != {"$ref"}] == []
    assert {one["$ref"].removeprefix("#/components/examples/") for one in shown} == kept.keys()


def test_names_make_types() -> None:
    assert [name for name in SCHEMAS if not re.fullmatch(r"[A-Z][A-Za-z0-9]*", name)] == []


def test_every_name_is_used() -> None:
    text = str(DOCUMENT)
    assert [name for name in SCHEMAS if f"'{REFERENCE}{name}'" not in text] == []
