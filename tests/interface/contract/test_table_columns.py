"""What the query of a table asks for: chosen columns, a row for each option, columns of one's own; and no formulas."""

from __future__ import annotations

import csv
import io
import re
from typing import Any, Final
from urllib.parse import quote

import pytest
from httpx import Response
from hypothesis import given
from hypothesis import strategies as st

from service.api.bulk.table_query import listed_rows
from service.api.bulk.tables import Tables
from service.api.models.operation import Operation
from service.api.openapi.bulk_operations import example_table
from service.api.operations.registry import OPERATIONS
from service.api.serialization.chosen_columns import chosen_columns
from service.api.serialization.columns import columns_of
from service.api.serialization.json import Reader
from service.http.cells import FORMULA_STARTS, no_formula
from tests.support.in_process import client, name_of

app: Final = client()
SHORT: Final = "/v1/tables/load-for-reps"
CASE: Final = (
    "lifter_body_mass,lifter_stature,lifter_sex,exercise,sets,reps,load,reps_in_reserve,complaint_region,complaint_pain_in_session,aim\r\n"
    "64kg,168cm,female,front_squat,4,5-6,62.5kg,2,low_back,4,strength\r\n"
)
REFERRED: Final = CASE.replace("low_back,4", "low_back,9")
ASKED: Final[dict[str, Any]] = {
    "lifter": {"body_mass": {"value": 64, "unit": "kg"}, "stature": {"value": 168, "unit": "cm"}, "sex": "female"},
    "prescription": {
        "exercise": "front_squat",
        "sets": 4,
        "reps": {"low": 5, "high": 6},
        "load": {"value": 62.5, "unit": "kg"},
        "reps_in_reserve": 2,
    },
    "complaint": {"region": "low_back", "pain_in_session": 4},
    "aim": "strength",
}


def send(body: str | bytes, query: str = "", path: str = SHORT) -> Response:
    return app.post(path + query, content=body, headers={"content-type": "text/csv"})


def rows(reply: Response) -> list[dict[str, str]]:
    assert reply.status_code == 200, reply.text
    return list(csv.DictReader(io.StringIO(reply.text, newline=""), strict=True))


def faults(reply: Response) -> list[dict[str, str]]:
    assert reply.status_code == 422, reply.text
    listed: list[dict[str, str]] = reply.json()["errors"]
    return listed


def adjusted(query: str, body: str = CASE) -> list[dict[str, str]]:
    return rows(send(body, query, "/v1/tables/adjustments"))


@pytest.mark.parametrize("operation", OPERATIONS, ids=name_of)
def test_every_column_can_be_chosen_and_is_the_same(operation: Operation) -> None:
    whole = columns_of(operation.answer)
    chosen, unknown = chosen_columns(operation.answer, whole.names)
    assert not unknown
    assert chosen.names == whole.names
    for example in operation.examples:
        answer = operation.compute(Reader[Any](operation.request).fit(example.request))
        assert chosen.cells(answer) == whole.cells(answer)


def test_the_columns_of_an_option_say_demand_direction_levers_and_why() -> None:
    options = app.post("/v1/adjustments", json=ASKED).json()["options"]
    first = options[0]
    query = (
        "?columns=/decision,/options/0/words,/options/0/levers,/options/0/demand,/options/0/demand/low_back/value,"
        "/options/0/demand/low_back/low,/options/0/why/*/text,/options/0/prescription,/options/9/words"
    )
    (row,) = adjusted(query)
    assert list(row)[-11:] == [*query.removeprefix("?columns=").split(","), "stop", "error"]
    assert row["/options/0/words"] == first["words"]
    assert row["/options/0/levers"] == " | ".join(first["levers"])
    shown = [f"{region} {demand['value']:g}" for region, demand in first["demand"].items()]
    assert row["/options/0/demand"] == " / ".join(shown)
    assert float(row["/options/0/demand/low_back/value"]) == first["demand"]["low_back"]["value"]
    assert float(row["/options/0/demand/low_back/low"]) == first["demand"]["low_back"]["low"]
    assert row["/options/0/why/*/text"] == " | ".join(one["text"] for one in first["why"])
    assert row["/options/0/prescription"].startswith("exercise=front_squat&sets=")
    assert row["/options/9/words"] == ""
    whole = adjusted("")[0]
    assert whole["/options/*/levers"] == " | ".join(" / ".join(option["levers"]) for option in options)
    assert whole["/options/*/demand"].count(" | ") == len(options) - 1


def test_directions_are_said_where_there_is_no_number() -> None:
    body = CASE.replace("front_squat", "leg_extension").replace("low_back", "knee")
    found = adjusted("?rows=options&columns=/options/*/direction,/options/*/demand", body)
    assert any("knee lower" in row["/options/*/direction"] for row in found)


