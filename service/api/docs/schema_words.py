"""A JSON Schema of the description in words: the type with links to shapes, what bounds it, and its unit."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any, Final

import msgspec

Schema = Mapping[str, Any]
LONGEST_PATTERN: Final = 60
"""Characters of a pattern that a reader takes in; longer ones are said in words."""
_TYPES: Final = {
    "string": "text",
    "number": "number",
    "integer": "whole number",
    "boolean": "true or false",
    "object": "object",
    "null": "null",
}
_COUNTED: Final = (("Length", "characters"), ("Items", "entries"))


class Part(msgspec.Struct, frozen=True):
    """A part of a type: its words, and the shape that they are the name of, if any."""

    text: str
    shape: str = ""


class SchemaWords:
    """Says schemas in words; shapes: all that a reference may lead to, by name."""

    def __init__(self, shapes: Mapping[str, Schema]) -> None:
        self._shapes = shapes

    def type_of(self, schema: Schema) -> list[Part]:
        """The type, in parts that are read one after the other."""
        return list(self._parts(schema))

    def _parts(self, schema: Schema) -> Iterator[Part]:
        mapped = schema.get("additionalProperties")
        if name := referred(schema):
            yield Part(name, name)
        elif "const" in schema:
            yield Part(written(schema["const"]))
        elif choices := _choices(schema):
            for number, one in enumerate(choices):
                yield from [Part(" or ")] if number else []
                yield from self._parts(one)
        elif "items" in schema:
            yield Part("list of ")
            yield from self._parts(schema["items"])
        elif isinstance(mapped, dict):
            yield Part("by name: ")
            yield from self._parts(mapped)
        else:
            yield Part(_TYPES.get(schema.get("type", ""), "any value"))

    def bounds_of(self, schema: Schema) -> str:
        """What bounds it, of a list its number of entries and what bounds each; empty where nothing does."""
        return "; ".join(dict.fromkeys(_bounds(schema)))

    def units_of(self, schema: Schema) -> str:
        """The units of a quantity, or of each in a list; empty where it is none."""
        for one in _alternatives(schema):
            shape = self._shapes.get(referred(one), {})
            fields = shape.get("properties", {})
            if {"value", "unit"} <= set(fields):
                return " or ".join(self._shapes.get(referred(fields["unit"]), {}).get("enum", ()))
        return ""

    def shapes_in(self, schema: Schema) -> list[str]:
        """The names of the shapes that its type names."""
        return [part.shape for part in self.type_of(schema) if part.shape]


def referred(schema: Schema) -> str:
    """The name that a reference leads to; empty for what is none."""
    return str(schema.get("$ref", "")).rpartition("/")[2]


def written(value: Any) -> str:
    """A value as JSON on one line."""
    return json.dumps(value, ensure_ascii=False)


def _choices(schema: Schema) -> list[Schema]:
    return list(schema.get("anyOf") or schema.get("oneOf") or ())


def _alternatives(schema: Schema) -> Iterator[Schema]:
    """The schemas of single values: of a union each of its own, of a list those of its entries."""
    if "items" in schema:
        yield from _alternatives(schema["items"])
    elif choices := _choices(schema):
        for choice in choices:
            yield from _alternatives(choice)
    else:
        yield schema


def _bounds(schema: Schema) -> Iterator[str]:
    for end, counted in _COUNTED:
        if span := _span(schema.get(f"min{end}"), schema.get(f"max{end}")):
            yield f"{span} {counted}"
    if span := _span(schema.get("minimum"), schema.get("maximum")):
        yield span
    if len(schema.get("pattern", "")) in range(1, LONGEST_PATTERN):
        yield f"as `{schema['pattern']}`"
    for one in (*_choices(schema), *([schema["items"]] if "items" in schema else ())):
        yield from _bounds(one)


def _span(low: float | None, high: float | None) -> str:
    if low is None and high is None:
        return ""
    if high is None:
        return f"{low:,} or more"
    return f"up to {high:,}" if low is None else f"{low:,} to {high:,}"
