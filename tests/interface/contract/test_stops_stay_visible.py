"""Whatever part of an answer is chosen, in a cell, a table or JSON: that the training stops is never left out."""

from __future__ import annotations

import copy
import csv
import io
from typing import Any, Final

import pytest

from service.api.bulk.table_query import listed_rows
from service.api.models.operation import Operation
from service.api.models.stop_line import can_stop
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from tests.support.in_process import BY_NAME, client

app: Final = client()
STOPPING: Final = [operation for operation in OPERATIONS if can_stop(operation.answer)]
SIGN: Final = "saddle_numbness"
FIRST_WORDS: Final = {
    "refer": "Stop now. This can be an emergency",
    "confirm_first": "Training at this age needs a qualified adult",
    "pause_and_review": "Stop this lift today",
}
NO_NUMBERS: Final = {
    "adjustments": ("/options", "/options/0/words", "/options/0/prescription/load"),
    "week-adjustments": ("/options", "/options/0/words", "/options/0/demand"),
    "session-review": ("/next", "/next/load", "/next/sets"),
    "return-plan": ("/steps", "/steps/0/prescription", "/steps/0/prescription/load"),
}
"""Where a cell would be empty in an answer that stops."""


def cases() -> list[Any]:
    found = []
    for operation in STOPPING:
        asked = copy.deepcopy(operation.examples[0].request)
        asked["circumstances"] = {}
        reporting = asked.get("complaint", asked)
        referred, unconfirmed, paused = (copy.deepcopy(asked) for _ in range(3))
        (referred["complaint"] if "complaint" in asked else referred)["signs"] = [SIGN]
        unconfirmed["circumstances"] = {"age": 15}
        found += [(operation, "refer", referred), (operation, "confirm_first", unconfirmed)]
        if "complaint" in asked:
            paused["complaint"]["pain_in_session"] = 9
            found.append((operation, "pause_and_review", paused))
        elif "sessions" in reporting:
            for session in paused["sessions"]:
                session["pain_in_session"] = 9
            found.append((operation, "pause_and_review", paused))
    return [pytest.param(*case, id=f"{case[0].name}-{case[1]}") for case in found]


each_case = pytest.mark.parametrize(("operation", "decision", "asked"), cases())


def texts(operation: Operation, asked: dict[str, Any]) -> dict[str, str]:
    reader: Reader[Any] = Reader(operation.request)
    return QueryForm(operation, reader).flat.to_texts(reader.fit(asked))


def rows(operation: Operation, asked: dict[str, Any], query: str) -> list[dict[str, str]]:
    question, buffer = texts(operation, asked), io.StringIO()
    writer = csv.DictWriter(buffer, list(question))
    writer.writeheader()
    writer.writerow(question)
    path = f"/v1/tables/{operation.name}{query}"
    reply = app.post(path, content=buffer.getvalue().encode(), headers={"content-type": "text/csv"})
    assert reply.status_code == 200, reply.text
    return list(csv.DictReader(io.StringIO(reply.text)))


@each_case
def test_no_choice_of_columns_leaves_it_out(operation: Operation, decision: str, asked: dict[str, Any]) -> None:
    (listed, *_) = listed_rows(operation.answer)
    for query in ("", "?columns=/basis/method/text", f"?rows={listed}&columns=/basis/evidence"):
        for row in rows(operation, asked, query):
            assert row["stop"].startswith(f"{decision}: {FIRST_WORDS[decision]}")
            assert "\n" not in row["stop"]
            assert row["error"] == ""


@each_case
@pytest.mark.parametrize("form", ["text", "csv"])
def test_no_empty_cell_stands_for_it(operation: Operation, decision: str, asked: dict[str, Any], form: str) -> None:
    for pointer in NO_NUMBERS[operation.name]:
        question = {**texts(operation, asked), "as": form, "select": pointer}
        refused = app.get(operation.path, params=question)
        assert refused.status_code == 422
        assert refused.text.startswith(f"{decision}: {FIRST_WORDS[decision]}")
        said = app.get(operation.path, params={**question, "errors": "text"})
        assert said.status_code == 200
        assert f"{decision}: {FIRST_WORDS[decision]}" in said.text


@each_case
def test_no_choice_of_fields_leaves_it_out(operation: Operation, decision: str, asked: dict[str, Any]) -> None:
    part = app.post(f"{operation.path}?fields=basis", json=asked).json()
    stopping = {"refer": "referral", "confirm_first": "confirmation", "pause_and_review": "pause"}[decision]
    assert list(part) == ["decision", stopping, "basis"]
    assert part["decision"] == decision
    item = {"operation": operation.name, "body": asked, "fields": ["basis"]}
    assert app.post("/v1/batch", json={"requests": [item]}).json()["results"][0]["answer"] == part


@pytest.mark.parametrize("operation", STOPPING, ids=lambda one: one.name)
def test_what_does_not_stop_says_nothing_of_it(operation: Operation) -> None:
    asked = operation.examples[0].request
    (row,) = rows(operation, asked, "?columns=/decision")
    assert row["stop"] == ""
    assert list(app.post(f"{operation.path}?fields=basis", json=asked).json()) == ["basis"]


def in_red_tier(operation: Operation) -> dict[str, Any]:
    asked = copy.deepcopy(operation.examples[0].request)
    if "complaint" in asked:
        asked["complaint"]["pain_in_session"] = 6
    else:
        asked["sessions"][-1]["pain_in_session"] = 6
    return asked


@pytest.mark.parametrize(
    "operation", [one for one in STOPPING if "tier" in one.answer.__struct_fields__], ids=lambda one: one.name
)
def test_a_stop_for_today_is_said_first_and_never_left_out(operation: Operation) -> None:
    asked = in_red_tier(operation)
    answer = app.post(operation.path, json=asked).json()
    assert answer["tier"] == "red"
    (today,) = (one["text"] for one in answer["why"] if "for today" in one["text"])
    (row,) = rows(operation, asked, "?columns=/basis/method/text")
    assert row["stop"] == f"{answer['decision']}: {today}"
    part = app.post(f"{operation.path}?fields=basis", json=asked).json()
    assert set(part) == {"decision", "why", "basis"}
    assert today in {one["text"] for one in part["why"]}
    sentences = app.post(f"{operation.path}?fields=basis,why.text", json=asked).json()["why"]
    assert sentences == [{"text": one["text"]} for one in answer["why"]]
    for reader in ("lifter", "practitioner"):
        page = app.post(f"{operation.path}?as=markdown&for={reader}", json=asked).text
        assert page.index("for today") < page.index("From the next session" if "complaint" in asked else "Next time")


def test_a_review_of_red_pain_says_first_that_the_lift_stops() -> None:
    answer = app.post("/v1/session-review", json=in_red_tier(BY_NAME["session-review"])).json()
    assert answer["decision"] == "step_back"
    assert answer["why"][0]["text"] == "Pain of 6 of 10 in the session is above 5: stop this lift for today."


def test_other_tables_have_no_such_column() -> None:
    operation = BY_NAME["load-for-reps"]
    (row,) = rows(operation, operation.examples[0].request, "")
    assert "stop" not in row