def test_every_option_has_a_row_with_its_question() -> None:
    options = app.post("/v1/adjustments", json=ASKED).json()["options"]
    assert len(options) > 2
    query = "?rows=options&columns=/decision,/options/*/rank,/options/*/words,/options/*/levers,/options/*/why/*/text"
    found = adjusted(query)
    assert [row["/options/*/words"] for row in found] == [option["words"] for option in options]
    assert [row["/options/*/rank"] for row in found] == [str(option["rank"]) for option in options]
    assert [row["/options/*/levers"] for row in found] == [" / ".join(option["levers"]) for option in options]
    assert {(row["load"], row["/decision"], row["error"]) for row in found} == {("62.5kg", "adjust", "")}
    whole = adjusted("?rows=options")
    assert [row["/options/*/words"] for row in whole] == [option["words"] for option in options]
    # without options, and without an answer, one row
    (row,) = adjusted("?rows=options", REFERRED)
    assert row["/options/*/words"] == row["error"] == ""
    (row,) = adjusted("?rows=options", CASE.replace("62.5kg", "much"))
    assert row["error"].startswith("load: ")


@pytest.mark.parametrize("operation", OPERATIONS, ids=name_of)
def test_every_list_of_every_answer_can_have_its_rows(operation: Operation) -> None:
    for name in listed_rows(operation.answer):
        reply = send(example_table(operation), f"?rows={name}", f"/v1/tables/{operation.name}")
        found = rows(reply)
        reader: Reader[Any] = Reader(operation.request)
        answers = [operation.compute(reader.fit(example.request)) for example in operation.examples]
        assert len(found) == sum(len(getattr(answer, name) or [None]) for answer in answers)
        assert not any(row["error"] for row in found)


@pytest.mark.parametrize(
    ("query", "parameter", "words"),
    [
        ("columns=/load/valu", "columns", "Did you mean /load/value?"),
        ("columns=load", "columns", "No answer has a cell load."),
        ("columns=", "columns", "No answer has a cell ."),
        ("columns=/load", "columns", "No answer has a cell /load."),
        ("columns=/basis", "columns", "No answer has a cell /basis."),
        ("columns=/relations/01/relation", "columns", "No answer has a cell /relations/01/relation."),
        ("columns=/relations/²/relation", "columns", "No answer has a cell"),
        ("columns=/relations/0/relation&rows=relations", "columns", "Each of relations has a row of its own"),
        ("rows=relation", "rows", "Did you mean relations?"),
        ("rows=cautions", "rows", "no such list"),
        ("rows=relations&rows=relations", "rows", "more than once"),
        ("decimal=,", "decimal", "no such decimal mark"),
        ("keep=Name", "keep", "The table has no column name."),
        ("keep=load", "keep", "load is a parameter of the question."),
    ],
)
def test_what_cannot_be_wanted_is_refused(query: str, parameter: str, words: str) -> None:
    found = faults(send("load,reps,target_reps\r\n60kg,5,8\r\n", "?" + quote(query, safe="=&/*,")))
    assert [fault["parameter"] for fault in found] == [parameter]
    assert words in found[0]["detail"]


@pytest.mark.parametrize(
    ("query", "status"), [("as=csv", 400), ("column=/load", 400), ("%ff", 400), ("keep=" + "a" * 2048, 414)]
)
def test_what_a_table_does_not_take_is_a_problem(query: str, status: int) -> None:
    assert send("load,reps,target_reps\r\n60kg,5,8\r\n", f"?{query}").status_code == status


def test_own_columns_come_back_and_others_are_refused() -> None:
    body = "Athlete,load,Seen on,reps,target_reps\r\nMia,60kg,Monday,5,8\r\n,60kg,,5,8\r\n"
    found = rows(send(body, "?keep=athlete,seen%20ON"))
    assert [(row["Athlete"], row["Seen on"], row["error"]) for row in found] == [("Mia", "Monday", ""), ("", "", "")]
    assert found[0]["/load/value"] == found[1]["/load/value"] != ""
    refused = faults(send(body, "?keep=Athlete"))
    assert [fault["parameter"] for fault in refused] == ["Seen on"]
    # a misspelt parameter is none of one's own unless one says so
    refused = faults(send("laod,reps,target_reps\r\n60kg,5,8\r\n"))
    assert "Did you mean load?" in refused[0]["detail"]
    for name in ("error", "Error", "stop", "/load/value"):
        refused = faults(send(f"{name},load,reps,target_reps\r\nx,60kg,5,8\r\n", f"?keep={name}"))
        assert refused[0]["detail"] == "The answer has a column of this name."


FORMULAS: Final = (
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(A1)",
    "\t=1",
    " =1+1",
    "＝1+1",
    "\0=1+1",
    "\ufeff=1+1",
    "\u3000=1+1",
    "\x0b\x7f =1+1",
    "=HYPERLINK(1)",
    "-2+3+cmd|' /C calc'!A0",
)


NOTHING_SEEN: Final = "^[ \\0\x0b\x7f\u3000\ufeff]+"


