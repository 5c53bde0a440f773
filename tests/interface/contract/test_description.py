"""The published description: it is what the code makes, valid, complete, bounded, and its examples are true."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Final
from urllib.parse import urlencode

import pytest
from jsonschema import Draft202012Validator
from openapi_spec_validator import OpenAPIV31SpecValidator

from service.api.docs.routes import DOCS_PATHS
from service.api.openapi.document import rendered
from service.app import create_app
from service.settings import Settings
from tests.support.description import DOCUMENT, examples, parameters, target
from tests.support.live import Live
from tests.support.paths import DESCRIPTION

FILE: Final = DESCRIPTION
OPERATIONS: Final = {
    f"{method.upper()} {path}": found
    for path, methods in DOCUMENT["paths"].items()
    for method, found in methods.items()
}
PROBLEM: Final = "application/problem+json"


def taking(media_type: str) -> dict[str, Any]:
    """The operations that take a body of a media type."""
    return {
        label: found
        for label, found in OPERATIONS.items()
        if media_type in found.get("requestBody", {}).get("content", {})
    }


COMPUTATIONS: Final = taking("application/json")
TABLES: Final = taking("text/csv")
QUESTIONS: Final = {
    label: found
    for label, found in OPERATIONS.items()
    if label.startswith("GET ") and "POST " + label.removeprefix("GET ") in COMPUTATIONS
}
RESOURCES: Final = [label for label in OPERATIONS if label not in COMPUTATIONS | TABLES | QUESTIONS]
# Served and not described: the description itself, the pages for people, the index that leads to them.
UNDESCRIBED: Final = {"/", *DOCS_PATHS, "/openapi.json", "/problems/{}"}

each_operation = pytest.mark.parametrize("label", OPERATIONS)
each_computation = pytest.mark.parametrize("label", COMPUTATIONS)
each_table = pytest.mark.parametrize("label", TABLES)
each_question = pytest.mark.parametrize("label", QUESTIONS)
each_answered_in_json = pytest.mark.parametrize("label", [label for label in OPERATIONS if label not in TABLES])


def validator(schema: dict[str, Any]) -> Draft202012Validator:
    return Draft202012Validator({**schema, "components": DOCUMENT["components"]})


def asked(label: str) -> dict[str, Any]:
    content: dict[str, Any] = COMPUTATIONS[label]["requestBody"]["content"]["application/json"]
    return content


def answered(label: str) -> dict[str, Any]:
    content: dict[str, Any] = OPERATIONS[label]["responses"]["200"]["content"]["application/json"]
    return content


def parts(schema: object, where: str, seen: set[str]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every schema that a schema is made of, through its references, with the place where it stands."""
    if isinstance(schema, list):
        for index, item in enumerate(schema):
            yield from parts(item, f"{where}/{index}", seen)
    if not isinstance(schema, dict):
        return
    if "$ref" in schema:
        name = schema["$ref"].removeprefix("#/components/schemas/")
        if name not in seen:
            seen.add(name)
            yield from parts(DOCUMENT["components"]["schemas"][name], name, seen)
    yield where, schema
    for name, field in schema.get("properties", {}).items():
        yield from parts(field, f"{where}/{name}", seen)
    for keyword in ("items", "anyOf", "oneOf", "allOf", "prefixItems"):
        yield from parts(schema.get(keyword), f"{where}/{keyword}", seen)


def test_the_file_is_what_the_code_makes() -> None:
    """Not so: python -m service openapi > openapi/openapi.json, and a line in openapi/CHANGELOG.md."""
    assert FILE.read_bytes() == rendered()


def test_it_is_valid_openapi_3_1() -> None:
    assert DOCUMENT["openapi"].startswith("3.1.")
    assert [error.message for error in OpenAPIV31SpecValidator(DOCUMENT).iter_errors()] == []


def test_the_service_serves_the_file(served: Live) -> None:
    reply = served.ask("GET", "/openapi.json")
    assert (reply.status, reply.headers["content-type"]) == (200, "application/json")
    assert reply.body == FILE.read_bytes()


def test_paths_of_router_and_description_agree() -> None:
    def bare(path: str) -> str:
        return re.sub(r"\{[^}]*\}", "{}", path)

    routed = {bare(route.path) for route in create_app(Settings()).routes}
    described = {bare(path) for path in DOCUMENT["paths"]}
    assert routed - described == UNDESCRIBED
    assert described - routed == set()


