"""The script for the online kind of spreadsheet, run by node with a stand-in for its host, against the service."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any, Final

import msgspec
import pytest

from service.api.docs.course import BY_NAME, SCENARIO, course
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from tests.support.live import Live

HERE: Final = Path(__file__).parent
SCRIPT: Final = HERE.parents[2] / "deploy" / "examples" / "online_sheet.js"
HEADINGS: Final = ["load kg", "reps", "reps_in_reserve", "target_reps", "exercise"]
PARTS: Final = "/load/value, /load/low,/load/unit"


class Outcome(msgspec.Struct, frozen=True):
    """What the cells show after one call, and the requests that it took."""

    cells: Any
    requests: int


def called(served: Live, *calls: list[Any], address: str = "") -> list[Outcome]:
    node = shutil.which("node")
    assert node is not None, "node is not installed: ./tests/run spreadsheet installs it"
    ended = subprocess.run(  # noqa: S603 - fixed arguments
        [node, HERE / "online_host.js", SCRIPT, address or f"http://127.0.0.1:{served.port}"],
        input=json.dumps(calls),
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert ended.returncode == 0, ended.stderr
    return msgspec.json.decode(ended.stdout, type=list[Outcome])


def question(load: float, reps: int, left: int, target: int) -> dict[str, Any]:
    return {
        "set": {"load": {"value": load, "unit": "kg"}, "reps": reps, "reps_in_reserve": left},
        "target": {"reps": target},
        "exercise": "front_squat",
    }


@pytest.mark.parametrize("count", [1, 3, 120])
def test_rows_equal_the_json_answers_in_one_request(count: int, served: Live) -> None:
    rows = [(40 + 0.5 * number, 4 + number % 5, number % 3, 3 + number % 9) for number in range(count)]
    (found,) = called(served, ["load-for-reps", [HEADINGS, *([*row, "front_squat"] for row in rows)], PARTS])
    assert found.requests == 1
    loads = [served.post("/v1/load-for-reps", question(*row)).json()["load"] for row in rows]
    assert found.cells == [[load["value"], load["low"], load["unit"]] for load in loads]


def test_a_course_of_care_is_a_row_for_each_review(served: Live) -> None:
    reviews = [*course(SCENARIO)][2:]
    reader, operation = Reader[Any](BY_NAME["session-review"].request), BY_NAME["session-review"]
    flat = QueryForm(operation, reader).flat
    texts = [flat.to_texts(reader.fit(review.question)) for review in reviews]
    names = list(dict.fromkeys(name for row in texts for name in row))
    wanted = ("/decision", "/next/exercise", "/next/sets", "/next/load/value", "/next/tempo", "/rule/message/text")
    rows = [names, *([row.get(name, "") for name in names] for row in texts)]
    (found,) = called(served, ["session-review", rows, ", ".join(wanted)])
    answers = [review.answer for review in reviews]
    assert found.cells == [
        [
            answer["decision"],
            *(answer["next"][part] for part in ("exercise", "sets")),
            answer["next"]["load"]["value"],
            answer["next"].get("tempo", ""),
            answer["rule"]["message"]["text"],
        ]
        for answer in answers
    ]


def test_a_bad_row_says_why_and_an_empty_one_stays_empty(served: Live) -> None:
    rows = [[62.5, 6, 2, 99, "front_squat"], [""] * 5, [62.5, 6, 2, 9, "front_squat"]]
    (found,) = called(served, ["load-for-reps", [HEADINGS, *rows], PARTS])
    refused, empty, answered = found.cells
    assert refused[0].startswith("target_reps: ")
    assert refused[1:] == empty[1:] == ["", ""]
    assert answered[0] == served.post("/v1/load-for-reps", question(62.5, 6, 2, 9)).json()["load"]["value"]


def test_the_same_range_is_asked_once(served: Live) -> None:
    rows = [HEADINGS, [62.5, 6, 2, 9, "front_squat"]]
    first, again, other = called(
        served,
        ["load-for-reps", rows, PARTS],
        ["load-for-reps", rows, "/loadable/value"],
        ["load-for-reps", [HEADINGS, [60, 6, 2, 9, "front_squat"]], PARTS],
    )
    assert (first.requests, again.requests, other.requests) == (1, 0, 1)
    assert first.cells[0][0] > other.cells[0][0]


def test_faults_are_told_in_words(served: Live) -> None:
    row = [62.5, 6, 2, 9, "front_squat"]
    no_range, no_column, no_operation, no_part = called(
        served,
        ["load-for-reps", "A1", PARTS],
        ["load-for-reps", [["weight kg", *HEADINGS[1:]], row], PARTS],
        ["no-such-operation", [HEADINGS, row], PARTS],
        ["load-for-reps", [HEADINGS, row], "/load/weight"],
    )
    assert no_range.cells == "The range needs a row of names and a question below it."
    assert no_column.cells == "No answer: weight: This column is not known here. Did you mean load?"
    assert no_operation.cells.startswith("No answer: No operation or resource has this path")
    assert no_part.cells == "The answer has no /load/weight."


def test_no_service_is_told_in_words(served: Live) -> None:
    rows = [HEADINGS, [62.5, 6, 2, 9, "front_squat"]]
    (found,) = called(served, ["load-for-reps", rows, PARTS], address="http://127.0.0.1:1")
    assert found.cells.startswith("No answer: Address unavailable")


def test_commas_and_quotes_travel_whole(served: Live) -> None:
    rows = [
        ["setups_label", "setups_exercise", "setups_load kg"],
        ['as "now",lighter', "front_squat,front_squat", "62.5kg,50"],
    ]
    (found,) = called(served, ["spinal-load", rows, "/reference, /setups/*/label"])
    assert found.cells == [['as "now"', 'as "now" | lighter']]
