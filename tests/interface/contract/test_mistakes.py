"""What clients get wrong most: what to do in a sentence, a value that would be taken, what was probably meant."""

from __future__ import annotations

import copy
import json
from typing import Any, Final

import pytest
from httpx import Response

from service.api.models.operation import Operation
from service.api.operations.registry import OPERATIONS
from tests.support.in_process import BY_NAME, client, name_of

app: Final = client()
LOAD: Final = "/v1/load-for-reps"
ADJUST: Final = "/v1/adjustments"
SET: Final[dict[str, Any]] = {
    "set": {"load": {"value": 62.5, "unit": "kg"}, "reps": 6, "reps_in_reserve": 2},
    "target": {"reps": 9},
}
COMPLAINT: Final[dict[str, Any]] = BY_NAME["adjustments"].examples[0].request
ASKED: Final = {"load": "62.5kg", "reps": "6", "target_reps": "9"}
OWN: Final = "4971"  # in what a client sends, so that its return would be seen


def changed(request: dict[str, Any], pointer: str, *value: Any) -> dict[str, Any]:  # noqa: ANN401 - any JSON value
    """A request with a value in another's place, or without it."""
    request = copy.deepcopy(request)
    *steps, last = pointer.split("/")[1:]
    inside = request
    for step in steps:
        inside = inside[step]
    inside.pop(last, None)
    if value:
        (inside[last],) = value
    return request


def posted(path: str, body: object) -> Response:
    content = body if isinstance(body, bytes) else json.dumps(body).encode()
    return app.post(path, content=content, headers={"content-type": "application/json"})


def fault_at(reply: Response, pointer: str) -> dict[str, Any]:
    """The fault at a pointer or of a parameter."""
    assert 400 <= reply.status_code < 500, reply.text
    faults: list[dict[str, Any]] = reply.json()["errors"]
    return next(fault for fault in faults if pointer in (fault.get("parameter"), fault["pointer"]))


MASS: Final = {"value": 62.5, "unit": "kg"}
VALUES: Final = {
    "text of a quantity": (LOAD, "/set/load", "62.5 kg", "In JSON a quantity is an object with value and unit.", MASS),
    "without a space": (LOAD, "/set/load", "62.5kg", "In JSON a quantity is an object with value and unit.", MASS),
    "with a comma": (LOAD, "/set/load", "62,5 kg", "In JSON a quantity is an object with value and unit.", MASS),
    "no unit": (LOAD, "/set/load", 62.5, "A number alone has no unit.", MASS),
    "null for a quantity": (LOAD, "/set/load", None, "This may not be null.", MASS),
    "text of a value": (LOAD, "/set/load/value", "62.5", "a number stands without quotation marks", 62.5),
    "too heavy": (LOAD, "/set/load/value", 3000, "The value is too large.", 62.5),
    "stone": (LOAD, "/set/load/unit", "stone", "not one of those known here", "kg"),
    "text of a number": (LOAD, "/set/reps", "5", "a number stands without quotation marks", 6),
    "range for a number": (LOAD, "/set/reps", "5-6", "One number belongs here, not a range.", 6),
    "object for a number": (LOAD, "/set/reps", MASS, "A number alone belongs here, without a unit.", 6),
    "unit in a number": (LOAD, "/set/reps", "5 reps", "A number alone belongs here, without a unit.", 6),
    "null for a number": (LOAD, "/set/reps", None, "This may not be null.", 6),
    "a half": (LOAD, "/set/reps", 5.5, "not a whole one", 6),
    "none": (LOAD, "/set/reps", 0, "The value is too small.", 6),
    "too many": (LOAD, "/set/reps", 500, "The value is too large.", 6),
    "null that may be left out": (LOAD, "/target/reps_in_reserve", None, "leave the field out instead", 2),
    "text of a range": (ADJUST, "/prescription/reps", "5-6", "a range is an object", {"low": 5, "high": 6}),
    "number for a range": (ADJUST, "/prescription/reps", 5, "For one number both are the same.", {"low": 5, "high": 6}),
    "list for a range": (ADJUST, "/prescription/reps", [5, 6], "a range is an object", {"low": 5, "high": 6}),
    "sets and repetitions": (ADJUST, "/prescription/sets", "4x5", "This is a text", 4),
    "yes": (ADJUST, "/circumstances", {"pregnant": "yes"}, "", None),
    "one item without its list": (ADJUST, "/constraints/levers", "load", "A list stands in square brackets", None),
    "no region": (ADJUST, "/complaint/region", None, "This may not be null.", "low_back"),
}