@each_operation
def test_words(label: str) -> None:
    found = OPERATIONS[label]
    assert 5 <= len(found["summary"]) <= 80
    assert found["description"].endswith(".")
    assert found["description"] != found["summary"]
    assert len(found["tags"]) == 1
    assert found["tags"][0] in {tag["name"] for tag in DOCUMENT["tags"]}


def test_operation_ids_are_unique_and_usable_as_names() -> None:
    ids = [found["operationId"] for found in OPERATIONS.values()]
    assert len(set(ids)) == len(ids)
    assert [name for name in ids if not re.fullmatch(r"[a-z][A-Za-z]+", name)] == []


def test_every_tag_is_used_and_described() -> None:
    used = {tag for found in OPERATIONS.values() for tag in found["tags"]}
    assert used == {tag["name"] for tag in DOCUMENT["tags"] if tag["description"]}


@each_operation
def test_problems_are_described(label: str) -> None:
    """Every answer but 200 and 304 is a problem of the shape of RFC 9457, with an example of its own status."""
    responses = {status: target(found) for status, found in OPERATIONS[label]["responses"].items()}
    expected = {"200", "default"}
    if label in COMPUTATIONS | TABLES:
        expected |= {"400", "405", "406", "413", "415", "422"}
    elif label in QUESTIONS:
        expected |= {"304", "400", "406", "414", "422"}
    elif "/v1/" in label:
        expected |= {"304", "400", "406"} | ({"404"} if "{id}" in label else set())
    assert expected <= set(responses)
    for status, response in responses.items():
        if status == "200":
            continue
        if status == "304":
            assert "content" not in response
            continue
        # a cell gets the problem as one line
        with_line = label in QUESTIONS and status in ("422", "default")
        assert list(response["content"]) == [PROBLEM, "text/plain"] if with_line else [PROBLEM]
        content = response["content"][PROBLEM]
        assert content["schema"] == {"$ref": "#/components/schemas/Problem"}
        for example in examples(content).values():
            validator(content["schema"]).validate(example["value"])
            assert str(example["value"]["status"]) == (status if status != "default" else "500")
    if label in RESOURCES and "400" in responses:
        assert "unknown-parameter" in responses["400"]["content"][PROBLEM]["examples"]


@each_operation
def test_schemas_of_requests_are_closed_and_bounded(label: str) -> None:
    """No number without both bounds, no array or text without a limit, no object open to unknown fields."""
    found = OPERATIONS[label]
    # a header is as long as the server takes
    schemas = [parameter["schema"] for parameter in parameters(found) if parameter["in"] != "header"]
    schemas += [content["schema"] for content in found.get("requestBody", {}).get("content", {}).values()]
    faults = []
    for where, schema in (part for each in schemas for part in parts(each, label, set())):
        kind = schema.get("type")
        if kind in ("number", "integer") and not {"minimum", "maximum"} <= set(schema):
            faults.append(f"{where}: a number without both bounds")
        if kind == "array" and "maxItems" not in schema:
            faults.append(f"{where}: an array without maxItems")
        bounded = {"enum", "const", "pattern", "maxLength"} & set(schema) or schema.get("format") == "binary"
        if kind == "string" and not bounded:
            faults.append(f"{where}: a text without enum, pattern or maxLength, and no file")
        if kind == "object" and schema.get("additionalProperties") is not False:
            faults.append(f"{where}: an open object")
        if not {"type", "enum", "$ref", "anyOf", "oneOf", "const"} & set(schema):
            faults.append(f"{where}: anything goes")
    assert faults == []


def test_the_walk_over_request_schemas_reaches_what_is_nested() -> None:
    reached = {where for where, _ in parts(asked("POST /v1/adjustments")["schema"], "", set())}
    assert {"Mass/value", "PlateKind/pairs", "Complaint/signs/items"} <= reached


@each_answered_in_json
def test_arrays_of_answers_say_what_is_in_them(label: str) -> None:
    """Generators of clients drop an answer that holds an array without items."""
    found = [
        where
        for where, schema in parts(answered(label)["schema"], label, set())
        if schema.get("type") == "array" and not isinstance(schema.get("items"), dict)
    ]
    assert found == []


@each_computation
def test_examples_are_true(label: str, served: Live) -> None:
    """Each example request gets exactly the example answer of the same name, and both fit their schemas."""
    path = label.removeprefix("POST ")
    requests, answers = examples(asked(label)), examples(answered(label))
    assert list(requests) == list(answers)
    assert requests
    for name, example in requests.items():
        assert example["summary"]
        validator(asked(label)["schema"]).validate(example["value"])
        reply = served.post(path, example["value"])
        assert reply.status == 200, reply.body
        assert reply.json() == answers[name]["value"], name
        validator(answered(label)["schema"]).validate(reply.json())