@pytest.mark.parametrize("separator", list(",;\t"))
def test_no_program_that_splits_at_another_sign_makes_a_formula(separator: str) -> None:
    own = ["Mia;=1+1", "Mia,=1+1", "Mia\t=1+1"]
    buffer = io.StringIO()
    writer = csv.writer(buffer, delimiter=separator, quoting=csv.QUOTE_ALL)
    writer.writerows([["name", "load", "reps", "target_reps"], *([name, "60kg", "5", "8"] for name in own)])
    answer = send(buffer.getvalue(), "?keep=name&columns=/load/value").text
    for name, line in zip(own, answer.splitlines()[1:], strict=True):
        assert line.startswith(f'"{name}"{separator}')


def test_a_quotation_mark_that_is_not_closed_is_not_sent_back_before_the_table() -> None:
    reply = send('"sep=;\r\nload;reps;target_reps\r\n60kg;5;8\r\n')
    assert reply.status_code == 400
    assert send('"sep=;"\r\nload;reps;target_reps\r\n60kg;5;8\r\n').status_code == 200


@given(st.sampled_from(sorted(FORMULA_STARTS)), st.text(max_size=20))
def test_no_text_of_a_cell_is_a_formula(start: str, rest: str) -> None:
    shown = no_formula(start + rest)
    assert shown == "'" + start + rest
    assert no_formula(rest).lstrip(" \u00a0")[:1] not in FORMULA_STARTS


def test_no_cell_of_an_answer_is_a_formula() -> None:
    """Own cells, own headings, cells of a question and what is said of them."""
    for formula in FORMULAS:
        buffer = io.StringIO()
        writer = csv.writer(buffer)
        writer.writerow(["load", "reps", "target_reps", f"{formula.strip()} note"])
        writer.writerow([formula, "5", "8", formula])
        writer.writerow(["60kg", "5", "8", formula])
        reply = send(buffer.getvalue(), "?keep=" + quote(f"{formula.strip()} note"))
        for row in csv.reader(io.StringIO(reply.text, newline="")):
            assert not any(re.sub(NOTHING_SEEN, "", cell)[:1] in FORMULA_STARTS for cell in row if cell), row
        assert rows(reply)[1]["/load/value"] != ""
    # and a number stays one, which can be sent again
    body = "load,reps,target_reps,n\r\n60kg,5,8,-2.5\r\n60kg,5,8,+1\r\n60kg,5,8,-2 cm\r\n"
    assert [row["n"] for row in rows(send(body, "?keep=n"))] == ["-2.5", "+1", "-2 cm"]


def test_the_cells_of_an_answer_can_be_sent_again() -> None:
    (operation,) = (one for one in OPERATIONS if one.name == "joint-demand")
    sent = (
        b"lifter_body_mass,lifter_stature,lifter_sex,setups_label,setups_exercise,setups_load,setups_technique_bar_forward_of_midfoot\r\n"
        b'64kg,168cm,female,"a,b","front_squat,front_squat","60kg,60kg","-1cm,2cm"\r\n'
    )
    first = b"".join(Tables(operation).read(sent).pieces).decode()
    header, row = csv.reader(io.StringIO(first, newline=""))
    assert row[6] == "'-1cm,2cm"
    assert row[-1] == ""
    buffer = io.StringIO()
    csv.writer(buffer).writerows([header[:7], row[:7]])
    assert b"".join(Tables(operation).read(buffer.getvalue().encode()).pieces).decode() == first


def test_lines_of_errors_are_no_formulas() -> None:
    reply = app.get("/v1/load-for-reps?as=text&select=/load&=1%2B1=2")
    assert reply.status_code == 422
    reply = app.get("/v1/load-for-reps?load=60kg&reps=5&target_reps=8&as=text&select=/load/value&%3D1%2B1=2")
    assert (reply.status_code, reply.text[:7]) == (422, "'=1+1: ")


@pytest.mark.parametrize(
    "body",
    [
        '"' * 9,
        "sep=",
        "sep=\r\n",
        "sep=;",
        ";;;;",
        "\ufeff\ufeffload,reps\r\n",
        "load;reps,target_reps\r\n60kg;5,8",
        "load\0,reps\r\n60kg,5\r\n",
        "load,reps\r\n" + "," * 20_000,
        "load," * 4000 + "reps\r\n",
        'load;"reps\r\n;60kg;5;8\r\n',
        "\r\r\r\n\n",
        "load,reps,target_reps\r\n" + "9" * 400 + "kg,5,8\r\n",
        "load;reps;target_reps\r\n" + "1,1" * 300 + "kg;5;8\r\n",
        "load,reps,target_reps\r\n" + " " * 9000 + "x" + " " * 6000 + "kg,5,8\r\n",
        "load,reps,target_reps\r\n" + "5-" * 4000 + ",5,8\r\n",
    ],
)
def test_hostile_tables_are_answered_or_refused(body: str) -> None:
    reply = send(body)
    assert reply.status_code in (200, 400, 413, 422)
    if reply.status_code == 200:
        separator = ";" if body.startswith("load;") else ","
        assert all(row["error"] for row in csv.DictReader(io.StringIO(reply.text), delimiter=separator, strict=True))