@pytest.mark.parametrize("case", VALUES)
def test_a_value_that_does_not_fit(case: str) -> None:
    path, pointer, value, words, example = VALUES[case]
    reply = posted(path, changed(SET if path == LOAD else COMPLAINT, pointer, value))
    fault = fault_at(reply, pointer + ("/pregnant" if case == "yes" else ""))
    assert words in fault["detail"]
    assert fault["allowed"]
    assert "example" in fault
    assert example is None or fault["example"] == example


@pytest.mark.parametrize(
    ("pointer", "quantity", "allowed", "example"),
    [
        ("/lifter/stature", {"value": "5ft10", "unit": "ft"}, "4.27 to 7.54 ft", 5.51),
        ("/lifter/stature", {"value": 510, "unit": "in"}, "51.2 to 90.5 in", 66.1),
        ("/lifter/stature", {"unit": "m"}, "1.3 to 2.3 m", 1.68),
        ("/lifter/stature", {"value": 510, "unit": "cm"}, "130 to 230 cm", 168),
        ("/lifter/stature", {"value": "5ft10", "unit": "'"}, "130 to 230 cm", 168),
        ("/lifter/body_mass", {"value": "181", "unit": "lb"}, "66.2 to 551 lb", 141),
        ("/prescription/hold", {"value": -1, "unit": "s"}, "0 to 300 s", 60),
        ("/prescription/technique", {"bench_angle": {"value": "flat", "unit": "deg"}}, "-25 to 60 deg", 1),
    ],
)
def test_a_number_is_told_the_bounds_of_its_field_in_the_unit_that_was_sent(
    pointer: str, quantity: dict[str, Any], allowed: str, example: float
) -> None:
    asked = changed(COMPLAINT, pointer, quantity)
    where = f"{pointer}{'/bench_angle' if 'bench_angle' in quantity else ''}"
    fault = fault_at(posted(ADJUST, asked), f"{where}/value")
    assert (fault["allowed"], fault["example"]) == (allowed, example)
    assert "How many of the unit" not in fault["detail"]


def test_yes_for_true() -> None:
    fault = fault_at(
        posted(ADJUST, changed(COMPLAINT, "/circumstances", {"pregnant": "yes"})), "/circumstances/pregnant"
    )
    assert (fault["allowed"], fault["example"]) == ("true or false", True)
    assert "Write true or false, without quotation marks." in fault["detail"]


@pytest.mark.parametrize(
    ("unit", "meant"), [("kgs", "kg"), ("KG", "kg"), ("kilos", "kg"), ("lbs", "lb"), ("pounds", "lb")]
)
def test_a_unit_by_another_name(unit: str, meant: str) -> None:
    fault = fault_at(posted(LOAD, changed(SET, "/set/load/unit", unit)), "/set/load/unit")
    assert (fault["did_you_mean"], fault["example"]) == ([meant], meant)
    assert fault["detail"].endswith(f"Did you mean {meant}?")


@pytest.mark.parametrize(
    ("name", "meant"),
    [
        ("squat", ["back_squat_high_bar", "back_squat_low_bar"]),
        ("bench", ["bench_press"]),
        ("deadlift", ["deadlift_conventional"]),
        ("frontSquat", ["front_squat"]),
    ],
)
def test_an_exercise_by_its_name_of_the_trade(name: str, meant: list[str]) -> None:
    """A name that several exercises have lists them all."""
    fault = fault_at(posted(LOAD, SET | {"exercise": name}), "/exercise")
    assert (fault["did_you_mean"], fault["example"]) == (meant, meant[0])


@pytest.mark.parametrize(
    ("path", "pointer", "meant"),
    [
        (LOAD, "/set/rep", ["reps"]),
        (LOAD, "/set/repsInReserve", ["reps_in_reserve"]),
        (LOAD, "/set/rpe", ["reps_in_reserve"]),
        (LOAD, "/set/weight", ["load"]),
        (ADJUST, "/lifter/height", ["stature"]),
        (ADJUST, "/prescription/reps/reps_in_reserve", ["/prescription/reps_in_reserve"]),
        (ADJUST, "/sets", ["/prescription/sets"]),
        (ADJUST, "/region", ["/complaint/region"]),
        (ADJUST, "/prescription/pain_in_session", ["/complaint/pain_in_session"]),
    ],
)
def test_a_field_of_another_name_or_in_another_place(path: str, pointer: str, meant: list[str]) -> None:
    fault = fault_at(posted(path, changed(SET if path == LOAD else COMPLAINT, pointer, 2)), pointer)
    assert fault["did_you_mean"] == meant
    assert fault["detail"].endswith(f"{meant[0]}?" if "/" not in meant[0] else f"It belongs at {meant[0]}.")
    assert fault["allowed"].startswith("fields: ")