@each_question
def test_examples_of_questions_are_true(label: str, served: Live) -> None:
    """The parameters' examples together ask the first example, and each form of its answer is as described."""
    path = label.removeprefix("GET ")
    given = {found["name"]: found["example"] for found in parameters(QUESTIONS[label]) if "example" in found}
    query = urlencode({name: str(value).lower() if isinstance(value, bool) else value for name, value in given.items()})
    content = OPERATIONS[label]["responses"]["200"]["content"]
    ((name, example),) = examples(content["application/json"]).items()
    assert example["value"] == examples(answered("POST " + path))[name]["value"]
    reply = served.ask("GET", f"{path}?{query}")
    assert reply.status == 200, reply.body
    assert reply.json() == example["value"]
    table = examples(content["text/csv"])["selected"]["value"]
    assert served.ask("GET", f"{path}?{query}&as=csv&select=/basis").body.decode() == table
    for found in parameters(QUESTIONS[label]):
        if "example" in found:
            validator(found["schema"]).validate(found["example"])


@each_table
def test_examples_of_tables_are_true(label: str, served: Live) -> None:
    path = label.removeprefix("POST ")
    ((name, sent),) = examples(TABLES[label]["requestBody"]["content"]["text/csv"]).items()
    reply = served.ask("POST", path, sent["value"].encode(), {"Content-Type": "text/csv"})
    assert reply.status == 200, reply.body
    assert reply.body.decode() == examples(OPERATIONS[label]["responses"]["200"]["content"]["text/csv"])[name]["value"]


def fractions(value: object, schema: dict[str, Any], where: str) -> Iterator[str]:
    """Where whole numbers by the schema are written with a fraction, as 4.0, which strict readers of JSON refuse."""
    schema = target(schema)
    for branch in schema.get("anyOf", ()):
        yield from fractions(value, branch, where)
    if schema.get("type") == "integer" and isinstance(value, float):
        yield where
    if isinstance(value, dict):
        for name, inner in value.items():
            part = schema.get("properties", {}).get(name, schema.get("additionalProperties"))
            yield from fractions(inner, part, f"{where}/{name}") if isinstance(part, dict) else ()
    for item in value if isinstance(value, list) and "items" in schema else ():
        yield from fractions(item, schema["items"], f"{where}/items")


@each_computation
def test_whole_numbers_of_answers_are_written_so(label: str) -> None:
    schema = answered(label)["schema"]
    found = [where for one in examples(answered(label)).values() for where in fractions(one["value"], schema, label)]
    assert found == []


def test_every_computation_has_its_question_and_its_table() -> None:
    names = {label.removeprefix("POST /v1/") for label in COMPUTATIONS} - {"batch"}
    assert {label.removeprefix("GET /v1/") for label in QUESTIONS} == names
    assert {label.removeprefix("POST /v1/tables/") for label in TABLES} == names


@pytest.mark.parametrize("label", RESOURCES)
def test_examples_of_resources_are_true(label: str, served: Live) -> None:
    """An entry's example is the whole answer, a list's example is the list's beginning."""
    found = OPERATIONS[label]
    path = label.removeprefix("GET ")
    for parameter in parameters(found):
        path = path.replace("{" + parameter["name"] + "}", parameter.get("example", ""))
    reply = served.ask("GET", path)
    assert reply.status == 200
    validator(answered(label)["schema"]).validate(reply.json())
    (example,) = examples(answered(label)).values()
    if path == "/version":  # the description's checksum cannot stand in the description
        assert reply.json().keys() == example["value"].keys()
    elif path == "/v1/evidence":  # of one quantity
        (parameter,) = parameters(found)
        one = served.ask("GET", f"{path}?{parameter['name']}={parameter['example']}")
        assert one.json() == example["value"]
    elif label.endswith("{id}") or path in ("/livez", "/readyz", "/v1"):
        assert reply.json() == example["value"]
    else:
        name, entries = next(iter(example["value"].items()))
        assert entries
        assert reply.json()[name][: len(entries)] == entries


@pytest.mark.parametrize("label", [label for label in OPERATIONS if label.endswith("{id}")])
def test_the_ids_described_are_the_ids_served(label: str, served: Live) -> None:
    path = label.removeprefix("GET ").removesuffix("/{id}")
    entries = next(iter(served.ask("GET", path).json().values()))
    described = DOCUMENT["components"]["schemas"][parameters(OPERATIONS[label])[0]["schema"]["$ref"].split("/")[-1]]
    assert sorted(entry["id"] for entry in entries) == described["enum"]
