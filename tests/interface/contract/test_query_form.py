"""Questions by their address: the same answers as by POST, in JSON, as cells and as a picture, and as strict."""

from __future__ import annotations

import csv
import io
from typing import Any, Final
from urllib.parse import parse_qsl, urlencode

import pytest
from httpx import Response
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import inspect

from service.api.docs.course import SCENARIO, course
from service.api.models.operation import Example, Operation
from service.api.operations.registry import OPERATIONS
from service.api.serialization.columns import bare_text, columns_of
from service.api.serialization.flattening import nameless
from service.api.serialization.json import Reader
from service.api.serialization.query import MOST_CHARACTERS, QueryForm
from service.api.serialization.scalars import bare
from tests.support.golden import episodes, scenario
from tests.support.in_process import BY_NAME, EXAMPLES, client, name_of, questions

app: Final = client()
READERS: Final = {operation.name: Reader[Any](operation.request) for operation in OPERATIONS}
FORMS: Final = {operation.name: QueryForm(operation, READERS[operation.name]) for operation in OPERATIONS}
LONGEST_NAME: Final = 253
"""Characters of the longest name of a server (RFC 1035)."""
ASKED: Final = "/v1/load-for-reps?load=100kg&reps=5&reps_in_reserve=1&target_reps=8&target_reps_in_reserve=2"
each_example = pytest.mark.parametrize(("operation", "example"), EXAMPLES, ids=name_of)


def address(operation: Operation, example: Example, **more: str) -> str:
    given = FORMS[operation.name].flat.to_texts(READERS[operation.name].fit(example.request))
    return f"{operation.path}?{urlencode(given | more)}"


def at(pointer: str, value: Any) -> Any:  # noqa: ANN401 - any JSON value
    """The value at a JSON Pointer; None where an object on the way is null or left out."""
    for step in pointer.split("/")[1:]:
        value = value.get(step) if isinstance(value, dict) else None
    return value


def with_flat_names(shape: inspect.Type, value: Any) -> Any:  # noqa: ANN401 - any JSON value
    """A question without what a query cannot say, for the sake of whole prescriptions in JSON alone."""
    kind = bare(shape)
    if isinstance(kind, inspect.ListType) and value is not None:
        return [with_flat_names(kind.item_type, item) for item in value]
    if not isinstance(kind, inspect.StructType) or value is None:
        return value
    types = {field.encode_name: field.type for field in kind.fields if not nameless(field.type)}
    return {name: with_flat_names(types[name], part) for name, part in value.items() if name in types}


def faults(reply: Response) -> dict[str, str]:
    """What is allowed, by the parameters at fault."""
    assert (reply.status_code, reply.headers["content-type"]) == (422, "application/problem+json"), reply.text
    return {fault["parameter"]: fault.get("allowed", "") for fault in reply.json()["errors"]}


# --- the same answers ------------------------------------------------------------------------------------------------
@each_example
def test_the_same_bytes_as_by_post(operation: Operation, example: Example) -> None:
    asked, posted = app.get(address(operation, example)), app.post(operation.path, json=example.request)
    assert (asked.status_code, asked.headers["content-type"]) == (200, "application/json"), asked.text
    assert asked.content == posted.content


@each_example
def test_address_fits_a_formula(operation: Operation, example: Example) -> None:
    assert len(address(operation, example, form="text", select="/load/value")) <= MOST_CHARACTERS / 2


@pytest.mark.parametrize("operation", [operation for operation in OPERATIONS if operation.picture], ids=name_of)
def test_the_same_picture_as_by_post(operation: Operation) -> None:
    example = operation.examples[0]
    asked = app.get(address(operation, example, **{"as": "svg"}))
    assert asked.headers["content-type"] == "image/svg+xml"
    assert asked.content == app.post(f"{operation.path}?as=svg", json=example.request).content


@pytest.mark.parametrize("operation", OPERATIONS, ids=name_of)
@settings(max_examples=60)
@given(data=st.data())
def test_any_question_survives_the_way_through_a_query(operation: Operation, data: st.DataObject) -> None:
    form, reader = FORMS[operation.name], READERS[operation.name]
    request = reader.fit(with_flat_names(inspect.type_info(operation.request), data.draw(questions(operation))))
    texts = dict(parse_qsl(form.query(request), keep_blank_values=True, strict_parsing=True))
    assert form.read(texts, []) == request


