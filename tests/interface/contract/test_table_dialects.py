"""A table in any dialect of a spreadsheet has the answers that it has as RFC 4180 writes it, in its own dialect."""

from __future__ import annotations

import csv
import io
import math
import random
import re
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.api.bulk.tables import Tables
from service.api.models.operation import Operation
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from service.api.serialization.typed import UNIT_NAMES
from tests.support.in_process import client, name_of

app: Final = client()
CHEAP: Final = [operation for operation in OPERATIONS if operation.cost <= 10]
PATH: Final = "/v1/tables/load-for-reps"
PLAIN: Final = "load,reps,target_reps\r\n62.5kg,5,8\r\n60kg,4,9\r\n"
DECIMAL: Final = re.compile(r"(?<=[0-9])\.(?=[0-9])")
THOUSANDS: Final = re.compile(r"(?<![0-9.,])[1-9][0-9]{0,2}\.[0-9]{3}(?![0-9.,])")


def answered(body: bytes, operation: str = "load-for-reps", query: str = "") -> str:
    reply = app.post(f"/v1/tables/{operation}{query}", content=body, headers={"content-type": "text/csv"})
    assert reply.status_code == 200, reply.text
    return reply.content.decode()


def table(text: str, separator: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))


def typed_otherwise(cell: str, name: str, form: QueryForm, dice: random.Random, *, comma: bool) -> str:
    """A cell as someone may type it: blanks, units in capitals and by other names, decimal comma."""
    leaf = form.flat.leaves[name]
    unit = re.fullmatch(r"(-?[0-9.]+)([a-z]+)", cell)
    if unit and unit[2] in UNIT_NAMES and leaf.decimals:
        other = dice.choice([each for each, meant in UNIT_NAMES.items() if meant == unit[2]])
        cell = unit[1] + dice.choice(["", " ", "\u00a0"]) + dice.choice([other, other.upper(), other.title()])
    if leaf.text_form.schema["type"] == "boolean" and leaf.item is None:
        cell = cell.upper()
    if comma and leaf.decimals and not THOUSANDS.search(cell):
        cell = DECIMAL.sub(",", cell)
    return dice.choice(["", " "]) + cell + dice.choice(["", " "])


@pytest.mark.parametrize("operation", CHEAP, ids=name_of)
@given(seed=st.integers(0, 2**32), separator=st.sampled_from(",;\t"), mark=st.booleans(), stated=st.booleans())
def test_any_dialect_has_the_same_answers(
    operation: Operation, seed: int, separator: str, *, mark: bool, stated: bool
) -> None:
    dice = random.Random(seed)  # noqa: S311 - no secret
    reader: Reader[Any] = Reader(operation.request)
    form = QueryForm(operation, reader)
    questions = [form.flat.to_texts(reader.fit(example.request)) for example in operation.examples]
    names = sorted({name for question in questions for name in question})
    dice.shuffle(names)
    plain = [names, *([question.get(name, "") for name in names] for question in questions)]
    comma = separator != "," and dice.random() < 0.5
    headings = [dice.choice([name, name.upper(), name.replace("_", " ").capitalize(), f" {name}"]) for name in names]
    cells = [
        [
            typed_otherwise(cell, name, form, dice, comma=comma) if cell else ""
            for cell, name in zip(row, names, strict=True)
        ]
        for row in plain[1:]
    ]
    width = len(names) + dice.randrange(3)
    buffer = io.StringIO()
    writer = csv.writer(buffer, delimiter=separator, lineterminator=dice.choice(["\n", "\r\n"]))
    for row in (headings, *cells):
        writer.writerow(row + [""] * (width - len(names)))
        if dice.random() < 0.3:
            writer.writerow([""] * width)
    start = ("\ufeff" if mark else "") + (f"sep={separator}\r\n" if stated else "")
    whole = b"".join(Tables(operation).read(written(plain)).pieces).decode()
    other = b"".join(Tables(operation).read((start + buffer.getvalue()).encode()).pieces).decode()
    assert other.startswith(start)
    expected, found = table(whole, ","), table(other.removeprefix(start), separator)
    assert [row[len(names) :] for row in found] == [
        [with_comma(cell) if separator == ";" and line else cell for cell in row[len(names) :]]
        for line, row in enumerate(expected)
    ]
    assert not any(row[-1] for row in found[1:])


