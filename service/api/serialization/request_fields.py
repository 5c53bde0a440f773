"""The fields of a request by where they stand: what each is, whether it may be left out, and a value that it takes.

A value is taken from the questions that are the operation's examples; where these have none it is made of the schema.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from itertools import takewhile
from typing import Any, Final, TypeAlias

import msgspec

from service.api.serialization.allowed import allowed_object, allowed_single
from service.api.serialization.json_pointer import pointer
from service.api.serialization.suggestions import MOST, near

Schema: TypeAlias = dict[str, Any]
Steps: TypeAlias = tuple[str | int, ...]
LONGEST_EXAMPLE: Final = 300  # bytes; of a longer list its beginning is shown, of a longer object what is required
USUAL_NUMBER: Final = 1
NULL: Final = {"type": "null"}


class RequestField(msgspec.Struct, frozen=True):
    """One field of a request.

    Attributes:
        schema: of its values, without references and without null
        description: what it is; of an item that is not described by itself, what the list is
        required: whether it is always there
        nullable: whether it may be null
        allowed: what it accepts, in words; None where no words say it
        example: JSON of a value that it takes, None where none is short
    """

    schema: Schema
    description: str
    required: bool
    nullable: bool
    allowed: str | None
    example: bytes | None


class RequestFields:
    """The fields of one request shape."""

    def __init__(self, document: Schema, examples: Sequence[Any]) -> None:
        """document: a JSON Schema with its components; examples: JSON values that fit it."""
        self._document = document
        self._examples = examples
        self._seen: dict[Steps, RequestField] = {}

    def at(self, steps: Iterable[str | int]) -> RequestField:
        """The field to which these steps lead. Raises KeyError where none is there."""
        path = tuple(0 if isinstance(step, int) else step for step in steps)
        if path not in self._seen:
            self._seen[path] = self._read(path)
        return self._seen[path]

    def elsewhere(self, name: str, where: Steps) -> tuple[Steps, ...]:
        """Where fields of a name are, or of one that is near to it, the nearest first.

        where: the steps to the object that had the name, whose own entries of lists are meant, else the first ones
        """
        known = self._by_name
        names = [name] if name in known else near(name, known)
        paths = {each for one in names for each in known[one]}
        nearest = sorted(paths, key=lambda each: (-_shared(each, where), len(pointer(each)), pointer(each)))
        return tuple((*where[: _shared(each, where)], *each[_shared(each, where) :]) for each in nearest[:MOST])

    def missing_alike(self, name: str, where: Steps, missing: Iterable[str]) -> tuple[str, ...]:
        """Of the fields that an object needs and lacks, those that hold what fields of a name hold elsewhere, an object.

        where: the steps to the object
        """
        shapes = [self.at(path).schema for path in self._by_name.get(name, ())]
        needed = {each: self.at((*where, each)).schema for each in missing}
        return tuple(each for each, shape in needed.items() if "properties" in shape and shape in shapes)

    def resolved(self, schema: Schema) -> Schema:
        """A schema without reference, and without null where something else is taken; what stands beside it is kept."""
        kinds = [kind for kind in schema.get("anyOf", ()) if kind != NULL]
        inner = kinds[0] if len(kinds) == 1 else schema
        if "$ref" not in inner:
            return schema | inner if inner is not schema else schema
        target: Any = self._document
        for step in inner["$ref"].split("/")[1:]:
            target = target[step]
        return self.resolved(target)

    def _allowed(self, schema: Schema) -> str | None:
        inside = self.resolved(schema)
        if "anyOf" in inside:
            return ", or ".join(filter(None, map(self._allowed, inside["anyOf"])))
        if inside.get("type") == "object":
            fields = inside.get("properties", {})
            return allowed_object({name: self.resolved(fields[name]) for name in inside.get("required", ())})
        return allowed_single(inside)

    def _read(self, path: Steps) -> RequestField:
        schema, required = self._document, True
        of_list = ""
        for step in path:
            inside = self.resolved(schema)
            kinds = [self.resolved(kind) for kind in inside.get("anyOf", (inside,))]
            if isinstance(step, int):
                of_list = schema.get("description", "")
                schema, required = next(kind["items"] for kind in kinds if "items" in kind), True
            else:
                parent = next(kind for kind in kinds if step in kind.get("properties", ()))
                schema, required, of_list = parent["properties"][step], step in parent.get("required", ()), ""
        nullable = NULL in schema.get("anyOf", ())
        resolved = self.resolved(schema)
        description = schema.get("description") or resolved.get("description") or of_list
        example = self._example(path, schema)
        return RequestField(resolved, description, required, nullable, self._allowed(schema), example)

    def _example(self, path: Steps, schema: Schema) -> bytes | None:
        if not path and self._examples:  # the plain one; the shortest may be one that stops the training
            return msgspec.json.encode(self._examples[0])
        values = list(_values(self._examples, path))
        least = max(1, self.resolved(schema).get("minItems", 1))
        begun = [value[:least] for value in values if isinstance(value, list)]
        texts = [*_shortest_first(values), *_shortest_first(begun), msgspec.json.encode(self._made(schema))]
        return next((text for text in texts if len(text) <= LONGEST_EXAMPLE), None)

    def _made(self, schema: Schema) -> Any:
        """The least that a schema takes."""
        inside = self.resolved(schema)
        if stated := inside.get("examples") or inside.get("enum"):
            return stated[0]
        if "anyOf" in inside:
            return self._made(next(kind for kind in inside["anyOf"] if kind != NULL))
        match inside.get("type"):
            case "object":
                return {name: self._made(inside["properties"][name]) for name in inside.get("required", ())}
            case "array":
                return [self._made(inside["items"])] * max(1, inside.get("minItems", 1))
            case "integer" | "number":
                return min(max(USUAL_NUMBER, inside.get("minimum", 0)), inside.get("maximum", USUAL_NUMBER))
            case "boolean":
                return True
        raise TypeError(f"no example follows from {inside}")

    @cached_property
    def _by_name(self) -> dict[str, list[Steps]]:
        """The steps to fields, by their names."""
        paths: dict[str, list[Steps]] = {}
        for path in self._paths(self._document, ()):
            paths.setdefault(str(path[-1]), []).append(path)
        return paths

    def _paths(self, schema: Schema, path: Steps) -> Iterator[Steps]:
        inside = self.resolved(schema)
        for name, field in inside.get("properties", {}).items():
            yield (*path, name)
            yield from self._paths(field, (*path, name))
        if "items" in inside:
            yield from self._paths(inside["items"], (*path, 0))
        for kind in inside.get("anyOf", ()):
            yield from self._paths(kind, path)


def _values(values: Iterable[Any], path: Steps) -> Iterator[Any]:
    """What stands at a path in each of the values that have it, of lists in every item; not what is null."""
    if not path:
        yield from (value for value in values if value is not None)
        return
    first, *rest = path
    if isinstance(first, int):
        inner = (item for value in values if isinstance(value, list) for item in value)
    else:
        inner = (value[first] for value in values if isinstance(value, dict) and first in value)
    yield from _values(inner, tuple(rest))


def _shortest_first(values: Iterable[Any]) -> list[bytes]:
    return sorted(map(msgspec.json.encode, values), key=len)


def _shared(one: Steps, other: Steps) -> int:
    """How many steps two ways begin with alike, whichever entry of a list they take [count]."""
    return sum(1 for _ in takewhile(_is_alike, zip(one, other, strict=False)))


def _is_alike(steps: tuple[str | int, str | int]) -> bool:
    first, second = steps
    return first == second or (isinstance(first, int) and isinstance(second, int))
