"""Tables of questions: every row answered as by itself, the others unharmed by a bad one, and CSV as in RFC 4180."""

from __future__ import annotations

import csv
import io
import json
import re
import threading
import time
from typing import Any, Final

import pytest
from httpx import Response

from service.api.bulk.dialects import MOST_ROWS
from service.api.bulk.tables import table_path
from service.api.models.operation import Operation
from service.api.openapi.bulk_operations import example_table
from service.api.operations.registry import OPERATIONS
from service.api.serialization.columns import columns_of
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from service.settings import Settings
from tests.support.in_process import client, name_of
from tests.support.live import Live

app: Final = client()
PATH: Final = "/v1/tables/load-for-reps"
HEADER: Final = "load,reps,target_reps,exercise\r\n"
ROW: Final = "100kg,5,8,\r\n"


def send(body: str | bytes, path: str = PATH, media_type: str = "text/csv", **headers: str) -> Response:
    return app.post(path, content=body, headers={"content-type": media_type} | headers)


def rows(reply: Response) -> list[dict[str, str]]:
    assert reply.status_code == 200, reply.text
    assert reply.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    lines = reply.text.split("\r\n")
    assert lines[-1] == ""
    return list(csv.DictReader(io.StringIO(reply.text, newline=""), strict=True))


def read(reply: Response) -> list[dict[str, str]]:
    """The rows of a table in any dialect: the separator is the first sign in it that can be one."""
    assert reply.status_code == 200, reply.text
    text = reply.text.removeprefix("\ufeff")
    text = text.partition("\r\n")[2] if text.startswith("sep=") else text
    separator = next(sign for sign in text if sign in ",;\t")
    return list(csv.DictReader(io.StringIO(text, newline=""), delimiter=separator, strict=True))


def problem(reply: Response, status: int) -> dict[str, Any]:
    assert (reply.status_code, reply.headers["content-type"]) == (status, "application/problem+json"), reply.text
    found: dict[str, Any] = reply.json()
    return found


@pytest.mark.parametrize("operation", OPERATIONS, ids=name_of)
def test_every_row_is_answered_as_by_itself(operation: Operation) -> None:
    reader: Reader[Any] = Reader(operation.request)
    form = QueryForm(operation, reader)
    found = rows(send(example_table(operation), table_path(operation)))
    assert len(found) == len(operation.examples)
    for row, example in zip(found, operation.examples, strict=True):
        alone = app.get(f"{operation.path}?{form.query(reader.fit(example.request))}&as=csv")
        (expected,) = csv.DictReader(io.StringIO(alone.text, newline=""))
        assert {name: row[name] for name in columns_of(operation.answer).names} == expected
        assert row["error"] == ""


def test_a_bad_row_is_answered_in_its_place_and_harms_no_other() -> None:
    bad = ["abc,5,8,", "100kg,5,99,", "100kg,5", "100kg,5,8,handstand", ",5,8,", "100kg,5,8,,1", "=1+1,5,8,"]
    found = rows(send(HEADER + ROW + "".join(f"{line}\r\n{ROW}" for line in bad)))
    assert len(found) == 2 * len(bad) + 1
    assert all(row == found[0] and not row["error"] and row["/load/value"] for row in found[::2])
    for row in found[1::2]:
        assert row["/load/value"] == ""
        assert row["error"]
        assert "\n" not in row["error"]
    told = [row["error"] for row in found[1::2]]
    assert "load: " in told[0]
    assert "target_reps: " in told[1]
    assert told[2].startswith("target_reps: This field is required and missing.")
    assert told[5] == "The row has 5 cells, the header 4."
    assert "exercise: " in told[3]


@pytest.mark.parametrize(
    "body",
    [
        '"load","reps","target_reps"\r\n"100kg","5","8"\r\n',
        "\ufeffload,reps,target_reps\r\n100kg,5,8\r\n",
        "load,reps,target_reps\n100kg,5,8\n",
        "load,reps,target_reps\r\n\r\n100kg,5,8\r\n\r\n",
        "target_reps,load,reps\r\n8,100kg,5",
        "load;reps;target_reps\r\n100kg;5;8\r\n",
        "load\treps\ttarget_reps\r\n100kg\t5\t8\r\n",
        "sep=;\r\nload;reps;target_reps\r\n100kg;5;8\r\n",
        "load, reps ,Target reps\r\n100kg, 5 , 8\r\n",
        "load,reps,target_reps,,\r\n100kg,5,8,,,,\r\n,,\r\n",
    ],
    ids=[
        "quotes",
        "byte order mark",
        "line feeds",
        "empty lines",
        "order, no last line end",
        "semicolons",
        "tabs",
        "a line that names the separator",
        "blanks and capitals",
        "empty cells at the ends",
    ],
)
def test_ways_of_writing_a_table(body: str) -> None:
    (row,) = read(send(body))
    (expected,) = rows(send(HEADER + ROW))
    assert row["/load/value"].replace(",", ".") == expected["/load/value"] != ""


def test_cells_come_back_as_they_were_sent() -> None:
    label = 'front, "deep"\r\nsquat'
    found = rows(send(f'load,reps,target_reps,exercise\r\n100kg,5,8,"{label.replace(chr(34), chr(34) * 2)}"\r\n'))
    assert found[0]["exercise"] == label
    assert found[0]["error"]


