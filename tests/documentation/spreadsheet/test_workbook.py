"""The workbook of the demo scenario: its own formulas, against the JSON answers to the same questions."""

from __future__ import annotations

import re
import subprocess
from functools import reduce
from pathlib import Path
from typing import Any, Final, get_args
from urllib.parse import unquote
from zipfile import ZipFile

import pytest

from deploy.examples.make_workbook import FILE, workbook
from deploy.examples.sheets import write
from deploy.examples.team_sheet import TEAM
from deploy.examples.week_sheet import LIFTS, MOST_ADDED, MOST_LIFTS
from deploy.examples.workbook_content import FAILED, NONE
from service.api.docs.course import Asked, Scenario, course
from service.api.models.week import DEMO_WEEK
from service.vocabulary import Aim, Region
from tests.documentation.spreadsheet.conftest import SESSIONS, TEAM_ROW, cell, session_rows
from tests.documentation.spreadsheet.office import Shown
from tests.support.live import Live

LIFTER: Final = {
    "body_mass": {"value": 64, "unit": "kg"},
    "stature": {"value": 168, "unit": "cm"},
    "sex": "female",
}
LOAD: Final = {"value": 62.5, "unit": "kg"}
REPS: Final = {"low": 5, "high": 6}
BAR: Final = {"bar": {"value": 15, "unit": "kg"}}
SET: Final = {"load": LOAD, "reps": 6, "reps_in_reserve": 2}
ORIGINAL: Final = {
    "exercise": "front_squat",
    "sets": 4,
    "reps": REPS,
    "load": LOAD,
    "reps_in_reserve": 2,
    "days_per_week": 2,
}
OTHER: Final = {"value": 55, "unit": "kg"}
# the demo scenario in JSON, by the operation that is asked
ASKED: Final[dict[str, dict[str, Any]]] = {
    "adjustments": {
        "lifter": LIFTER,
        "prescription": ORIGINAL,
        "complaint": {"region": "low_back", "pain_in_session": 4, "usual_pain": 1},
        "aim": "strength",
        "constraints": {"gym": {"bar": BAR}},
    },
    "load-for-reps": {
        "set": SET,
        "target": {"reps": 9, "reps_in_reserve": 2},
        "exercise": "front_squat",
        "bar": BAR,
    },
    "reps-for-load": {"set": SET, "target": {"load": OTHER, "reps_in_reserve": 2}, "exercise": "front_squat"},
    "rep-targets": {
        "current": {"sets": 4, "reps": REPS, "load": LOAD, "reps_in_reserve": 2},
        "new_load": OTHER,
        "exercise": "front_squat",
    },
    "week-adjustments": {
        "lifter": LIFTER,
        "week": DEMO_WEEK,
        "complaint": {"region": "low_back", "pain_in_session": 4, "usual_pain": 1},
        "aim": "strength",
        "limit": 1,
    },
    "bar-loading": {"target": OTHER, "bar": BAR, "rounding": "down"},
    "session-split": {
        "weekly_sets": {"low": 8, "high": 8},
        "days": 3,
        "current_days": 2,
        "reps": REPS,
        "load": LOAD,
    },
    "tempo": {"tempo": "4-1-X-0", "reps": REPS, "sets": 4},
    "joint-demand": {
        "lifter": LIFTER | {"ankle_dorsiflexion": {"value": 27, "unit": "deg"}},
        "setups": [
            {"label": "flat", "exercise": "front_squat", "load": LOAD},
            {
                "label": "heel lift",
                "exercise": "front_squat",
                "load": LOAD,
                "technique": {"heel_lift": {"value": 1.8, "unit": "cm"}},
            },
        ],
    },
}
SENT_ON: Final = "First option, as questions take it"
# the words in column A, the operation, and the way to the value; one that ends in an estimate fills three columns
ROWS: Final = (
    ("What to do", "adjustments", "decision"),
    ("First option", "adjustments", "options/0/words"),
    ("First option: exercise", "adjustments", "options/0/prescription/exercise"),
    ("First option: what is changed", "adjustments", "options/0/levers/0"),
    ("First option: load", "adjustments", "options/0/prescription/load/value"),
    ("First option: sets", "adjustments", "options/0/prescription/sets"),
    ("First option: repetitions, from", "adjustments", "options/0/prescription/reps/low"),
    ("First option: repetitions, to", "adjustments", "options/0/prescription/reps/high"),
    ("Demand on the sore region, 1 is as now", "adjustments", "options/0/demand/low_back"),
    ("Training effect kept, 1 is all", "adjustments", "options/0/stimulus/kept/value"),
    ("The way back", "return-plan", "decision"),
    ("Weeks until the original, if all goes well", "return-plan", "weeks/low"),
    ("Weeks, with some of them done twice", "return-plan", "weeks/high"),
    ("First step: load", "return-plan", "steps/0/prescription/load/value"),
    ("First step: demand of a session, 1 is the original's", "return-plan", "steps/0/sore_region/session"),
    ("Load", "load-for-reps", "load"),
    ("What the bar can hold of it", "load-for-reps", "loadable/value"),
    ("One-repetition maximum", "load-for-reps", "estimated_max"),
    ("Repetitions", "reps-for-load", "reps"),
    ("Equal volume: repetitions, from", "rep-targets", "equal_volume/reps/low"),
    ("Equal volume: repetitions, to", "rep-targets", "equal_volume/reps/high"),
    ("Equal volume: left in reserve", "rep-targets", "effort/new"),
    ("Equal effort: repetitions, to", "rep-targets", "equal_effort/reps/high"),
    ("Load on the bar", "bar-loading", "load/value"),
    ("Largest plate on each side", "bar-loading", "per_side/0/plate/value"),
    ("How many of it on each side", "bar-loading", "per_side/0/count"),
    ("Sets on the first day", "session-split", "days/0/sets/high"),
    ("Sets on the last day", "session-split", "days/2/sets/high"),
    (
        "Sets × repetitions × load, fullest day",
        "session-split",
        "fullest_session/volume_load/high/value",
    ),
    ("Seconds for a repetition", "tempo", "seconds_per_rep"),
    ("Seconds for the longest set", "tempo", "time_under_tension_per_set/high"),
    ("Repetitions kept, 1 is all", "tempo", "cost_in_reps/fraction_kept"),
    ("Low back, 1 is as flat", "joint-demand", "setups/1/relative/lumbosacral"),
    ("Knee, 1 is as flat", "joint-demand", "setups/1/relative/knee"),
    ("Low back, against flat", "joint-demand", "setups/1/difference/lumbosacral"),
)
# the same of the sheet of the week
WEEK_ROWS: Final = (
    ("What to do", "decision"),
    ("What is changed", "options/0/changes/0/words"),
    ("Relief", "options/0/relief"),
    ("The week by moments, 1 is as now", "options/0/demand/low_back/linear"),
    ("The week by moments squared", "options/0/demand/low_back/squared"),
    ("The week by their tenth power", "options/0/demand/low_back/tenth_power"),
    ("Largest moment", "options/0/demand/low_back/peak"),
)


