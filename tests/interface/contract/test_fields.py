"""Some fields of an answer, chosen by name, however it is asked: as in the whole answer, and nothing besides."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema_rs import Draft202012Validator
from msgspec import inspect

from service.api.models.operation import Operation
from service.api.operations.registry import OPERATIONS
from service.api.serialization.answer_fields import AnswerFields
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from tests.support.asking import objects
from tests.support.description import parameters
from tests.support.in_process import client, name_of

ASKING = client()
each_operation = pytest.mark.parametrize("operation", OPERATIONS, ids=name_of)


def part_of(answer: dict[str, Any], names: set[str]) -> dict[str, Any]:
    """What names choose of an answer as JSON has it."""
    part: dict[str, Any] = {}
    for field, value in answer.items():
        inner = {name.partition(".")[2] for name in names if name.partition(".")[0] == field}
        if inner:
            part[field] = value if "" in inner else inside(value, inner)
    return part


def inside(value: Any, names: set[str]) -> Any:  # noqa: ANN401 - any JSON
    if isinstance(value, list):
        return [inside(item, names) for item in value]
    return {name: one for name, one in value.items() if name in names} if isinstance(value, dict) else value


@each_operation
@settings(max_examples=10, deadline=None, derandomize=True)
@given(st.data())
def test_what_is_chosen_is_what_the_whole_answer_has(operation: Operation, data: st.DataObject) -> None:
    request = operation.examples[0].request
    names = data.draw(st.sets(st.sampled_from(AnswerFields(operation.answer).names), min_size=1, max_size=6))
    whole = ASKING.post(operation.path, json=request).json()
    wanted = part_of(whole, names)
    posted = ASKING.post(operation.path, json=request, params={"fields": ",".join(sorted(names))})
    assert posted.json() == wanted
    query = QueryForm(operation, Reader(operation.request)).query(Reader(operation.request).fit(request))
    got = ASKING.get(f"{operation.path}?{query}&fields={','.join(sorted(names))}")
    assert got.content == posted.content
    repeated = ASKING.get(f"{operation.path}?{query}" + "".join(f"&fields={name}" for name in sorted(names)))
    assert (repeated.content, repeated.headers["etag"]) == (got.content, got.headers["etag"])
    item = {"operation": operation.name, "body": request, "fields": sorted(names)}
    assert ASKING.post("/v1/batch", json={"requests": [item]}).json()["results"][0]["answer"] == wanted


def test_another_part_is_another_entity() -> None:
    address = "/v1/tempo?tempo=3-1-1-0&reps=5-6"
    tags = {ASKING.get(address + part).headers["etag"] for part in ("", "&fields=basis", "&fields=basis.sources")}
    assert len(tags) == 3
    tag = ASKING.get(f"{address}&fields=basis").headers["etag"]
    assert ASKING.get(f"{address}&fields=basis", headers={"If-None-Match": tag}).status_code == 304


@pytest.mark.parametrize(
    ("fields", "detail"),
    [
        ("options.prescripton", '"options.prescripton" is no field of the answer. Did you mean options.prescription?'),
        ("option", '"option" is no field of the answer. Did you mean options?'),
        ("", '"" is no field of the answer.'),
        ("why,", '"" is no field of the answer.'),
        (
            "options.prescription.load",
            '"options.prescription.load" is no field of the answer. Did you mean options.prescription?',
        ),
        ("options.why.text", '"options.why.text" is no field of the answer. Did you mean options.why?'),
    ],
)
def test_a_name_that_is_none_is_refused(fields: str, detail: str) -> None:
    reply = ASKING.post(OPERATIONS[0].path, json=OPERATIONS[0].examples[0].request, params={"fields": fields})
    (fault,) = reply.json()["errors"]
    assert (reply.status_code, fault["parameter"]) == (422, "fields")
    assert fault["detail"].startswith(detail)
    assert fault["allowed"].startswith("one of: decision, ")


def test_faults_of_the_body_and_of_the_names_come_together() -> None:
    reply = ASKING.post("/v1/tempo?fields=tempoo", json={"tempo": "3-1-1"})
    found = {(one["pointer"], one.get("parameter")) for one in reply.json()["errors"]}
    assert found == {("", "fields"), ("/tempo", None)}
    assert ASKING.post("/v1/tempo?fields=tempoo", content=b"{").status_code == 415
    headers = {"content-type": "application/json"}
    assert ASKING.post("/v1/tempo?fields=tempoo", content=b"{", headers=headers).status_code == 400


@pytest.mark.parametrize("form", ["svg", "csv", "text"])
def test_only_json_is_cut(form: str) -> None:
    address = "/v1/load-for-reps?set_load=100kg&set_reps=5&target_reps=8&fields=load"
    reply = ASKING.get(f"{address}&as={form}&select=/load/value" if form == "text" else f"{address}&as={form}")
    assert reply.status_code == 422
    assert "Only an answer in JSON" in reply.text
    if form == "svg":
        assert ASKING.post("/v1/load-for-reps?as=svg&fields=load", json={}).status_code == 422


def test_every_name_is_described_with_both_ways_to_ask() -> None:
    document = ASKING.get("/openapi.json").json()
    schemas = document["components"]["schemas"]
    for operation in OPERATIONS:
        for method in ("get", "post"):
            (described,) = [
                one for one in parameters(document["paths"][operation.path][method]) if one["name"] == "fields"
            ]
            items = described["schema"]["items"]
            values = schemas[items["$ref"].rpartition("/")[2]] if "$ref" in items else items
            assert set(values["enum"]) == set(AnswerFields(operation.answer).names)
            assert (described["style"], described["explode"]) == ("form", False)


@each_operation
def test_a_part_fits_what_is_described_of_the_answer_but_for_what_is_left_out(operation: Operation) -> None:
    document = ASKING.get("/openapi.json").json()
    for one in objects(document["components"]["schemas"]):
        one.pop("required", None)
    described = document["paths"][operation.path]["post"]["responses"]["200"]["content"]["application/json"]["schema"]
    kind = inspect.type_info(operation.answer)
    assert isinstance(kind, inspect.StructType)
    validator = Draft202012Validator({**described, "components": document["components"]})
    for name in AnswerFields(operation.answer).names:
        reply = ASKING.post(operation.path, json=operation.examples[0].request, params={"fields": name})
        assert reply.status_code == 200
        assert list(validator.iter_errors(reply.json())) == []
