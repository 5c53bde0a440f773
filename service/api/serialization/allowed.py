"""What a JSON Schema accepts, in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

SHORT: Final = 4
"""Most values of a list that is written out beside others [count]."""


def allowed_single(schema: dict[str, Any]) -> str | None:
    """What is accepted by the schema of a single value or a list; None where no words say it."""
    if "enum" in schema:
        return "one of: " + ", ".join(str(value) for value in schema["enum"])
    kind = schema.get("type")
    if kind in ("integer", "number"):
        return _number(schema)
    if kind == "array":
        least, most = schema.get("minItems", 0), schema.get("maxItems")
        return "a list" if most is None else f"a list of {least} to {most} items"
    if kind == "string":
        return _text(schema)
    return "true or false" if kind == "boolean" else None


def allowed_object(required: Mapping[str, dict[str, Any]]) -> str:
    """An object by the fields that it has to have, by name with their schemas."""
    *others, last = (_field(name, schema) for name, schema in required.items()) if required else ("",)
    listed = f"{', '.join(others)} and {last}" if others else last
    return f"an object with {listed}" if listed else "an object"


def _field(name: str, schema: dict[str, Any]) -> str:
    """A field, with what it accepts where that is short."""
    single = schema.get("type") not in ("object", "array") and len(schema.get("enum", ())) <= SHORT
    allowed = allowed_single(schema) if single else None
    return f"{name} ({allowed})" if allowed else name


def _text(schema: dict[str, Any]) -> str:
    """A text by its length and an example, which say more to most than a pattern."""
    least, most = schema.get("minLength", 0), schema.get("maxLength")
    length = "" if most is None else f" of {least} to {most} characters" if least else f" of up to {most} characters"
    example = next(iter(schema.get("examples", ())), None)
    return f"a text{length}{'' if example is None else f', such as {example}'}"


def _number(schema: dict[str, Any]) -> str:
    whole = schema["type"] == "integer"
    if "minimum" not in schema or "maximum" not in schema:
        return "a whole number" if whole else "a number"
    return f"{'a whole number ' if whole else ''}{schema['minimum']:g} to {schema['maximum']:g}"