def test_a_field_of_an_entry_of_a_list_belongs_into_this_entry() -> None:
    week = BY_NAME["week-demand"].examples[0].request
    flat = [{"day": 1, "exercise": "front_squat"}, {"day": 2, "exercise": "front_squat"}]
    fault = fault_at(posted("/v1/week-demand", week | {"week": flat}), "/week/1/exercise")
    assert fault["did_you_mean"] == ["/week/1/prescription/exercise"]
    assert fault["detail"].endswith("It belongs at /week/1/prescription/exercise.")


def test_a_lift_that_hurts_is_named_by_its_place_in_the_week() -> None:
    week = BY_NAME["week-adjustments"].examples[0].request
    fault = fault_at(posted("/v1/week-adjustments", week | {"hurts": ["deadlift"]}), "/hurts/0")
    assert "Places in `week` of the lifts that hurt, counted from 0" in fault["detail"]


def test_a_field_in_the_place_of_a_missing_one_that_holds_the_same_is_meant_for_it() -> None:
    plan = BY_NAME["return-plan"].examples[0].request
    misnamed = changed(plan, "/adjusted") | {"prescription": plan["adjusted"]}
    reply = posted("/v1/return-plan", misnamed)
    assert fault_at(reply, "/prescription")["did_you_mean"] == ["adjusted"]
    assert fault_at(reply, "/prescription")["detail"].endswith("Did you mean adjusted?")
    assert "required and missing" in fault_at(reply, "/adjusted")["detail"]


def test_what_is_missing_is_shown() -> None:
    reply = posted(LOAD, {"target": {"reps": 9}})
    fault = fault_at(reply, "/set")
    assert fault["example"]["load"] == MASS
    assert reply.json()["detail"] == f"/set: {fault['detail']}"
    assert fault["allowed"] == "an object with load and reps (a whole number 1 to 100)"


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (b"", "The body is empty"),
        (b" \n", "The body is empty"),
        (b"hello", "not readable JSON"),
        (b"load=62.5kg&reps=6", "It looks like the fields of a form"),
        (b"{'set': 1}", "double quotation marks"),
        (b'{"set": {"reps": 6},}', "not readable JSON: Expecting property name"),
        (b"\xef\xbb\xbf{}", "begins with a byte order mark"),
        ('{"set": 1}'.encode("utf-16"), "not in UTF-8"),
    ],
)
def test_a_body_that_is_no_json(body: bytes, words: str) -> None:
    reply = posted(LOAD, body)
    assert reply.status_code == 400
    assert words in reply.json()["detail"]
    (fault,) = reply.json()["errors"]
    assert fault["pointer"] == ""
    assert posted(LOAD, fault["example"]).status_code == 200


@pytest.mark.parametrize("operation", OPERATIONS, ids=name_of)
def test_a_whole_question_as_an_example_is_the_plain_one_without_signs(operation: Operation) -> None:
    (fault,) = posted(operation.path, b"no JSON").json()["errors"]
    assert fault["example"] == operation.examples[0].request
    assert "signs" not in json.dumps(fault["example"])


@pytest.mark.parametrize(
    ("body", "words"), [([SET], "One object belongs here, not a list."), (json.dumps(SET), "it was encoded twice")]
)
def test_json_that_is_no_question(body: object, words: str) -> None:
    fault = fault_at(posted(LOAD, body), "")
    assert words in fault["detail"]
    assert posted(LOAD, fault["example"]).status_code == 200


@pytest.mark.parametrize(
    ("content_type", "words"), [(None, "has no Content-Type"), ("text/plain", "Content-Type: application/json")]
)
def test_a_body_that_does_not_say_that_it_is_json(content_type: str | None, words: str) -> None:
    headers = {"content-type": content_type} if content_type else {}
    reply = app.post(LOAD, content=json.dumps(SET).encode(), headers=headers)
    assert reply.status_code == 415
    assert words in reply.json()["detail"]


@pytest.mark.parametrize(
    ("path", "meant"),
    [
        ("/v1/adjustment", ["/v1/adjustments"]),
        ("/adjustments", ["/v1/adjustments"]),
        ("/v1/load_for_reps", [LOAD]),
        ("/v1/loadForReps", [LOAD]),
        ("/v1/exercise", ["/v1/exercises"]),
        ("/v1/exercises/bench", ["bench_press"]),
    ],
)
def test_an_address_that_is_not_there(path: str, meant: list[str]) -> None:
    reply = app.get(path)
    assert reply.status_code == 404
    assert reply.json()["did_you_mean"] == meant
    assert f"Did you mean {meant[0]}?" in reply.json()["detail"]


