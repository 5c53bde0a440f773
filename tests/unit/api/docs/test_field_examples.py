"""Examples of fields: taken from values that their schemas describe, of the right branch of a union."""

from __future__ import annotations

from typing import Any, Final

import pytest

from service.api.docs.field_examples import LONGEST, FieldExamples

NUMBER: Final = {"type": "integer", "minimum": 0, "maximum": 10}
SHAPES: Final[dict[str, Any]] = {
    "Cat": {"type": "object", "required": ["kind", "lives"], "properties": {"kind": {"const": "cat"}, "lives": NUMBER}},
    "Dog": {"type": "object", "required": ["kind", "lives"], "properties": {"kind": {"const": "dog"}, "lives": NUMBER}},
}
ANIMAL: Final = {"anyOf": [{"$ref": f"#/components/schemas/{name}"} for name in SHAPES] + [{"type": "null"}]}


def learned(*values: dict[str, Any] | None) -> FieldExamples:
    examples = FieldExamples(SHAPES)
    for value in values:
        examples.learn(ANIMAL, value)
    return examples


def test_the_first_value_of_the_branch_that_fits() -> None:
    examples = learned({"kind": "dog", "lives": 1}, {"kind": "cat", "lives": 9}, {"kind": "cat", "lives": 8}, None)
    assert (examples.of("Cat", "lives", NUMBER), examples.of("Dog", "lives", NUMBER)) == ("9", "1")


def test_else_a_value_of_the_same_name_that_fits() -> None:
    examples = learned({"kind": "dog", "lives": 1})
    assert examples.of("Cat", "lives", NUMBER) == "1"
    assert examples.of("Cat", "lives", {"type": "string"}) == ""


@pytest.mark.parametrize(
    ("schema", "example"),
    [
        ({"type": "string", "examples": ["front"]}, '"front"'),
        ({"enum": ["a", "b"]}, '"a"'),
        ({"type": "array", "items": {"enum": ["a", "b"]}}, '["a"]'),
        ({"type": "boolean"}, "true"),
        ({"type": "integer", "default": 5, "minimum": 1, "maximum": 20}, "5"),
        (NUMBER, "5"),
        ({"anyOf": [NUMBER, {"type": "null"}]}, "5"),
        ({"type": "string"}, ""),
    ],
)
def test_else_what_the_schema_states(schema: dict[str, Any], example: str) -> None:
    assert FieldExamples(SHAPES).of("Cat", "name", schema) == example


def test_long_values_are_no_examples() -> None:
    examples = FieldExamples({"It": {"properties": {"text": {"type": "string"}}}})
    examples.learn({"$ref": "#/components/schemas/It"}, {"text": "a" * LONGEST})
    assert examples.of("It", "text", {"type": "string"}) == ""
