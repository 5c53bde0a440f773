"""An example value for each field of the description, found in the examples of the operations."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain
from typing import Any, Final

from service.api.docs.schema_words import Schema, referred, written

LONGEST: Final = 160
"""Characters of an example beside a field; a longer one is an object or a list, whose own fields have theirs."""
_OF_TYPE: Final[Mapping[str, type | tuple[type, ...]]] = {
    "object": dict,
    "array": list,
    "string": str,
    "integer": int,
    "number": (int, float),
    "boolean": bool,
    "null": type(None),
}


class FieldExamples:
    """Collects the first example of each field.

    Args:
        shapes: schemas by name
    """

    def __init__(self, shapes: Mapping[str, Schema]) -> None:
        self._shapes = shapes
        self._seen: dict[tuple[str, str], str] = {}
        self._of_name: dict[str, list[Any]] = {}

    def learn(self, schema: Schema, value: Any, name: str = "") -> None:
        """Take the fields of a value that a schema describes; name: of the schema, where it is a shape's own."""
        for shape, field, one in self._walked(schema, value, name):
            if one is not None and len(text := written(one)) <= LONGEST:
                self._seen.setdefault((shape, field), text)
                self._of_name.setdefault(field, []).append(one)

    def of(self, shape: str, field: str, schema: Schema) -> str:
        """The example of a field: else what a field of the same name and type has, else one that its schema states.

        Empty where there is none.
        """
        if text := self._seen.get((shape, field)):
            return text
        named = (one for one in self._of_name.get(field, ()) if self._fits(schema, one))
        alike = next(chain(named, self._stated(schema)), None)
        return "" if alike is None else written(alike)

    def _stated(self, schema: Schema) -> Iterator[Any]:
        """The values that a schema names or allows, those first that say most."""
        if name := referred(schema):
            yield from self._stated(self._shapes[name])
        yield from schema.get("examples", ())
        yield from schema.get("enum", ())
        if "const" in schema:
            yield schema["const"]
        if schema.get("default") is not None:
            yield schema["default"]
        if schema.get("type") == "boolean":
            yield True
        if "minimum" in schema and "maximum" in schema:
            yield (schema["minimum"] + schema["maximum"]) // 2
        if "items" in schema:
            yield from ([one] for one in self._stated(schema["items"]))
        for one in schema.get("anyOf", ()):
            yield from self._stated(one)

    def _walked(self, schema: Schema, value: Any, owner: str) -> Iterator[tuple[str, str, Any]]:
        if name := referred(schema):
            yield from self._walked(self._shapes[name], value, name)
        elif choices := schema.get("anyOf") or schema.get("oneOf"):
            yield from self._walked(next((one for one in choices if self._fits(one, value)), {}), value, owner)
        elif isinstance(value, list):
            for entry in value:
                yield from self._walked(schema.get("items", {}), entry, owner)
        elif isinstance(value, dict):
            fields = schema.get("properties", {})
            for field, one in value.items():
                if field in fields:
                    yield owner, field, one
                    yield from self._walked(fields[field], one, owner)
                elif isinstance(schema.get("additionalProperties"), dict):
                    yield from self._walked(schema["additionalProperties"], one, owner)

    def _fits(self, schema: Schema, value: Any) -> bool:
        """Whether a value is of a schema, as far as tells the branches of a union apart."""
        if name := referred(schema):
            return self._fits(self._shapes[name], value)
        if choices := schema.get("anyOf") or schema.get("oneOf"):
            return any(self._fits(one, value) for one in choices)
        if "const" in schema or "enum" in schema:
            return value in schema.get("enum", [schema.get("const")])
        return isinstance(value, _OF_TYPE.get(schema.get("type", ""), object)) and self._inside(schema, value)

    def _inside(self, schema: Schema, value: Any) -> bool:
        """Whether a value of the right type is inside of its bounds, and what is in it fits."""
        if isinstance(value, dict) and "properties" in schema:
            fields = schema["properties"]
            return set(schema.get("required", ())) <= set(value) <= set(fields) and all(
                self._fits(fields[field], one) for field, one in value.items() if "const" in fields[field]
            )
        if isinstance(value, list):
            return all(self._fits(schema.get("items", {}), one) for one in value)
        if isinstance(value, int | float):
            return bool(schema.get("minimum", value) <= value <= schema.get("maximum", value))
        return True