def written(rows: list[list[str]]) -> bytes:
    buffer = io.StringIO()
    csv.writer(buffer).writerows(rows)
    return buffer.getvalue().encode()


def with_comma(cell: str) -> str:
    """A number with a decimal comma; another cell as it is."""
    try:
        return cell.replace(".", ",") if math.isfinite(float(cell)) else cell
    except ValueError:
        return cell


@pytest.mark.parametrize(
    ("body", "separator"),
    [
        (PLAIN, ","),
        (PLAIN.replace(",", ";"), ";"),
        (PLAIN.replace(",", ";").replace(".", ","), ";"),
        (PLAIN.replace(",", "\t"), "\t"),
        (PLAIN.replace(",", "\t").replace(".", ","), "\t"),
        ("sep=,\r\n" + PLAIN, ","),
        ("sep=;\n" + PLAIN.replace(",", ";"), ";"),
        ('"sep=\t"\r\n' + PLAIN.replace(",", "\t"), "\t"),
        ("\ufeffSEP=;;;\r\n" + PLAIN.replace(",", ";"), ";"),
        ('"load";"reps";"target_reps"\r\n62,5kg;5;8\r\n60kg;4;9\r\n', ";"),
    ],
)
def test_dialects_one_by_one(body: str, separator: str) -> None:
    lines = [
        line for line in answered(body.encode()).splitlines() if not line.lstrip('\ufeff"').lower().startswith("sep=")
    ]
    found = [
        dict(zip(table(lines[0], separator)[0], row, strict=True)) for row in table("\r\n".join(lines[1:]), separator)
    ]
    expected = table(answered(PLAIN.encode()), ",")
    loads = [dict(zip(expected[0], row, strict=True))["/load/value"] for row in expected[1:]]
    assert [row["/load/value"].replace(",", ".") for row in found] == loads
    assert {"," in row["/load/value"] for row in found} == {separator == ";"}
    assert {row["error"] for row in found} == {""}


def test_the_mark_of_the_answer_is_as_the_query_says() -> None:
    sent, query = PLAIN.replace(",", ";"), "?columns=/load/value"
    assert "." in answered(sent.encode(), query=f"{query}&decimal=point").splitlines()[1].split(";")[-2]
    assert "," in answered(sent.encode(), query=query).splitlines()[1].split(";")[-2]
    shown = answered(PLAIN.encode(), query=f"{query}&decimal=comma").splitlines()[1]
    assert re.search(r',"[0-9]+,[0-9]+",$', shown)


def test_what_may_be_a_thousand_is_refused_and_nothing_is_guessed() -> None:
    for cell in ("1,250kg", "1,250 kg", "12,500kg"):
        (_, row) = table(answered(f"load;reps;target_reps\r\n{cell};5;8\r\n".encode()), ";")
        assert row[-1].startswith(
            "load: A comma before three digits may stand for a decimal point or separate thousands."
        )
        assert row[-1].count("load: ") == 1
    # where commas separate cells, none of them is a decimal comma
    (_, row) = table(answered(b'load,reps,target_reps\r\n"62,5kg",5,8\r\n'), ",")
    assert row[-1].startswith("load: ")


def test_in_a_list_commas_separate_its_entries() -> None:
    prescribed = "prescription_exercise;prescription_sets;prescription_reps;prescription_load"
    names = f"{prescribed};region;sessions_pain_in_session;sessions_pain_next_morning;sessions_reps_done"
    cells = 'front_squat;4;5-6;62,5 kg;low_back;3,2;1,1;"6;6;6;6,6;6;6;6"'
    found = table(answered(f"{names}\r\n{cells}\r\n".encode(), "session-review"), ";")
    assert found[1][-1] == ""
    alone = app.get(
        "/v1/session-review?prescription_exercise=front_squat&prescription_sets=4&prescription_reps=5-6&prescription_load=62.5kg&region=low_back"
        "&sessions_pain_in_session=3,2&sessions_pain_next_morning=1,1&sessions_reps_done=6;6;6;6,6;6;6;6&as=text&select=/decision"
    )
    assert dict(zip(*found, strict=True))["/decision"] == alone.text