@pytest.mark.parametrize(
    ("body", "status"),
    [
        (b"load,reps\r\n\xff,5\r\n", 400),
        ('load,reps\r\n"100kg,5\r\n', 400),
        ('load,reps\r\n"100"kg,5\r\n', 400),
        ("", 400),
        ("\r\n\r\n", 400),
        ("load,reps,colour\r\n100kg,5,red\r\n", 422),
        ("load,reps,reps\r\n100kg,5,5\r\n", 422),
        ("load,reps,reps \r\n100kg,5,5\r\n", 422),
        ("load,,reps\r\n100kg,,5\r\n", 422),
        ("load|reps|target_reps\r\n100kg|5|8\r\n", 422),
        ("sep=|\r\nload|reps|target_reps\r\n100kg|5|8\r\n", 400),
        ("load,reps\r\n100kg,5\r\n".encode("utf-16"), 400),
    ],
)
def test_a_table_without_rows_to_answer_is_a_problem(body: str | bytes, status: int) -> None:
    problem(send(body), status)


def test_unknown_and_repeated_columns_are_named() -> None:
    found = problem(send("load,reps,Reps,colour,target_rep\r\n"), 422)["errors"]
    assert {fault["parameter"] for fault in found} == {"Reps", "colour", "target_rep"}
    assert "Did you mean target_reps?" in found[-1]["detail"]
    assert "GET /v1/load-for-reps" in next(fault["allowed"] for fault in found if fault["parameter"] == "colour")


def test_a_coachs_own_headings_lead_to_the_names_of_columns() -> None:
    headings = {
        "Bodyweight": ["lifter_body_mass"],
        "Height": ["lifter_stature"],
        "Lift": ["exercise"],
        "RIR": ["reps_in_reserve"],
        "Pain area": ["complaint_region"],
        "Pain": ["complaint_pain_in_session"],
        "Goal": ["aim"],
        "stature": ["lifter_stature"],
    }
    found = problem(send(f"Athlete,{','.join(headings)}\r\n", path="/v1/tables/adjustments"), 422)["errors"]
    assert {one["parameter"]: one.get("did_you_mean") for one in found} == {"Athlete": None} | headings
    assert "keep=athlete" in found[0]["detail"]
    assert ["allowed" in one for one in found] == [True] + [False] * len(headings)  # once


def test_every_column_of_ones_own_stands_in_the_keep_that_is_proposed() -> None:
    body = "Athlete,Load (kg),Coach,Reps,Group A,target_rep\r\n"
    first, *others = problem(send(body, path="/v1/tables/load-for-reps?keep=coach"), 422)["errors"]
    assert first["detail"].endswith("Your own come back where the query names them all: keep=athlete,coach,group_a.")
    assert len(first["allowed"]) < 120
    assert [one["parameter"] for one in others] == ["Group A", "target_rep"]


def test_a_title_above_the_names_is_said_to_have_to_go() -> None:
    (fault,) = problem(send("Team 2026,,\r\n,,\r\nload,reps,target_reps\r\n100kg,5,5\r\n"), 422)["errors"]
    assert fault["parameter"] == "Team 2026"
    assert "a title and other lines above the names have to go" in fault["detail"]


def test_a_table_in_another_encoding_is_told_how_to_be_saved() -> None:
    assert "save it as CSV UTF-8" in problem(send("name,load\r\nMüller,60kg\r\n".encode("latin-1")), 400)["detail"]


def test_of_a_long_list_of_what_is_allowed_a_cell_has_the_beginning() -> None:
    body = "lifter_body_mass,lifter_stature,exercise,sets,reps,load,complaint_region,complaint_pain_in_session,aim\r\n"
    (row,) = rows(send(f"{body}64kg,168cm,,4,5-6,60kg,low_back,4,strength\r\n", path="/v1/tables/adjustments"))
    assert re.search(r"one of: back_extension, .* … and \d\d more", row["error"])
    assert len(row["error"]) < 400


def test_media_types() -> None:
    assert problem(send(HEADER, media_type="application/json"), 415)
    assert send(HEADER, media_type="application/json").headers["accept"] == "text/csv"
    assert problem(send(HEADER, media_type="text/csv; charset=latin-1"), 415)
    assert send(HEADER, media_type="text/csv; charset=UTF-8; header=present").status_code == 200
    for accept in ("application/json", "text/csv;q=0", "image/png"):
        found = send(HEADER + ROW, accept=accept)
        assert (found.status_code, found.headers["content-type"].split(";")[0]) == (200, "text/csv")
    assert problem(send(HEADER, path=f"{PATH}?as=csv"), 400)
    assert problem(send(HEADER, path="/v1/tables/nothing"), 404)


def test_most_rows() -> None:
    assert len(rows(send(HEADER + "x\r\n" * MOST_ROWS))) == MOST_ROWS
    problem(send(HEADER + "x\r\n" * (MOST_ROWS + 1)), 413)


def test_body_has_a_limit_of_its_own() -> None:
    small = client(max_bulk_body=2048)
    fits, large = HEADER + ROW, HEADER + ROW * 300
    for body, status in ((fits, 200), (large, 413)):
        assert small.post(PATH, content=body, headers={"content-type": "text/csv"}).status_code == status
    assert len(large) < Settings().max_bulk_body


def test_others_are_served_meanwhile(served: Live) -> None:
    """A short question that arrives while a long table is answered need not wait for its end."""
    body = (HEADER + ROW * MOST_ROWS).encode()
    took: list[float] = []

    def ask_for_the_table() -> None:
        began = time.perf_counter()
        assert served.ask("POST", PATH, body, {"Content-Type": "text/csv"}).status == 200
        took.append(time.perf_counter() - began)

    table = threading.Thread(target=ask_for_the_table)
    table.start()
    waits = []
    while table.is_alive():
        began = time.perf_counter()
        assert json.loads(served.ask("GET", "/readyz").body)["status"] == "ready"
        waits.append(time.perf_counter() - began)
    table.join()
    assert len(waits) >= 5
    assert max(waits) < took[0] / 2
