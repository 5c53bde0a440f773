"""The description as what the page shows of it: operations, shapes with a row for each field, lists of values, headers."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from functools import partial
from typing import Any, Final

import msgspec

from service.api.docs.field_examples import FieldExamples
from service.api.docs.schema_words import Part, Schema, SchemaWords, referred, written
from service.http.problems import KINDS

PROBLEM: Final = "Problem"
MOST_USES: Final = 6
"""Fields named as those in which a shape stands."""


class Field(msgspec.Struct, frozen=True, kw_only=True):
    """A row: a field of a shape, a parameter or a header field.

    Attributes:
        anchor: its id on the page
        name: as it is written
        words: what it is
        type: in parts, some of which lead to shapes
        bounds: of its value, in words
        unit: of a quantity, those that it may have
        example: a value as it is written; empty where there is none
        default: what stands for it where it is left out; empty where there is nothing
        required: whether it has to be there
        deprecated: whether it goes with a release to come
        header: whether it is a header field of a request
    """

    anchor: str
    name: str
    words: str
    type: list[Part]
    bounds: str
    unit: str
    example: str
    default: str
    required: bool
    deprecated: bool
    header: bool = False


class Shape(msgspec.Struct, frozen=True):
    """An object, a map or a union; uses: names and anchors of the fields in which it stands, further: how many more."""

    name: str
    words: str
    type: list[Part]
    fields: list[Field]
    uses: list[tuple[str, str]]
    further: int


class ValueList(msgspec.Struct, frozen=True):
    """A closed list of values with a sentence for each, empty where these stand elsewhere."""

    name: str
    words: str
    may_grow: bool
    values: list[tuple[str, str]]


class Answer(msgspec.Struct, frozen=True):
    """What is answered with a status: its forms by media type, its header fields, and the problems that it may be."""

    status: str
    words: str
    forms: list[tuple[str, list[Part]]]
    headers: list[str]
    problems: list[str]


class Way(msgspec.Struct, frozen=True):
    """One method of a path; shared: names of parameters that stand once for several operations."""

    operation_id: str
    method: str
    path: str
    summary: str
    words: str
    parameters: list[Field]
    shared: list[str]
    question: list[tuple[str, list[Part]]]
    answers: list[Answer]


class Reference:
    """What the page shows of a description."""

    def __init__(self, described: Mapping[str, Any], entries: Iterable[tuple[str, Any]] = ()) -> None:
        """Read a description; entries: further values by the names of their shapes, which have examples for fields."""
        self._described = described
        self._components: Mapping[str, Any] = described["components"]
        self._schemas: Mapping[str, Schema] = self._components["schemas"]
        self._say = SchemaWords(self._schemas)
        self._examples = FieldExamples(self._schemas)
        self._learn(entries)
        self._uses = self._used()

    # --- shapes ------------------------------------------------------------------------------------------------------
    def shapes(self) -> dict[str, Shape]:
        """Every shape by name."""
        return {name: self._shape(name, schema) for name, schema in self._schemas.items() if "enum" not in schema}

    def value_lists(self) -> list[ValueList]:
        """Every closed list of values by name."""
        return [_value_list(name, schema) for name, schema in self._schemas.items() if "enum" in schema]

    def _shape(self, name: str, schema: Schema) -> Shape:
        fields = [
            self._field(
                f"{name}.{field}",
                field,
                one,
                required=field in schema.get("required", ()),
                example=self._examples.of(name, field, one),
            )
            for field, one in schema.get("properties", {}).items()
        ]
        uses = self._uses[name]
        shown = [] if fields else self._say.type_of(schema)
        return Shape(name, schema["description"], shown, fields, uses[:MOST_USES], len(uses[MOST_USES:]))

    def _field(self, anchor: str, name: str, schema: Schema, *, required: bool, example: str) -> Field:
        return Field(
            anchor=anchor,
            name=name,
            words=schema.get("description", ""),
            type=self._say.type_of(schema),
            bounds=self._say.bounds_of(schema),
            unit=self._say.units_of(schema),
            example=example,
            default="" if schema.get("default") is None else written(schema["default"]),
            required=required,
            deprecated=schema.get("deprecated", False),
        )

    def _used(self) -> defaultdict[str, list[tuple[str, str]]]:
        uses = defaultdict(list)
        for owner, schema in self._schemas.items():
            for field, one in schema.get("properties", {}).items():
                for name in self._say.shapes_in(one):
                    uses[name].append((f"{owner}.{field}", f"{owner}.{field}"))
        return uses

    # --- operations --------------------------------------------------------------------------------------------------
    def ways(self, path: str) -> list[Way]:
        """The methods of a path, that with a body first."""
        methods = self._described["paths"][path]
        return [self._way(method.upper(), path, methods[method]) for method in sorted(methods, reverse=True)]

    def own_shapes(self, ways: Iterable[Way]) -> list[str]:
        """The shapes that are whole questions and answers of a path, and stand with it."""
        answers = (answer for way in ways for answer in way.answers if answer.status == "200")
        parts = [part for way in ways for forms in (way.question, *(one.forms for one in answers)) for _, part in forms]
        names = dict.fromkeys(one.shape for part in parts for one in part if one.shape)
        return [name for name in names if "enum" not in self._schemas[name]]

    def shared_parameters(self) -> list[Field]:
        """The parameters that several operations have alike."""
        named = self._components["parameters"]
        return [self._parameter(f"parameter-{name}", parameter) for name, parameter in named.items()]

    def headers(self) -> list[Field]:
        """The header fields of answers."""
        return [
            self._field(
                f"header-{name}",
                name,
                header["schema"] | {"description": header["description"]},
                required=False,
                example="",
            )
            for name, header in self._components["headers"].items()
        ]

    def choices(self, way: Mapping[str, Any]) -> dict[str, list[str]]:
        """The parameters in the address of a way that have a closed list of values, with these.

        The first value is empty where a parameter may be left out.
        """
        found = {}
        for parameter in map(partial(self._target, "parameters"), way.get("parameters", ())):
            schema = self._target("schemas", parameter["schema"])
            values = schema.get("enum") or ([schema["const"]] if "const" in schema else [])
            if values:
                found[parameter["name"]] = [*([] if parameter["required"] else [""]), *values]
        return found

    def question_examples(self, way: Mapping[str, Any]) -> Iterator[tuple[str, str, Any]]:
        """The media type of each example of a question, its words, and the question."""
        for media_type, form in way.get("requestBody", {}).get("content", {}).items():
            for one in self._shown(form):
                yield media_type, one["summary"], one["value"]

    def answer_examples(self, way: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
        """The media type and the first example of each form of an answer that has any."""
        for media_type, form in way["responses"]["200"].get("content", {}).items():
            for one in self._shown(form)[:1]:
                yield media_type, one["value"]

    def _way(self, method: str, path: str, described: Mapping[str, Any]) -> Way:
        parameters = described.get("parameters", [])
        content = described.get("requestBody", {}).get("content", {})
        operation_id = described["operationId"]
        return Way(
            operation_id=operation_id,
            method=method,
            path=path,
            summary=described["summary"],
            words=described["description"],
            parameters=[
                self._parameter(f"{operation_id}.{one['name']}", one) for one in parameters if not referred(one)
            ],
            shared=[referred(one) for one in parameters if referred(one)],
            question=self._forms(content),
            answers=[self._answer(status, one) for status, one in described["responses"].items()],
        )

    def _parameter(self, anchor: str, parameter: Mapping[str, Any]) -> Field:
        schema = parameter["schema"]
        stated = parameter.get("example") or next(iter(schema.get("examples", ())), None)
        example = self._examples.of("", "", schema) if stated is None else str(stated)
        field = self._field(
            anchor,
            parameter["name"],
            schema | {"description": parameter["description"]},
            required=parameter["required"],
            example=example,
        )
        return msgspec.structs.replace(field, header=parameter["in"] == "header")

    def _answer(self, status: str, answer: Mapping[str, Any]) -> Answer:
        found = self._target("responses", answer)
        content = found.get("content", {})
        kinds = dict.fromkeys(kind for form in content.values() for kind in form.get("examples", {}) if kind in KINDS)
        return Answer(status, found["description"], self._forms(content), list(found.get("headers", {})), list(kinds))

    def _forms(self, content: Mapping[str, Any]) -> list[tuple[str, list[Part]]]:
        return [(media_type, self._say.type_of(form["schema"])) for media_type, form in content.items()]

    def _target(self, kind: str, part: Mapping[str, Any]) -> Mapping[str, Any]:
        """What a reference leads to among the components of a kind, or the part itself if it is none."""
        found: Mapping[str, Any] = self._components[kind][referred(part)] if referred(part) else part
        return found

    def _shown(self, form: Mapping[str, Any]) -> list[Mapping[str, Any]]:
        return [self._target("examples", one) for one in form.get("examples", {}).values()]

    def _learn(self, entries: Iterable[tuple[str, Any]]) -> None:
        """Take an example for each field from the examples of every operation, then from the entries."""
        for methods in self._described["paths"].values():
            for operation in methods.values():
                answers = [self._target("responses", one) for one in operation["responses"].values()]
                for part in (operation.get("requestBody", {}), *answers):
                    for form in part.get("content", {}).values():
                        for one in self._shown(form):
                            self._examples.learn(form["schema"], one["value"])
        for name, entry in entries:
            self._examples.learn(self._schemas[name], entry, name)


def key(path: str) -> str:
    """The id of a path on the page."""
    return re.sub(r"[^a-z0-9]+", "-", path.removeprefix("/v1").lower()).strip("-")


def _value_list(name: str, schema: Schema) -> ValueList:
    words = schema.get("x-enum-descriptions") or [""] * len(schema["enum"])
    about, _, _ = schema["description"].partition("\n\n")
    return ValueList(name, about, schema.get("x-may-grow", False), list(zip(schema["enum"], words, strict=True)))