@pytest.fixture(scope="module")
def whole() -> list[Asked]:
    """The course of care of the lifter in the workbook, with the sessions in it, as JSON."""
    done = [
        {"pain_in_session": pain, "pain_next_morning": morning, "reps_done": [int(one) for one in str(reps).split(";")]}
        for pain, morning, reps in SESSIONS
    ]
    return [*course(Scenario(ASKED["adjustments"], done))]


@pytest.fixture(scope="module")
def answers(served: Live, whole: list[Asked]) -> dict[str, Any]:
    found = {name: served.post(f"/v1/{name}", request) for name, request in ASKED.items()}
    assert {reply.status for reply in found.values()} == {200}
    return {name: reply.json() for name, reply in found.items()} | {"return-plan": whole[1].answer}


def row_of(shown: Shown, words: str) -> int:
    (found,) = (place for place, one in shown.items() if place[0] == "A" and one.text == words)
    return int(found[1:])


def expected(answer: Any, way: str) -> dict[str, float | str]:  # noqa: ANN401 - any JSON value
    value = reduce(lambda part, step: part[int(step) if step.isdigit() else step], way.split("/"), answer)
    return {"B": value["value"], "C": value["low"], "D": value["high"]} if isinstance(value, dict) else {"B": value}


def found_in(shown: Shown, row: int) -> dict[str, float | str]:
    cells = {column: shown[f"{column}{row}"] for column in "BCD" if f"{column}{row}" in shown}
    assert all(one.error == 0 for one in cells.values())
    return {column: one.number if one.text[:1].isdigit() else one.text for column, one in cells.items()}