# --- names -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("name", "request_", "expected"),
    [
        (
            "load-for-reps",
            {
                "set": {"load": {"value": 100, "unit": "kg"}, "reps": 5},
                "target": {"reps": 8, "reps_in_reserve": 2},
                "own_sets": [{"load": {"value": 90.5, "unit": "lb"}, "reps": 8}] * 2,
                "bar": {
                    "bar": {"value": 20, "unit": "kg"},
                    "plates": [
                        {"plate": {"value": 25, "unit": "kg"}, "pairs": 4},
                        {"plate": {"value": 1.25, "unit": "kg"}},
                    ],
                },
            },
            {
                "load": "100kg",
                "reps": "5",
                "reps_in_reserve": "0",
                "target_reps": "8",
                "target_reps_in_reserve": "2",
                "own_sets_load": "90.5lb,90.5lb",
                "own_sets_reps": "8,8",
                "own_sets_reps_in_reserve": "0,0",
                "bar": "20kg",
                "bar_plates": "25kgx4,1.25kgx4",
            },
        ),
        (
            "joint-demand",
            {
                "lifter": {"body_mass": {"value": 64, "unit": "kg"}, "stature": {"value": 168, "unit": "cm"}},
                "setups": [
                    {"label": "flat", "exercise": "front_squat", "load": {"value": 60, "unit": "kg"}},
                    {
                        "label": "heels up",
                        "exercise": "front_squat",
                        "load": {"value": 60, "unit": "kg"},
                        "technique": {"heel_lift": {"value": 2, "unit": "cm"}},
                    },
                ],
            },
            {
                "lifter_body_mass": "64kg",
                "lifter_stature": "168cm",
                "setups_label": "flat,heels up",
                "setups_exercise": "front_squat,front_squat",
                "setups_load": "60kg,60kg",
                "setups_technique_heel_lift": ",2cm",
                "setups_technique_stance": ",shoulder",
            },
        ),
    ],
)
def test_names_follow_the_rule(name: str, request_: dict[str, Any], expected: dict[str, str]) -> None:
    assert FORMS[name].flat.to_texts(READERS[name].fit(request_)) == expected


# --- cells -----------------------------------------------------------------------------------------------------------
@each_example
def test_every_column_is_the_value_at_its_pointer(operation: Operation, example: Example) -> None:
    reply = app.get(address(operation, example, **{"as": "csv"}))
    assert reply.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    assert reply.text.endswith("\r\n")
    header, row = csv.reader(io.StringIO(reply.text, newline=""), strict=True)
    assert header == list(columns_of(operation.answer).names)
    assert len(set(header)) == len(header) == len(row)
    answer = app.post(operation.path, json=example.request).json()
    for pointer, cell in zip(header, row, strict=True):
        if "*" in pointer:
            continue
        value = at(pointer, answer)
        if isinstance(value, list):
            assert cell == " | ".join(map(str, value)), pointer
        elif isinstance(value, int | float) and not isinstance(value, bool):
            assert float(cell) == value, pointer
        else:
            assert cell == bare_text(value), pointer


def test_a_bare_cell() -> None:
    reply = app.get(f"{ASKED}&as=text&select=/load/value")
    assert (reply.status_code, reply.headers["content-type"]) == (200, "text/plain; charset=utf-8")
    assert float(reply.text) == app.get(ASKED).json()["load"]["value"]
    assert app.get(f"{ASKED}&as=text&select=/basis/sources/0").text == app.get(ASKED).json()["basis"]["sources"][0]


def test_a_list_of_the_answer_as_a_table() -> None:
    reply = app.get(f"{ASKED}&as=csv&select=/relations")
    rows = list(csv.DictReader(io.StringIO(reply.text, newline="")))
    relations = app.get(ASKED).json()["relations"]
    assert [row["/relation"] for row in rows] == [relation["relation"] for relation in relations]
    assert [float(row["/load/value"]) for row in rows] == [relation["load"]["value"] for relation in relations]
    assert app.get(f"{ASKED}&as=csv&select=/basis/sources").text.startswith("value\r\n")


