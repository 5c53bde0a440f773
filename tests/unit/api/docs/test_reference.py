"""The reference: everything that the description says of a field, a value, a parameter and a header stands in a row."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any, Final

import pytest

from service.api.docs.contents import Section, contents
from service.api.docs.page import page
from service.api.docs.reference import Field, Reference, Shape, key
from tests.support.paths import DESCRIPTION

DESCRIBED: Final[dict[str, Any]] = json.loads(DESCRIPTION.read_bytes())
SCHEMAS: Final[dict[str, Any]] = DESCRIBED["components"]["schemas"]
SHAPES: Final = {shape.name: shape for shape in contents().all_shapes()}
ROWS: Final = {row.anchor: row for shape in SHAPES.values() for row in shape.fields}
LONG_TEXTS: Final = 30
"""Fields whose every known value is longer than a reader would read beside them, or absent."""


def properties() -> Iterator[tuple[str, str, dict[str, Any], bool]]:
    for name, schema in SCHEMAS.items():
        for field, one in schema.get("properties", {}).items():
            yield name, field, one, field in schema.get("required", ())


def test_every_property_has_a_row_with_its_sentence_and_mark() -> None:
    described = {f"{name}.{field}": (one["description"], required) for name, field, one, required in properties()}
    assert len(described) > 1_000
    assert {anchor: (row.words, row.required) for anchor, row in ROWS.items()} == described


def test_every_bound_default_and_constant_is_said() -> None:
    for name, field, one, _ in properties():
        row = ROWS[f"{name}.{field}"]
        typed = "".join(part.text for part in row.type)
        if "maximum" in one:
            assert row.bounds == f"{one['minimum']:,} to {one['maximum']:,}"
        if one.get("default") is not None:
            assert json.loads(row.default) == one["default"]
        if "const" in one:
            assert json.loads(typed) == one["const"]
        if one.get("deprecated"):
            assert row.deprecated


def test_quantities_say_their_units() -> None:
    assert ROWS["Prescription.load"].unit == "kg or lb"
    assert ROWS["Prescription.rest"].unit == "min or s"
    assert ROWS["Prescription.sets"].unit == ""


def test_fields_have_an_example_or_lead_to_a_shape_whose_fields_have() -> None:
    bare = [anchor for anchor, row in ROWS.items() if not row.example and not any(part.shape for part in row.type)]
    assert len(bare) <= LONG_TEXTS
    asked = set(reached("#/components/schemas/Batch"))
    assert [anchor for anchor in bare if anchor.partition(".")[0] in asked] == []


def reached(reference: str, seen: frozenset[str] = frozenset()) -> set[str]:
    """The names of the shapes to which one leads."""
    waiting, found = [reference], set(seen)
    while waiting:
        name = waiting.pop().rpartition("/")[2]
        if name not in found:
            found.add(name)
            waiting += re.findall("#/components/schemas/[A-Za-z]+", json.dumps(SCHEMAS[name]))
    return found


def test_examples_fit_where_they_stand() -> None:
    for name, field, one, _ in properties():
        example = ROWS[f"{name}.{field}"].example
        if example and one.get("type") in ("integer", "number"):
            assert one.get("minimum", -1e9) <= json.loads(example) <= one.get("maximum", 1e9)
        elif example and "$ref" in one and "enum" in (listed := SCHEMAS[one["$ref"].rpartition("/")[2]]):
            assert json.loads(example) in listed["enum"]


def test_every_value_of_a_closed_list_has_its_sentence() -> None:
    listed = {one.name: one for one in contents().value_lists}
    described = {name: schema for name, schema in SCHEMAS.items() if "enum" in schema}
    assert set(listed) == set(described)
    for name, schema in described.items():
        assert [value for value, _ in listed[name].values] == schema["enum"]
        if "x-enum-descriptions" in schema:
            assert [words for _, words in listed[name].values] == schema["x-enum-descriptions"]
        assert listed[name].may_grow == schema.get("x-may-grow", False)


def test_a_shape_stands_once_and_links_lead_to_one() -> None:
    assert sorted(shape.name for shape in contents().all_shapes()) == sorted(set(SCHEMAS) - listed_names())
    text = page().decode()
    for name in SCHEMAS:
        assert text.count(f'id="shape-{name}"') == 1
    assert {part.shape for row in ROWS.values() for part in row.type if part.shape} <= set(SCHEMAS)


def listed_names() -> set[str]:
    return {one.name for one in contents().value_lists}


@pytest.mark.parametrize("section", contents().sections, ids=lambda one: str(one.name))
def test_every_operation_has_its_parameters_answers_and_headers(section: Section) -> None:
    for operation in section.operations:
        methods = DESCRIBED["paths"][operation.path]
        assert {way.method.lower() for way in operation.ways} == set(methods)
        for way in operation.ways:
            described = methods[way.method.lower()]
            assert (way.operation_id, way.summary, way.words) == (
                described["operationId"],
                described["summary"],
                described["description"],
            )
            own = [one for one in described.get("parameters", []) if "$ref" not in one]
            assert [(row.name, row.required, row.words) for row in way.parameters] == [
                (one["name"], one["required"], one["description"]) for one in own
            ]
            assert len(way.parameters) + len(way.shared) == len(described.get("parameters", []))
            assert [answer.status for answer in way.answers] == list(described["responses"])


def test_parameters_and_headers_that_several_share_stand_once() -> None:
    parameters, headers = DESCRIBED["components"]["parameters"], DESCRIBED["components"]["headers"]
    assert {row.anchor: row.words for row in contents().parameters} == {
        f"parameter-{name}": one["description"] for name, one in parameters.items()
    }
    assert {row.anchor: row.words for row in contents().headers} == {
        f"header-{name}": one["description"] for name, one in headers.items()
    }
    assert [row for row in contents().headers if not row.type[0].text] == []


def test_page_is_no_larger_than_a_phone_takes() -> None:
    assert 1_000_000 < len(page()) <= 1_500_000


def test_keys_of_paths() -> None:
    assert (key("/v1/adjustments"), key("/v1/exercises/{id}"), key("/livez")) == (
        "adjustments",
        "exercises-id",
        "livez",
    )


def test_a_shape_names_where_it_stands_and_how_often_more() -> None:
    users = {f"One{number}": {"description": "One.", "properties": {"it": ref("It")}} for number in range(9)}
    described = description({"It": {"description": "It.", "properties": {}}} | users)
    shape = Reference(described).shapes()["It"]
    assert (len(shape.uses), shape.further) == (6, 3)
    assert shape.uses[0] == ("One0.it", "One0.it")


def test_entries_of_the_catalogue_are_examples_where_operations_have_none() -> None:
    described = description({"It": {"description": "It.", "properties": {"text": {"type": "string"}}}})
    assert rows(Reference(described).shapes()["It"])["text"].example == ""
    assert rows(Reference(described, [("It", {"text": "a"})]).shapes()["It"])["text"].example == '"a"'


def rows(shape: Shape) -> dict[str, Field]:
    return {row.name: row for row in shape.fields}


def ref(name: str) -> dict[str, str]:
    return {"$ref": f"#/components/schemas/{name}", "description": "Of it."}


def description(schemas: dict[str, Any]) -> dict[str, Any]:
    return {"paths": {}, "components": {"schemas": schemas}}