@pytest.mark.parametrize(("words", "operation", "way"), ROWS, ids=[row[0] for row in ROWS])
def test_cells_equal_the_json_answers(
    words: str, operation: str, way: str, consulted: list[Shown], answers: dict[str, Any]
) -> None:
    assert found_in(consulted[0], row_of(consulted[0], words)) == expected(answers[operation], way)


def asking_rows(shown: Shown) -> set[int]:
    """The rows of a sheet that ask the service."""
    return {int(place[1:]) for place, one in shown.items() if "WEBSERVICE(" in one.formula}


def test_every_answer_of_the_workbook_is_compared(consulted: list[Shown]) -> None:
    asking = asking_rows({place: one for place, one in consulted[0].items() if "." not in place})
    compared = {row_of(consulted[0], words) for words, _, _ in ROWS}
    assert asking == compared | {row_of(consulted[0], SENT_ON)} | set(session_rows())


def of_week(shown: Shown) -> Shown:
    """The cells of the sheet of the week by their places on it."""
    return {place.removeprefix("Week."): one for place, one in shown.items() if place.startswith("Week.")}


@pytest.mark.parametrize(("words", "way"), WEEK_ROWS, ids=[row[0] for row in WEEK_ROWS])
def test_cells_of_the_week_equal_the_json_answer(
    words: str, way: str, consulted: list[Shown], answers: dict[str, Any]
) -> None:
    shown = of_week(consulted[0])
    assert found_in(shown, row_of(shown, words)) == expected(answers["week-adjustments"], way)


def new_week(shown: Shown) -> list[tuple[str, str]]:
    """The rows of the new week: day and lift."""
    rows = (row_of(shown, f"Lift {number + 1}") for number in range(MOST_LIFTS + MOST_ADDED))
    return [(shown[f"B{row}"].text, shown[f"C{row}"].text) for row in rows]


def test_a_week_in_a_week_out(consulted: list[Shown], answers: dict[str, Any]) -> None:
    week = answers["week-adjustments"]["options"][0]["week"]
    rows = new_week(of_week(consulted[0]))
    for (day, lift), one in zip(rows, week, strict=False):
        prescription = one["prescription"]
        assert day == f"{one['day']:g}"
        assert lift.startswith(f"exercise {prescription['exercise']}, sets {prescription['sets']:g}, ")
        assert f"load {prescription['load']['value']:g}kg" in lift
    assert set(rows[len(week) :]) == {("", "")}


def test_the_sheet_has_the_week_of_the_demo_and_its_every_answer_is_compared(consulted: list[Shown]) -> None:
    assert [(one["prescription"]["exercise"], one["day"]) for one in DEMO_WEEK] == [lift[:2] for lift in LIFTS]
    shown = of_week(consulted[0])
    compared = {row_of(shown, words) for words, _ in WEEK_ROWS}
    assert asking_rows(shown) == compared | {
        row_of(shown, f"Lift {number + 1}") for number in range(MOST_LIFTS + MOST_ADDED)
    }


def of_team(shown: Shown) -> list[dict[str, str]]:
    """What the sheet of the team answers in each row, by its columns."""
    rows = (
        place.removeprefix("Team.A")
        for place, one in shown.items()
        if one.text.startswith("Lifter ") and "Team" in place
    )
    return [{letter: shown[f"Team.{letter}{row}"].text for letter in "RSTUVW"} for row in rows]


def asked_of(lifter: tuple[float | str, ...]) -> dict[str, Any]:
    """The question of a row of the team in JSON."""
    body_mass, stature, sex, exercise, sets, low, high, load, reserve, region, pain, aim = lifter
    return {
        "lifter": {
            "body_mass": {"value": body_mass, "unit": "kg"},
            "stature": {"value": stature, "unit": "cm"},
            "sex": sex,
        },
        "prescription": {
            "exercise": exercise,
            "sets": sets,
            "reps": {"low": low, "high": high},
            "load": {"value": load, "unit": "kg"},
            "reps_in_reserve": reserve,
        },
        "complaint": {"region": region, "pain_in_session": pain},
        "aim": aim,
        "limit": 1,
    }