def test_a_separator_in_a_quoted_heading_separates_nothing() -> None:
    body = '"Name, first";load;reps;target_reps\r\nMia;62,5kg;5;8\r\n'
    reply = app.post(f"{PATH}?keep=name%2C%20first", content=body, headers={"content-type": "text/csv"})
    assert reply.status_code == 422  # keep names two columns, separated by a comma
    body = '"Name\tfirst";load;reps;target_reps\r\nMia;62,5kg;5;8\r\n'
    (_, row) = table(answered(body.encode(), query="?keep=name%09first"), ";")
    assert (row[0], row[-1]) == ("Mia", "")


@pytest.mark.parametrize("cell", ["62.5 stone", "62.5", "kg", "62.5 kg kg", "6 2 kg", "62.5 kg or so", "0x10kg", "½kg"])
def test_other_ways_of_writing_are_refused(cell: str) -> None:
    (_, row) = table(answered(f"load,reps,target_reps\r\n{cell},5,8\r\n".encode()), ",")
    assert row[-1].startswith("load: ")


def test_json_and_addresses_stay_strict() -> None:
    assert app.get("/v1/load-for-reps?load=62.5%20KG&reps=5&target_reps=8").status_code == 422
    asked = {"set": {"load": {"value": 62.5, "unit": "KG"}, "reps": 5}, "target": {"reps": 8}}
    assert app.post("/v1/load-for-reps", json=asked).status_code == 422


def test_a_number_alone_is_a_range_where_only_a_range_is_taken() -> None:
    text = "sets,reps,load,new_load\r\n4,{},62.5kg,55kg\r\n"
    alone, both = (answered(text.format(cell).encode(), "rep-targets") for cell in ("5", "5-5"))
    assert alone.replace("4,5,", "4,5-5,") == both
    assert both.endswith(",\r\n")
    assert app.get("/v1/rep-targets?sets=4&reps=5&load=62.5kg&new_load=55kg").status_code == 422


@pytest.mark.parametrize("heading", ["load (kg)", "Load [KG]", "LOAD ( kilograms )", "load(kg)"])
def test_a_heading_gives_its_unit_to_numbers_alone(heading: str) -> None:
    body = f"{heading};reps;target_reps\r\n62,5;5;8\r\n60 kg;4;9\r\n132 lb;4;9\r\n"
    plain = "load;reps;target_reps\r\n62.5kg;5;8\r\n60kg;4;9\r\n132lb;4;9\r\n"
    found, expected = (table(answered(each.encode()), ";") for each in (body, plain))
    assert found[0][0] == heading
    assert [row[3:] for row in found[1:]] == [row[3:] for row in expected[1:]]
    assert {row[-1] for row in found[1:]} == {""}


def test_a_unit_in_a_heading_is_of_a_quantity_and_one_that_is_known() -> None:
    for heading, meant in (("load (stone)", "load"), ("Body mass [kg]", "lifter_body_mass"), ("reps (kg)", "reps")):
        body = f"{heading},exercise,sets,aim\r\n".encode()
        reply = app.post("/v1/tables/adjustments", content=body, headers={"content-type": "text/csv"})
        assert [one["did_you_mean"] for one in reply.json()["errors"]] == [[meant]]
    (_, row) = table(answered(b"load (cm),reps,target_reps\r\n60,5,8\r\n"), ",")
    assert row[-1].startswith("load: ")
    # one's own heading stays what it is
    (_, row) = table(answered(b"weight (kg),load,reps,target_reps\r\n60,60kg,5,8\r\n", query="?keep=weight (kg)"), ",")
    assert (row[0], row[-1]) == ("60", "")


@pytest.mark.parametrize("cell", ["06. Aug", "6-Aug", "Aug-06", "2026-08-06", "6/8/2026", "45870", "6/8"])
def test_a_date_that_a_spreadsheet_made_of_a_range_is_suspected(cell: str) -> None:
    (_, row) = table(answered(f"sets,reps,load,new_load\r\n4,{cell},62.5kg,55kg\r\n".encode(), "rep-targets"), ",")
    assert row[-1].count("format the column as text") == 1
    assert "Allowed: the low end, a hyphen and the high end" in row[-1]


@pytest.mark.parametrize("cell", ["", "six", "5-6-7", "999"])
def test_other_ranges_that_do_not_fit_are_no_dates(cell: str) -> None:
    (_, row) = table(answered(f"sets,reps,load,new_load\r\n4,{cell},62.5kg,55kg\r\n".encode(), "rep-targets"), ",")
    assert row[-1]
    assert "format the column" not in row[-1]
