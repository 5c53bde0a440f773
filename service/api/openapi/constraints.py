"""Limits in the description: of what only answers hold, and of bodies and headers, so that clients know what to expect.

Texts and numbers of answers have none: generators wrap a text with a pattern or a number with bounds in a type of its own.
"""

from __future__ import annotations

from typing import Any, Final

Schema = dict[str, Any]

NOT_BLANK: Final = r"\S"
LONGEST_ADDRESS: Final = 2048  # so no parameter is longer
MOST_ITEMS: Final = 10_000  # of a list in an answer: more than a batch takes
EXACT: Final = 2**53 - 1  # whole numbers that every reader of JSON keeps
SHORT: Final = 2**31 - 1
INSIDE: Final = ("items", "anyOf", "oneOf", "allOf", "prefixItems", "additionalProperties")


def header(described: dict[str, Any]) -> dict[str, Any]:
    """A header whose text is not blank."""
    schema = described["schema"]
    return described | {"schema": sized(schema) if schema["type"] == "integer" else {"pattern": NOT_BLANK} | schema}


def limited(schema: Any) -> Any:
    """A schema of answers with the limits that hold for all of them; what an answer leaves out is said in words, and no default."""
    if isinstance(schema, list):
        return [limited(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    limits = {key: limited(value) if key in INSIDE else value for key, value in schema.items() if key != "default"}
    if "properties" in schema:
        limits["properties"] = {name: limited(value) for name, value in schema["properties"].items()}
    if limits.get("type") == "array":
        limits.setdefault("maxItems", MOST_ITEMS)
    return limits


def sized(schema: Any) -> Any:
    """A schema whose numbers say how many bits they take."""
    if isinstance(schema, list):
        return [sized(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    numbers = {key: sized(value) if key in INSIDE else value for key, value in schema.items()}
    if "properties" in schema:
        numbers["properties"] = {name: sized(value) for name, value in schema["properties"].items()}
    if numbers.get("type") == "number":
        numbers["format"] = "double"
    if numbers.get("type") == "integer":
        small = numbers.get("minimum", -EXACT) >= -SHORT and numbers.get("maximum", EXACT) <= SHORT
        numbers["format"] = "int32" if small else "int64"
    return numbers