def test_a_team_of_twenty_stands_in_one_table(consulted: list[Shown], served: Live) -> None:
    rows = of_team(consulted[0])
    assert len(rows) == len(TEAM) == 20
    decisions = set()
    for row, lifter in zip(rows[:-1], TEAM[:-1], strict=True):
        reply = served.post("/v1/adjustments", asked_of(lifter))
        assert reply.status == 200, reply.body
        answer = reply.json()
        decisions.add(answer["decision"])
        assert row["R"] == answer["decision"]
        (first,) = answer["options"] or [None]
        assert row["S"] == (first["words"] if first else "")
        assert row["T"] == (first["why"][0]["text"] if first else "")
        demand = first and first["demand"].get(lifter[9])
        if demand:
            assert float(row["U"]) == pytest.approx(demand["value"])
        else:
            assert row["U"] == (first["direction"][lifter[9]] if first else "")
        assert float(row["V"] or -1) == pytest.approx(first["stimulus"]["kept"]["value"] if first else -1)
    assert {"adjust", "pause_and_review"} <= decisions


def test_a_row_that_cannot_be_answered_says_why_in_its_cell(consulted: list[Shown], served: Live) -> None:
    """The answer to its address has status 422, of which a spreadsheet shows nothing."""
    last = of_team(consulted[0])[-1]
    path = last["W"].removeprefix(f"http://127.0.0.1:{served.port}")
    refused = served.ask("GET", f"{path}as=text&select=/decision")
    assert refused.status == 422
    assert last["R"] == refused.body.decode()
    assert "deadlift_conventional" in last["R"]
    assert {last[letter] for letter in "STUV"} == {""}


def test_a_team_is_asked_about_in_its_own_units(consulted: list[Shown]) -> None:
    for row in of_team(consulted[1]):
        assert re.findall(r"(?:body_mass|load|stature)=[0-9.]+([a-z]+)", unquote(row["W"])) == ["lb", "in", "lb"]


def test_what_cells_may_hold_is_all_there_is(consulted: list[Shown], served: Live) -> None:
    shown = {place.removeprefix("Lists."): one.text for place, one in consulted[0].items() if "Lists." in place}
    names = workbook()[-1].names
    listed = {
        name: [shown[f"{ends[0]}{row}"] for row in range(int(ends[1:].split(":")[0]), int(ends.split(":")[1][1:]) + 1)]
        for name, ends in names.items()
    }
    for name, resource in (("exercise_ids", "exercises"), ("region_ids", "regions")):
        entries = served.ask("GET", f"/v1/{resource}").json()[resource]
        assert listed[name] == [one["id"] for one in entries]
    assert listed["aim_ids"] == [*get_args(Aim)]
    chosen = {choices for sheet in workbook() for choices in sheet.choices.values() if isinstance(choices, str)}
    assert chosen == names.keys()


def test_cells_offer_the_signs_of_the_sore_region_the_most_urgent_first(consulted: list[Shown], served: Live) -> None:
    shown = {place.removeprefix("Signs."): one.text for place, one in consulted[0].items() if "Signs." in place}
    signs = workbook()[3]
    entries = {one["id"]: one for one in served.ask("GET", "/v1/signs").json()["signs"]}
    for region in get_args(Region):
        first, last = (end[1:] for end in signs.names[f"signs_{region}"].split(":"))
        ids = [shown[f"{signs.names[f'signs_{region}'][0]}{row}"] for row in range(int(first), int(last) + 1)]
        asked = [one["id"] for one in served.ask("GET", f"/v1/signs?region={region}").json()["signs"]]
        assert sorted(ids) == sorted(asked)
        assert entries[ids[0]]["urgency"] == entries[asked[0]]["urgency"]
    told = {one.text for place, one in consulted[0].items() if place.startswith("Signs.B")}
    assert told >= {one["text"] for one in entries.values()}
    assert set(workbook()[0].proposals.values()) == {'INDIRECT("signs_"&sore_region)'}
    assert workbook()[2].proposals[f"B{TEAM_ROW}"] == f'INDIRECT("signs_"&$O{TEAM_ROW})'