def test_no_address_is_made_up() -> None:
    assert "did_you_mean" not in app.get("/v1/breakfast").json()


@pytest.mark.parametrize(
    ("method", "path", "words"),
    [
        ("PUT", LOAD, "A question is the body of a POST, in JSON, or the query of a GET."),
        ("GET", "/v1/batch", "The questions are the body of a POST."),
        ("POST", "/v1/exercises", "It is read, and takes no question."),
    ],
)
def test_a_method_that_is_not_taken(method: str, path: str, words: str) -> None:
    reply = app.request(method, path)
    assert reply.status_code == 405
    assert words in reply.json()["detail"]


@pytest.mark.parametrize(
    ("parameters", "name", "example", "meant"),
    [
        ({"load": "62.5"}, "load", "62.5kg", None),
        ({"load": "62.5lbs"}, "load", "62.5kg", ["lb"]),
        ({"reps": "5-6"}, "reps", "6", None),
        ({"reps": "500"}, "reps", "6", None),
        ({"rep": "5"}, "rep", None, ["reps"]),
        ({"weight": "60kg"}, "weight", None, ["load"]),
        ({"exercise": "bench"}, "exercise", "bench_press", ["bench_press"]),
        ({"as": "jsn"}, "as", "json", ["json"]),
    ],
)
def test_a_parameter_that_does_not_fit(
    parameters: dict[str, str], name: str, example: str | None, meant: list[str] | None
) -> None:
    """Examples of parameters are written as in a query."""
    fault = fault_at(app.get(LOAD, params=ASKED | parameters), name)
    assert (fault.get("example"), fault.get("did_you_mean")) == (example, meant)


def test_a_filter_that_does_not_fit() -> None:
    assert app.get("/v1/signs", params={"region": "knees"}).json()["did_you_mean"] == ["knee"]


def test_a_cell_has_the_example_in_its_line() -> None:
    """A header of unknown columns, and a cell that does not fit."""
    csv = {"content-type": "text/csv"}
    (fault,) = app.post(f"/v1/tables{LOAD[3:]}", content="load,rep\r\n1,1\r\n", headers=csv).json()["errors"]
    assert fault["did_you_mean"] == ["reps"]
    table = app.post(f"/v1/tables{LOAD[3:]}", content="load,reps,target_reps\r\n62.5,6,9\r\n", headers=csv).text
    assert "Example: 62.5kg" in table.splitlines()[1]


def test_a_text_that_is_too_long_is_told_how_long_it_may_be() -> None:
    """It was told a pattern."""
    setup = {"label": "x" * 61, "exercise": "front_squat", "load": MASS}
    (fault,) = posted("/v1/spinal-load", {"setups": [setup, setup | {"label": "short"}]}).json()["errors"]
    assert fault["allowed"].startswith("a text of 1 to 60 characters, such as ")


def test_an_item_of_a_batch() -> None:
    items = [
        {"operation": "load_for_reps", "body": SET},
        {"operation": "load-for-reps", "body": changed(SET, "/set/load", "62.5 kg")},
        {"operation": "load-for-reps"},
    ]
    unnamed, misfit, empty = (
        result["problem"]["errors"][0] for result in posted("/v1/batch", {"requests": items}).json()["results"]
    )
    assert (unnamed["example"], unnamed["did_you_mean"]) == ("load-for-reps", ["load-for-reps"])
    assert (misfit["pointer"], misfit["example"]) == ("/body/set/load", MASS)
    assert posted(LOAD, empty["example"]).status_code == 200
    (fault,) = posted("/v1/batch", items).json()["errors"]
    assert posted("/v1/batch", fault["example"]).json()["results"][0]["status"] == 200


@pytest.mark.parametrize("value", [f"{OWN} kg", OWN, int(OWN), [int(OWN)], {"value": int(OWN), "unit": OWN}])
def test_no_value_of_the_client_comes_back(value: object) -> None:
    """What is sent may be about somebody's health; a problem may be written to a log on its way."""
    for pointer in ("/complaint/pain_in_session", "/lifter/body_mass", "/prescription/load", "/complaint/region"):
        reply = posted(ADJUST, changed(COMPLAINT, pointer, value))
        assert reply.status_code == 422
        assert OWN not in reply.text
