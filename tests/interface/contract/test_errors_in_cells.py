"""Cells for programs that show nothing of a problem: errors=text says why there is none, with status 200."""

from __future__ import annotations

from typing import Final

import pytest

from tests.support.in_process import client

app: Final = client()
GOOD: Final = "/v1/load-for-reps?load=62.5kg&reps=5&target_reps=8&select=/load/value&as=text"
BAD: Final = GOOD.replace("target_reps=8", "target_reps=99")


def test_an_answer_is_the_same() -> None:
    assert app.get(f"{GOOD}&errors=text").text == app.get(GOOD).text


@pytest.mark.parametrize(
    "path",
    [
        BAD,
        GOOD.replace("62.5kg", "62.5%20kg"),
        GOOD.replace("select=/load/value", "select=/load"),
        GOOD.replace("select=/load/value", "select=/load/valu"),
        GOOD.replace("select=/load/value&", ""),
        GOOD + "&unknown=1",
        GOOD + "&load=60kg",
        GOOD + "&%ff=1",
        GOOD + "&x=" + "a" * 2048,
    ],
)
def test_why_there_is_none_is_said_in_the_cell(path: str) -> None:
    refused, said = app.get(path), app.get(f"{path}&errors=text")
    assert 400 <= refused.status_code < 500
    assert (said.status_code, said.headers["content-type"]) == (200, "text/plain; charset=utf-8")
    assert (said.headers["cache-control"], len(said.headers["etag"])) == ("private, no-cache", 26)
    assert "\n" not in said.text
    assert said.text
    if refused.headers["content-type"].startswith("text/plain"):
        assert said.text == refused.text


def test_a_table_says_it_in_a_column_of_its_own() -> None:
    said = app.get(BAD.replace("as=text", "as=csv").replace("&select=/load/value", "") + "&errors=text")
    assert (said.status_code, said.headers["content-type"]) == (200, "text/csv; charset=utf-8; header=present")
    assert said.text.startswith('error\r\n"target_reps: ') or said.text.startswith("error\r\ntarget_reps: ")
    assert said.text.endswith("\r\n")
    assert said.text.count("\r\n") == 2


@pytest.mark.parametrize(
    ("query", "words"),
    [
        (
            BAD.replace("as=text", "as=json").replace("&select=/load/value", "") + "&errors=text",
            "with as=csv or as=text",
        ),
        (GOOD + "&errors=json", "text"),
        (GOOD + "&errors=text&errors=text", "more than once"),
    ],
)
def test_where_it_cannot_be_wanted(query: str, words: str) -> None:
    reply = app.get(query)
    assert reply.status_code == (200 if query.endswith("errors=text&errors=text") else 422)
    assert words in reply.text
    assert "errors" in reply.text


def test_limits_and_faults_of_the_service_keep_their_status() -> None:
    assert app.get("/v1/nothing?as=text&errors=text").status_code == 404
    assert app.delete("/v1/load-for-reps?as=text&errors=text").status_code == 405


def test_a_cell_names_what_is_near_instead_of_all_that_is_allowed() -> None:
    said = app.get(f"{GOOD}&exercise=squat").text
    assert said.endswith("Did you mean back_squat_high_bar or back_squat_low_bar?")
    assert "Allowed: one of: " in app.get(f"{GOOD}&exercise=breakfast").text


@pytest.mark.parametrize(
    ("text", "mended"),
    [("62,5kg", "62.5kg"), ("407.5 lb", "407.5lb"), ("407,5 LB", "407.5lb"), ("62.5 kilos", "62.5kg")],
)
def test_a_quantity_that_is_almost_right_is_shown_as_it_would_be_taken(text: str, mended: str) -> None:
    """In an address, which takes one form alone."""
    path = "/v1/load-for-reps?reps=5&target_reps=8"
    (fault,) = app.get(path, params={"reps": "5", "target_reps": "8", "load": text}).json()["errors"]
    assert f"It has to be written {mended}: with a decimal point and without blanks." in fault["detail"]
    assert fault["example"] == mended
    assert app.get(path, params={"reps": "5", "target_reps": "8", "load": mended}).status_code == 200


@pytest.mark.parametrize("text", ["1,250kg", "62.5stone", "62.5", "kg", "62,5,5kg", "a bit"])
def test_where_it_is_not_known_what_is_meant_nothing_is_proposed(text: str) -> None:
    (fault,) = app.get("/v1/load-for-reps", params={"reps": "5", "target_reps": "8", "load": text}).json()["errors"]
    assert "has to be written" not in fault["detail"]


def test_ranges_and_numbers_are_shown_as_they_would_be_taken_too() -> None:
    asked = {"sets": "4", "reps": "5 - 6", "load": "62.5kg", "new_load": "55kg", "reps_in_reserve": "2,5"}
    found = {one["parameter"]: one["example"] for one in app.get("/v1/rep-targets", params=asked).json()["errors"]}
    assert found == {"reps": "5-6", "reps_in_reserve": "2.5"}


def test_what_is_no_single_cell_names_those_in_it() -> None:
    said = app.get(GOOD.replace("select=/load/value", "select=/load")).text
    assert "is no single value; it has /load/value, /load/low, /load/high" in said
    said = app.get(GOOD.replace("select=/load/value", "select=/relations")).text
    assert "it has /relations/0" in said
    assert len(said) < 400