def test_signs_come_first_and_stop_all_of_it(consulted: list[Shown]) -> None:
    first = workbook()[0]
    inputs = sorted(first.names, key=lambda name: int(first.names[name][1:]))
    assert inputs[1:6] == ["sore_region", "sign_1", "sign_2", "sign_3", "age"]
    shown = consulted[7]
    assert shown[f"B{row_of(shown, 'What to do')}"].text == "refer"
    address = unquote(shown[f"F{row_of(shown, 'What to do') - 1}"].text)
    assert "complaint_signs=fever_or_unwell,cancer_suspected,constant_night_pain&circumstances_age=34&" in address
    assert of_week(shown)[f"B{row_of(of_week(shown), 'What to do')}"].text == "refer"
    team = of_team(shown)
    assert [row["R"] for row in team[:2]] == ["refer", "confirm_first"]


def test_a_row_for_each_session_leads_from_the_first_option_to_the_original(
    whole: list[Asked], consulted: list[Shown]
) -> None:
    """The last step of the calculation fills in all the sessions that the sheet has rows for."""
    shown, reviews = consulted[4], whole[2:]
    assert len(reviews) < len(session_rows())
    assert reviews[-1].answer["decision"] == "back_to_original"
    rows = session_rows()
    for row, review in zip(rows, reviews, strict=False):
        assert shown[f"E{row}"].text == review.answer["decision"]
        assert shown[f"F{row}"].text == review.answer["rule"]["message"]["text"]
        assert f"load {review.question['prescription']['load']['value']:g}kg" in shown[f"A{row}"].text
    original = "exercise=front_squat&sets=4&reps=5-6&load=62.5kg&reps_in_reserve=2&days_per_week=2"
    assert shown[f"G{rows[len(reviews)]}"].text == original


def test_no_session_but_the_lifters_own_is_reviewed(consulted: list[Shown]) -> None:
    """As it comes the workbook has none: whoever changes the lifter gets no advice on what another one did."""
    rows = session_rows()
    assert not {f"{column}{row}" for column in "BCD" for row in rows} & consulted[0].keys()
    assert {consulted[0][f"{column}{row}"].text for column in "EFM" for row in rows} == {""}
    assert "load 55kg" in consulted[0][f"A{rows[0]}"].text


def test_decimal_comma_gives_the_same_numbers(consulted: list[Shown], with_decimal_comma: Shown) -> None:
    assert with_decimal_comma[cell("B", "load")].text == "62,5"
    there, here = (
        {place: (one.number, one.error) for place, one in shown.items()} for shown in (with_decimal_comma, consulted[4])
    )
    assert there == here


def test_what_is_not_known_is_left_out(consulted: list[Shown]) -> None:
    shown = consulted[6]
    assert not [place for place, one in shown.items() if one.error]
    addresses = [one.text for one in shown.values() if one.text.startswith("http") and "?" in one.text]
    assert not [address for address in addresses if re.search("=(?:&|$)|=0&", address)]
    assert shown[f"B{row_of(shown, 'What to do')}"].text == "adjust"
    assert shown[f"E{session_rows()[0]}"].text in {"progress", "hold"}
    assert of_team(shown)[0]["R"] == "adjust"
    assert "sex" not in of_team(shown)[0]["W"]


def test_a_demand_without_a_number_shows_its_direction(consulted: list[Shown]) -> None:
    shown = consulted[6]
    row = row_of(shown, "Demand on the sore region, 1 is as now")
    assert [shown[f"{column}{row}"].text for column in "BCD"] == ["lower", "", ""]


def test_answers_follow_the_inputs_and_their_units(consulted: list[Shown], served: Live) -> None:
    shown = consulted[1]
    load = {"value": 137.5, "unit": "lb"}
    request = ASKED["load-for-reps"] | {"set": SET | {"load": load}, "bar": {"bar": {"value": 35, "unit": "lb"}}}
    reply = served.post("/v1/load-for-reps", request)
    assert reply.status == 200
    row = row_of(shown, "Load")
    assert found_in(shown, row) == expected(reply.json(), "load")
    assert shown[f"E{row}"].text == reply.json()["load"]["unit"] == "lb"
    assert shown[f"B{row}"].number != consulted[0][f"B{row}"].number