def test_what_questions_take_is_a_cell_as_queries_write_it() -> None:
    loaded = app.get(f"{ASKED}&bar=20kg").json()["loadable"]
    assert app.get(f"{ASKED}&bar=20kg&as=text&select=/loadable").text == f"{loaded['value']:g}kg"
    asked = address(BY_NAME["rep-targets"], BY_NAME["rep-targets"].examples[0])
    reps = app.get(asked).json()["equal_volume"]["reps"]
    assert app.get(f"{asked}&as=text&select=/equal_volume/reps").text == f"{reps['low']}-{reps['high']}"


def test_a_course_of_care_goes_by_address_with_each_prescription_as_one_cell() -> None:
    """Each cell is sent on as it came; all of it, with four weeks of sessions, fits into an address."""
    longest = 0
    for path, whole in [(None, SCENARIO), *((path, scenario(path)) for path in episodes())]:
        asked = [*course(whole)]
        given = READERS["adjustments"].fit(whole.question)
        pointer = f"/options/{whole.option - 1}/prescription"
        now = app.get(f"/v1/adjustments?{FORMS['adjustments'].query(given)}&as=text&select={pointer}").text
        for one in asked[2:]:
            rest = READERS["session-review"].fit(one.question)
            texts = FORMS["session-review"].flat.to_texts(rest)
            others = {
                name: text
                for name, text in texts.items()
                if not name.startswith("prescription_") and text.replace("false", "").strip(",")  # false where left out
            }
            question = f"/v1/session-review?{urlencode(others)}&prescription_{now.replace('&', '&prescription_')}"
            longest = max(longest, len(question))
            assert app.get(question).json() == one.answer, path
            now = app.get(f"{question}&as=text&select=/next").text
    assert longest <= MOST_CHARACTERS - len("https://") - LONGEST_NAME


@pytest.mark.parametrize("label", ["=1+1", "+1", "-1", "@x"])
def test_text_of_the_caller_becomes_no_formula(label: str) -> None:
    """OWASP, CSV injection: a leading apostrophe makes a spreadsheet take a cell for text."""
    example = BY_NAME["spinal-load"].examples[0].request
    request = example | {"setups": [setup | {"label": f"{label}{row}"} for row, setup in enumerate(example["setups"])]}
    query = urlencode(FORMS["spinal-load"].flat.to_texts(READERS["spinal-load"].fit(request)))
    assert app.get(f"/v1/spinal-load?{query}&as=text&select=/reference").text == f"'{label}0"


@pytest.mark.parametrize(
    "query",
    ["as=text", "as=text&select=/load", "as=text&select=load", "as=text&select=/nothing",
     "as=text&select=/relations/99", "as=text&select=/relations/00/relation",
     "as=csv&select=/load/value/x", "select=/load", "as=json&select=/load"],
)  # fmt: skip
def test_a_selection_that_gives_no_cell(query: str) -> None:
    reply = app.get(f"{ASKED}&{query}")
    assert reply.status_code == 422
    assert "select" in (reply.text if "as=" in query and "json" not in query else faults(reply))


def test_a_question_that_does_not_fit_is_one_readable_line_in_a_cell() -> None:
    for form in ("text&select=/load/value", "csv"):
        reply = app.get(f"/v1/load-for-reps?load=100kg&reps=500&target_reps=8&colour=red&as={form}")
        assert (reply.status_code, reply.headers["content-type"]) == (422, "text/plain; charset=utf-8")
        assert "\n" not in reply.text
        assert "reps: The value is too large." in reply.text
        assert "1 to 100" in reply.text
        assert "colour: This parameter is not known here." in reply.text
        assert reply.headers["cache-control"] == "no-store"


