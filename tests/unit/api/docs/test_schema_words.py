"""Schemas in words: types in parts, bounds and units."""

from __future__ import annotations

from typing import Any, Final

import pytest

from service.api.docs.schema_words import Part, SchemaWords

SHAPES: Final[dict[str, Any]] = {
    "Mass": {"properties": {"value": {"type": "number"}, "unit": {"$ref": "#/components/schemas/MassUnit"}}},
    "MassUnit": {"enum": ["kg", "lb"]},
    "Message": {"properties": {"code": {"type": "string"}}},
}
MASS: Final = {"$ref": "#/components/schemas/Mass"}
SAY: Final = SchemaWords(SHAPES)


@pytest.mark.parametrize(
    ("schema", "type_", "bounds", "unit"),
    [
        ({"type": "integer", "minimum": 1, "maximum": 50}, "whole number", "1 to 50", ""),
        ({"type": "number", "minimum": 0}, "number", "0 or more", ""),
        ({"type": "boolean"}, "true or false", "", ""),
        ({"type": "string", "minLength": 1, "maxLength": 60}, "text", "1 to 60 characters", ""),
        ({"type": "string", "maxLength": 9, "pattern": "^a$"}, "text", "up to 9 characters; as `^a$`", ""),
        ({"type": "string", "pattern": "a" * 60}, "text", "", ""),
        ({"const": "full"}, '"full"', "", ""),
        (MASS, "Mass", "", "kg or lb"),
        ({"anyOf": [MASS, {"type": "null"}]}, "Mass or null", "", "kg or lb"),
        (
            {"type": "array", "items": MASS, "minItems": 1, "maxItems": 12},
            "list of Mass",
            "1 to 12 entries",
            "kg or lb",
        ),
        (
            {"type": "array", "items": {"type": "integer", "minimum": 0, "maximum": 39}, "maxItems": 40},
            "list of whole number",
            "up to 40 entries; 0 to 39",
            "",
        ),
        ({"type": "object", "additionalProperties": {"type": "number"}}, "by name: number", "", ""),
        ({"type": "object"}, "object", "", ""),
        ({}, "any value", "", ""),
    ],
)
def test_words(schema: dict[str, Any], type_: str, bounds: str, unit: str) -> None:
    assert "".join(part.text for part in SAY.type_of(schema)) == type_
    assert SAY.bounds_of(schema) == bounds
    assert SAY.units_of(schema) == unit


def test_parts_that_are_shapes_say_which() -> None:
    schema = {"type": "array", "items": {"$ref": "#/components/schemas/Message"}}
    assert SAY.type_of(schema) == [Part("list of "), Part("Message", "Message")]
    assert SAY.shapes_in({"anyOf": [MASS, schema]}) == ["Mass", "Message"]