def test_a_refused_question_says_so_and_its_address_says_why(consulted: list[Shown], served: Live) -> None:
    shown = consulted[2]
    row = row_of(shown, "Load")
    assert shown[f"B{row}"].text == FAILED
    path = shown[f"F{row - 1}"].text.removeprefix(f"http://127.0.0.1:{served.port}")
    reply = served.ask("GET", path)
    assert reply.status == 422
    assert [fault["parameter"] for fault in reply.json()["errors"]] == ["target_reps"]
    # the other questions are none the worse for it
    assert shown[f"B{row_of(shown, 'Seconds for a repetition')}"].text != FAILED


def test_the_first_option_says_what_stops_the_training(consulted: list[Shown]) -> None:
    shown = consulted[5]
    assert shown[f"B{row_of(shown, 'What to do')}"].text == "pause_and_review"
    assert "Stop this lift today" in shown[f"B{row_of(shown, 'First option')}"].text
    assert shown[f"B{row_of(shown, 'First option: load')}"].text == NONE
    assert shown[f"B{row_of(shown, SENT_ON)}"].text == ""
    assert {shown[f"B{row_of(shown, words)}"].text for words, operation, _ in ROWS if operation == "return-plan"} == {
        NONE
    }


def test_after_a_stop_nothing_is_asked_of_a_prescription_that_is_none(consulted: list[Shown]) -> None:
    shown, rows = consulted[5], session_rows()
    assert shown[f"A{rows[0]}"].text == f"Session 1: {NONE}"
    assert {shown[f"E{row}"].text for row in rows} == {NONE}
    assert {shown[f"M{row}"].text for row in rows} == {""}
    assert FAILED not in {one.text for place, one in shown.items() if "." not in place}


def test_without_a_service_no_old_answer_stays(consulted: list[Shown]) -> None:
    rows = {row_of(consulted[3], words) for words, operation, _ in ROWS if operation != "return-plan"}
    assert {consulted[3][f"B{row}"].text for row in rows} == {FAILED}
    assert consulted[3][f"B{row_of(consulted[3], 'The way back')}"].text == NONE
    shown = of_week(consulted[3])
    assert {shown[f"B{row_of(shown, words)}"].text for words, _ in WEEK_ROWS} == {FAILED}
    assert {row["R"] for row in of_team(consulted[3])} == {FAILED}
    assert {row["S"] for row in of_team(consulted[3])} == {""}
    assert new_week(shown) == [(FAILED, FAILED)] * len(LIFTS) + [("", "")] * (MOST_LIFTS + MOST_ADDED - len(LIFTS))


def test_addresses_are_short_enough_for_every_spreadsheet(consulted: list[Shown]) -> None:
    """At most 2,048 characters with what selects a cell, and no text in a formula over 255 (vendors' limits)."""
    addresses = [one.text for one in consulted[4].values() if one.text.startswith("http") and "?" in one.text]
    assert len(addresses) == len(ASKED) + 1 + len(session_rows()) + len(TEAM)
    assert max(map(len, addresses)) < 2048 - 200
    texts = [part for one in consulted[0].values() for part in one.formula.split('"')[1::2]]
    assert max(map(len, texts)) <= 255


def parts(workbook_file: Path) -> dict[str, bytes]:
    with ZipFile(workbook_file) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def test_it_prints_on_pages_that_can_be_read(tmp_path: Path) -> None:
    """A sheet is as wide as a page, without the addresses behind it; the whole was 55 pages."""
    profile = f"-env:UserInstallation=file://{tmp_path / 'profile'}"
    command = ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", str(tmp_path), str(FILE)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)  # noqa: S603 - fixed arguments
    printed = (tmp_path / FILE.with_suffix(".pdf").name).read_bytes()
    assert len(re.findall(rb"/Type\s*/Page\b", printed)) <= 8


def test_the_file_is_what_the_script_writes(tmp_path: Path) -> None:
    write(workbook(), tmp_path / "again.xlsx")
    # part by part, for another version of zlib compresses the same content to other bytes
    assert parts(tmp_path / "again.xlsx") == parts(FILE)
