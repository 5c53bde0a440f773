"""The description keeps what the last one (openapi/released.json) promised or says what it breaks; breaks are seen."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable
from typing import Any, Final

import pytest

from service import __version__
from tests.interface.contract.compatibility import MAY_GROW, breaks
from tests.support.paths import OPENAPI

CURRENT: Final[dict[str, Any]] = json.loads((OPENAPI / "openapi.json").read_bytes())
RELEASED: Final[dict[str, Any]] = json.loads((OPENAPI / "released.json").read_bytes())

SMALL: Final[dict[str, Any]] = {
    "security": [],
    "paths": {
        "/v1/thing": {
            "post": {
                "operationId": "computeThing",
                "parameters": [
                    {
                        "name": "as",
                        "in": "query",
                        "schema": {"type": "string", "enum": ["json", "svg"], "default": "json"},
                    },
                    {"name": "depth", "in": "query", "schema": {"type": "number", "minimum": 0, "maximum": 2}},
                ],
                "requestBody": {
                    "required": False,
                    "content": {
                        "application/json": {"schema": {"$ref": "#/components/schemas/Asked"}},
                        "text/csv": {"schema": {"type": "string", "maxLength": 100}},
                    },
                },
                "responses": {
                    "200": {
                        "headers": {"ETag": {"$ref": "#/components/headers/ETag"}},
                        "content": {
                            "application/json": {"schema": {"$ref": "#/components/schemas/Answered"}},
                            "image/svg+xml": {"schema": {"type": "string"}},
                        },
                    },
                    "422": {"content": {"application/problem+json": {"schema": {"type": "object"}}}},
                },
            },
        },
        "/v1/other": {"get": {"operationId": "getOther", "responses": {"200": {"content": {}}}}},
    },
    "components": {
        "headers": {"ETag": {"required": True, "schema": {"type": "string", "maxLength": 40}}},
        "schemas": {
            "Unit": {"type": "string", "enum": ["kg", "lb"]},
            "Id": {"type": "string", "enum": ["squat", "press"], MAY_GROW: True},
            "Set": {
                "type": "object",
                "properties": {"kind": {"type": "string", "const": "set"}},
                "required": ["kind"],
                "additionalProperties": False,
            },
            "Rest": {
                "type": "object",
                "properties": {"kind": {"type": "string", "const": "rest"}},
                "required": ["kind"],
                "additionalProperties": False,
            },
            "Part": {
                "oneOf": [{"$ref": "#/components/schemas/Set"}, {"$ref": "#/components/schemas/Rest"}],
                "discriminator": {
                    "propertyName": "kind",
                    "mapping": {"set": "#/components/schemas/Set", "rest": "#/components/schemas/Rest"},
                },
            },
            "Asked": {
                "type": "object",
                "properties": {
                    "load": {"type": "number", "minimum": 0, "maximum": 500},
                    "reps": {"type": "integer", "minimum": 1, "maximum": 30, "format": "int32"},
                    "unit": {"$ref": "#/components/schemas/Unit", "default": "kg"},
                    "label": {"type": "string", "minLength": 1, "maxLength": 60, "pattern": "^a"},
                    "ids": {
                        "type": "array",
                        "items": {"$ref": "#/components/schemas/Id"},
                        "minItems": 1,
                        "maxItems": 9,
                    },
                    "parts": {"type": "array", "items": {"$ref": "#/components/schemas/Part"}, "maxItems": 9},
                    "bar": {"anyOf": [{"type": "number"}, {"type": "null"}]},
                },
                "required": ["load"],
                "additionalProperties": False,
            },
            "Answered": {
                "type": "object",
                "properties": {
                    "value": {"type": "number"},
                    "unit": {"$ref": "#/components/schemas/Unit"},
                    "id": {"$ref": "#/components/schemas/Id"},
                    "count": {"type": "integer", "minimum": 0, "maximum": 10},
                    "text": {"type": "string", "maxLength": 100, "pattern": "^a"},
                    "parts": {"type": "array", "items": {"$ref": "#/components/schemas/Part"}},
                    "note": {"type": "string"},
                    "maybe": {"type": ["number", "null"]},
                    "by_name": {"type": "object", "additionalProperties": {"type": "number"}},
                },
                "required": ["value", "unit", "id", "count", "text", "parts"],
            },
        },
    },
}


def at(document: dict[str, Any], place: str) -> Any:  # noqa: ANN401 - any part
    """The part at a place: the keys on the way, "thing" for the operation, "asked" and "answered" for the fields."""
    short = {
        "thing": ("paths", "/v1/thing", "post"),
        "schemas": ("components", "schemas"),
        "asked": ("components", "schemas", "Asked", "properties"),
        "answered": ("components", "schemas", "Answered", "properties"),
    }
    found: Any = document
    for step in place.split():
        for key in short.get(step, (step,)):
            found = found[int(key)] if isinstance(found, list) else found[key]
    return found


Change = Callable[[dict[str, Any]], object]


def put(place: str, **values: object) -> Change:
    return lambda document: at(document, place).update(values)


def drop(place: str, key: str) -> Change:
    return lambda document: at(document, place).pop(int(key) if isinstance(at(document, place), list) else key)


def add(place: str, value: object) -> Change:
    return lambda document: at(document, place).append(value)


def take(place: str, value: object) -> Change:
    return lambda document: at(document, place).remove(value)


def both(*changes: Change) -> Change:
    def change(document: dict[str, Any]) -> None:
        for step in changes:
            step(document)

    return change


def no_part(kind: str) -> Change:
    def change(document: dict[str, Any]) -> None:
        part = at(document, "schemas Part")
        part["oneOf"].remove({"$ref": part["discriminator"]["mapping"].pop(kind)})

    return change


def new_part(document: dict[str, Any]) -> None:
    at(document, "schemas")["Walk"] = {"type": "object", "properties": {"kind": {"type": "string", "const": "walk"}}}
    part = at(document, "schemas Part")
    part["oneOf"].append({"$ref": "#/components/schemas/Walk"})
    part["discriminator"]["mapping"]["walk"] = "#/components/schemas/Walk"


def renamed(document: dict[str, Any]) -> None:
    text = json.dumps(document).replace("schemas/Unit", "schemas/MassUnit").replace('"Unit":', '"MassUnit":')
    document.clear()
    document.update(json.loads(text))


BREAKING: Final[dict[str, tuple[Change, str]]] = {
    "a path is gone": (drop("paths", "/v1/other"), "the operation is gone"),
    "a method is gone": (drop("paths /v1/thing", "post"), "the operation is gone"),
    "an operation has another id": (put("thing", operationId="x"), "its id was"),
    "a key is asked for": (put("thing", security=[{"key": []}]), "asks for a key"),
    "a parameter is gone": (drop("thing parameters", "1"), "the parameter is gone"),
    "a parameter is required": (put("thing parameters 1", required=True), "required now"),
    "a new parameter is required": (
        add("thing parameters", {"name": "n", "in": "query", "required": True, "schema": {}}),
        "required now",
    ),
    "a parameter has another default": (put("thing parameters 0 schema", default="svg"), "leaving it out"),
    "a parameter takes fewer values": (take("thing parameters 0 schema enum", "svg"), "svg is not taken"),
    "a parameter has narrower bounds": (put("thing parameters 1 schema", maximum=1), "maximum is narrower"),
    "a body is required": (put("thing requestBody", required=True), "the body is required"),
    "a body's media type is gone": (drop("thing requestBody content", "text/csv"), "the media type is gone"),
    "an answer's media type is gone": (drop("thing responses 200 content", "image/svg+xml"), "the media type is gone"),
    "a response is gone": (drop("thing responses", "422"), "the response is gone"),
    "a success of another status": (put("thing responses", **{"202": {}}), "success of another kind"),
    "a header is gone": (drop("thing responses 200 headers", "ETag"), "the header is gone"),
    "a header may be missing": (put("components headers ETag", required=False), "may be left out"),
    "a header is longer": (put("components headers ETag schema", maxLength=50), "maxLength is wider"),
    "a shape is renamed": (renamed, "name is gone"),
    "a field of a question is gone": (drop("asked", "label"), "the field is gone"),
    "a field of an answer is gone": (drop("answered", "note"), "the field is gone"),
    "a question's field is required": (add("schemas Asked required", "label"), "required now"),
    "a question's new field is required": (
        lambda d: (put("asked", new={"type": "number"})(d), add("schemas Asked required", "new")(d)),
        "required now",
    ),
    "an answer's field is optional": (take("schemas Answered required", "value"), "may be left out"),
    "a question's type": (put("asked load", type="string"), "number is not taken"),
    "an answer's type": (put("answered value", type="string"), "string can come"),
    "a question's number is whole": (put("asked load", type="integer"), "multipleOf"),
    "an answer's whole number is broken": (put("answered count", type="number"), "multipleOf"),
    "a question's null is refused": (take("asked bar anyOf", {"type": "null"}), "null is not taken"),
    "an answer's null": (put("answered value", type=["number", "null"]), "null can come"),
    "a unit is not taken": (take("schemas Unit enum", "lb"), "lb is not taken"),
    "a unit comes": (add("schemas Unit enum", "st"), "st can come"),
    "a unit is another": (put("schemas Unit", enum=["g", "lb"]), "kg is not taken"),
    "values are listed": (put("asked label", enum=["a"]), "only listed values"),
    "values are not listed": (drop("schemas Unit", "enum"), "values that are not listed"),
    "a default is another": (put("asked unit", default="lb"), "leaving it out"),
    "a default is gone": (drop("asked unit", "default"), "leaving it out"),
    "a default where there was none": (put("asked label", default="a"), "leaving it out"),
    "a lower bound is raised": (put("asked load", minimum=1), "minimum is narrower"),
    "an upper bound is lowered": (put("asked reps", maximum=20), "maximum is narrower"),
    "a bound where there was none": (put("asked bar anyOf 0", maximum=20), "maximum is narrower"),
    "a text must be longer": (put("asked label", minLength=2), "minLength is narrower"),
    "a text must be shorter": (put("asked label", maxLength=50), "maxLength is narrower"),
    "a text must look otherwise": (put("asked label", pattern="^b"), "pattern is not what it was"),
    "a list must be longer": (put("asked ids", minItems=2), "minItems is narrower"),
    "a list must be shorter": (put("asked ids", maxItems=8), "maxItems is narrower"),
    "a table must be shorter": (
        put("thing requestBody content text/csv schema", maxLength=99),
        "maxLength is narrower",
    ),
    "a multiple is asked for": (put("asked load", multipleOf=5), "multipleOf"),
    "an answer's bound is wider": (put("answered count", maximum=11), "maximum is wider"),
    "an answer's bound is gone": (drop("answered count", "maximum"), "maximum is wider"),
    "an answer's text looks otherwise": (drop("answered text", "pattern"), "pattern is not what it was"),
    "a map holds something else": (put("answered by_name additionalProperties", type="string"), "string can come"),
    "a question's alternative is gone": (no_part("rest"), "the shape rest is not taken"),
    "an answer's alternative is new": (new_part, "the shape walk can come"),
}
HARMLESS: Final[dict[str, Change]] = {
    "nothing": both(),
    "words": put("asked load", description="Other words."),
    "a new path": put("paths", **{"/v1/new": {"get": {"operationId": "getNew", "responses": {}}}}),
    "a new optional parameter": add("thing parameters", {"name": "n", "in": "query", "schema": {"type": "string"}}),
    "a new value of a parameter": add("thing parameters 0 schema enum", "csv"),
    "a new problem": put("thing responses", **{"429": {}}),
    "a new media type": put("thing responses 200 content", **{"text/csv": {"schema": {"type": "string"}}}),
    "a new header": put("thing responses 200 headers", New={"schema": {"type": "string"}}),
    "a new field of an answer": put("answered", new={"type": "number"}),
    "a new optional field of a question": put("asked", new={"type": "number", "default": 1}),
    "a question's field is optional": take("schemas Asked required", "load"),
    "an answer's field always comes": add("schemas Answered required", "note"),
    "a growing list grows": add("schemas Id enum", "pull"),
    "an answer's whole number": put("answered value", type="integer"),
    "a question's broken number": put("asked reps", type="number"),
    "a question may be null": put("asked load", type=["number", "null"]),
    "an answer is null no more": put("answered maybe", type="number"),
    "wider bounds": put("asked reps", minimum=0, maximum=2**40, format="int64"),
    "no bounds": both(
        drop("asked label", "minLength"), drop("asked label", "maxLength"), drop("asked label", "pattern")
    ),
    "longer lists": put("asked ids", maxItems=10),
    "an answer's narrower bounds": put("answered count", minimum=1, maximum=9),
    "an answer's shorter text": put("answered text", maxLength=9),
    "an open question": put("schemas Asked", additionalProperties=True),
    "keys for those who want": put("thing", security=[{}, {"key": []}]),
    "deprecated": put("thing", deprecated=True),
}


def changed(change: Change) -> dict[str, Any]:
    document = copy.deepcopy(SMALL)
    change(document)
    return document


def announced() -> set[str]:
    """Shapes and operations of which the changelog says, under the present version, that they break."""
    section = (OPENAPI / "CHANGELOG.md").read_text().split(f"## {__version__}\n")[1].split("\n## ")[0]
    lines = [line.partition(": ")[0] for line in section.splitlines() if line.startswith("- Breaks ")]
    return {name for names in lines for name in re.findall(r"`([^`]+)`", names)}


def test_what_breaks_is_announced() -> None:
    """Not so: undo it, offer another name beside the old, or, before 1.0.0, announce it: "- Breaks `NAME`: …"."""
    assert {found.subject for found in breaks(RELEASED, CURRENT)} == announced()


def test_only_a_version_that_may_break_does() -> None:
    """Before 1.0.0 the middle number says so; from then on there is no breaking change within /v1."""
    before, now = (tuple(map(int, one["info"]["version"].split("."))) for one in (RELEASED, CURRENT))
    assert not breaks(RELEASED, CURRENT) or (now[0] == 0 and now[1] > before[1])


def test_what_differs_from_the_release_has_another_version() -> None:
    assert CURRENT["info"]["version"] == __version__
    if CURRENT != RELEASED:
        assert CURRENT["info"]["version"] != RELEASED["info"]["version"], "raise the version in service/__init__.py"


@pytest.mark.parametrize("case", BREAKING)
def test_a_break_is_seen(case: str) -> None:
    change, words = BREAKING[case]
    assert any(words in found.what for found in breaks(SMALL, changed(change))), breaks(SMALL, changed(change))


@pytest.mark.parametrize("case", HARMLESS)
def test_what_is_harmless_passes(case: str) -> None:
    assert breaks(SMALL, changed(HARMLESS[case])) == []


def test_a_question_that_closes_is_seen() -> None:
    opened = changed(drop("schemas Asked", "additionalProperties"))
    assert "unknown fields are refused now" in {found.what for found in breaks(opened, SMALL)}
    assert breaks(SMALL, opened) == []


def test_a_shape_of_its_own_does_not_go_round_for_ever() -> None:
    document = copy.deepcopy(SMALL)
    at(document, "answered")["again"] = {"$ref": "#/components/schemas/Answered"}
    assert breaks(document, document) == []


@pytest.mark.parametrize("path", CURRENT["paths"])
def test_an_operation_taken_from_the_description_is_missed(path: str) -> None:
    document = {**CURRENT, "paths": {key: value for key, value in CURRENT["paths"].items() if key != path}}
    assert {found.place for found in breaks(CURRENT, document)} >= {
        f"{method.upper()} {path}" for method in CURRENT["paths"][path]
    }


@pytest.mark.parametrize(
    "name", [name for name, found in CURRENT["components"]["schemas"].items() if found.get("properties")]
)
def test_a_field_taken_from_the_description_is_missed(name: str) -> None:
    """Every shape of the description is reached by the comparison."""
    schemas = CURRENT["components"]["schemas"]
    field = next(iter(schemas[name]["properties"]))
    less = {key: value for key, value in schemas[name]["properties"].items() if key != field}
    document = {
        **CURRENT,
        "components": {**CURRENT["components"], "schemas": {**schemas, name: schemas[name] | {"properties": less}}},
    }
    assert f"{name}/{field}" in {found.place for found in breaks(CURRENT, document)}