@pytest.mark.parametrize(
    ("accept", "media_type"),
    [("*/*", "application/json"), ("text/csv", "text/csv"), ("application/json;q=0.5, text/csv", "text/csv"),
     ("text/html,application/xhtml+xml,*/*;q=0.8", "application/json"), ("image/svg+xml", "image/svg+xml")],
)  # fmt: skip
def test_form_by_accept(accept: str, media_type: str) -> None:
    reply = app.get(ASKED, headers={"accept": accept})
    assert reply.headers["content-type"].split(";")[0] == media_type
    assert reply.headers["vary"] == "accept, accept-language, accept-encoding"
    assert app.get(f"{ASKED}&as=json", headers={"accept": accept}).headers["content-type"] == "application/json"


# --- as strict as JSON -----------------------------------------------------------------------------------------------
def test_all_faults_at_once_each_by_its_parameter() -> None:
    query = (
        "load=100&reps=5.5&reps_in_reserve=9&target_reps=8&target_reps=9&exercise=handstand&rpe=8&bar_plates=25kgx4,20"
    )
    found = faults(app.get(f"/v1/load-for-reps?{query}"))
    assert set(found) == {"load", "reps", "reps_in_reserve", "target_reps", "exercise", "rpe", "bar", "bar_plates"}
    assert found["load"] == "a number and its unit, such as 20kg; units: kg, lb"
    assert found["reps"] == "a whole number 1 to 100"
    assert found["reps_in_reserve"] == "0 to 4"
    assert "target_reps_in_reserve" in found["rpe"]
    assert "25kgx4" in found["bar_plates"]


def test_missing_parameters_are_named() -> None:
    assert set(faults(app.get("/v1/load-for-reps"))) == {"load", "reps", "target_reps"}
    assert set(faults(app.get("/v1/estimated-max"))) == {"sets_load"}


@pytest.mark.parametrize(
    ("query", "parameter"),
    [("load=100stone", "load"), ("load=-5kg", "load"), ("load=1e999kg", "load"), ("load=nankg", "load"),
     ("load=80,5kg", "load"), ("load=100 kg", "load"), ("load=", "load"), ("reps=", "reps"), ("reps=five", "reps"),
     ("reps=0x5", "reps"), ("reps=+5", "reps"), ("reps=Infinity", "reps"), ("exercise=", "exercise"),
     ("own_sets_load=60kg,70kg&own_sets_reps=5", "own_sets_reps"), ("bar_plates=25kgx99&bar=20kg", "bar_plates"),
     ("set_reps=5", "set_reps"), ("LOAD=5kg", "LOAD"), ("=5", "")],
)  # fmt: skip
def test_what_does_not_fit_is_refused_by_name(query: str, parameter: str) -> None:
    base = {"load": "100kg", "reps": "5", "target_reps": "8"}
    changed = dict(parse_qsl(query, keep_blank_values=True))
    assert parameter in faults(app.get(f"/v1/load-for-reps?{urlencode(base | changed)}"))


def test_a_refusal_of_the_method_names_the_parameter() -> None:
    """Repetitions outside every published range are no fault of form."""
    (fault,) = app.get("/v1/load-for-reps?load=100kg&reps=60&target_reps=8").json()["errors"]
    assert (fault["parameter"], fault["pointer"]) == ("reps", "/set/reps")
    assert fault["allowed"]


@pytest.mark.parametrize("query", ["load=%ff", "load=100kg&x=%C3", "%ff=1"])
def test_a_query_that_is_no_text_cannot_be_read(query: str) -> None:
    assert app.get(f"/v1/load-for-reps?{query}").status_code == 400


def test_longest_address() -> None:
    room = MOST_CHARACTERS - len(ASKED) - len("&x=")
    assert app.get(f"{ASKED}&x={'1' * room}").status_code == 422
    reply = app.get(f"{ASKED}&x={'1' * (room + 1)}")
    assert (reply.status_code, reply.json()["type"]) == (414, "/problems/uri-too-long")


def test_head_and_options() -> None:
    got, head, options = app.get(ASKED), app.head(ASKED), app.options(ASKED)
    assert (head.status_code, head.content) == (200, b"")
    assert {**got.headers, "x-request-id": ""} == {**head.headers, "x-request-id": ""}
    assert (options.status_code, options.headers["allow"]) == (204, "GET, HEAD, POST, OPTIONS")
    assert app.head("/v1/load-for-reps").status_code == 422
