"""The short examples of deploy/examples, each run as its reader would run it, against the service."""

from __future__ import annotations

import csv
import json
import re
import runpy
import shutil
import sys
from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any, Final

import pytest

from deploy.examples.make_picture import question
from service.api.docs.course import SCENARIO, course
from service.api.models.week import DEMO_WEEK
from tests.documentation.examples.conftest import EXAMPLES, Runs, ended
from tests.documentation.examples.fences import fences
from tests.support.live import Live

README: Final = (EXAMPLES / "README.md").read_text(encoding="utf-8")
SEPARATOR: Final = "?\n"
SET: Final = {"load": {"value": 62.5, "unit": "kg"}, "reps": 6, "reps_in_reserve": 2}
LIFTER: Final = {"body_mass": {"value": 64, "unit": "kg"}, "stature": {"value": 168, "unit": "cm"}, "sex": "female"}
HUNDREDTH: Final = Decimal("0.01")


def half_to_even(value: float) -> str:
    """Two decimals as Python rounds them."""
    return f"{value:.2f}"


def half_up(value: float) -> str:
    """Two decimals as JavaScript rounds them."""
    return str(Decimal(value).quantize(HUNDREDTH, ROUND_HALF_UP))


def lines_of(answer: Any, rounded: Callable[[float], str]) -> list[str]:  # noqa: ANN401 - any JSON value
    """What the Python and the TypeScript example print of the options."""
    lines = []
    for option in answer["options"]:
        lines.append(f"{option['rank']}. {option['words']}")
        if demand := option["demand"].get("low_back"):
            value, low, high = (rounded(demand[end]) for end in ("value", "low", "high"))
            lines.append(f"   low back {value} of now ({low} to {high})")
    return lines


@pytest.fixture(scope="module")
def answer(served: Live) -> Any:  # noqa: ANN401 - any JSON value
    kg = [{"value": value, "unit": "kg"} for value in (62.5, 15)]
    reply = served.post(
        "/v1/adjustments",
        {
            "lifter": LIFTER,
            "prescription": {
                "exercise": "front_squat",
                "sets": 4,
                "reps": {"low": 5, "high": 6},
                "load": kg[0],
                "reps_in_reserve": 2,
                "days_per_week": 2,
            },
            "complaint": {"region": "low_back", "pain_in_session": 4, "usual_pain": 1},
            "aim": "strength",
            "constraints": {"gym": {"bar": {"bar": kg[1]}}},
        },
    )
    assert reply.status == 200
    return reply.json()


def test_python(runs: Runs, answer: Any) -> None:  # noqa: ANN401 - any JSON value
    found = runs(sys.executable, EXAMPLES / "course.py")
    assert (found.returncode, found.stderr) == (0, "")
    options = lines_of(answer, half_to_even)
    assert found.stdout.splitlines() == [*options, *lines_of_the_course()]
    assert len(answer["options"]) > 1


def lines_of_the_course() -> list[str]:
    """What the Python and the TypeScript example print of the course of care, which is the one of the demo."""
    plan, *reviews = [*course(SCENARIO)][1:]
    lines = [f"Back in {plan.answer['weeks']['low']} to {plan.answer['weeks']['high']} weeks"]
    for number, review in enumerate(reviews, 1):
        came = review.question["sessions"][-1]
        pains = f"pain {came['pain_in_session']}, {came['pain_next_morning']} next morning"
        lines.append(f"{number}. {pains}: {review.answer['decision']}")
    return lines


def test_the_page_asks_for_a_week(
    served: Live, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    (week,) = fences(README, "python")
    shutil.copy(EXAMPLES / "ask.py", tmp_path)
    (tmp_path / "week.py").write_text(week)
    monkeypatch.setenv("SERVICE", f"http://127.0.0.1:{served.port}")
    monkeypatch.syspath_prepend(str(tmp_path))
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    monkeypatch.delitem(sys.modules, "ask", raising=False)
    names: dict[str, Any] = runpy.run_path(str(tmp_path / "week.py"))
    sys.modules.pop("ask")
    assert names["week"] == DEMO_WEEK
    assert capsys.readouterr().out == fences(README, "")[0]
    linear, tenth = ([one["share"][by]["value"] for one in names["asked"]["lifts"]] for by in ("linear", "tenth_power"))
    squats, deadlift = 100 * (linear[0] + linear[3]), 100 * linear[2]
    said = f"({squats:.0f} %) and the deadlift is {deadlift:.0f} %; by their tenth power the deadlift is"
    assert f"{said} {100 * tenth[2]:.0f} % of it" in " ".join(README.split())
    assert squats > 100 * max(linear)
    assert names["instead"]["decision"] == "adjust"
    first = names["instead"]["options"][0]
    assert [change["levers"] for change in first["changes"]] == [["load"]]
    deadlift = first["week"][first["changes"][0]["entries"][0]]["prescription"]
    assert f"the same deadlift with {deadlift['load']['value']:g} kg" in " ".join(README.split())
    assert not any(muscle["under_floor"] for muscle in first["muscles"].values())


def test_the_page_asks_with_curl(served: Live, runs: Runs) -> None:
    commands = [
        command.replace("http://127.0.0.1:8000", f"http://127.0.0.1:{served.port}") for command in fences(README, "sh")
    ]
    load, team = (runs("sh", "-c", command) for command in commands)
    assert (load.returncode, load.stderr, team.returncode, team.stderr) == (0, "", 0, "")
    target = {"reps": 9, "reps_in_reserve": 2}
    answered = served.post("/v1/load-for-reps", {"set": SET, "target": target, "exercise": "front_squat"}).json()
    assert float(load.stdout) == answered["load"]["value"]
    rows = [*csv.DictReader(team.stdout.splitlines(), delimiter=";")]
    assert [row["error"] for row in rows] == [""] * len(rows)
    assert {row["Athlete"] for row in rows} == {"A", "B"}
    assert len(rows) > 5


def test_typescript(runs: Runs, answer: Any, compiled: Path) -> None:  # noqa: ANN401 - any JSON value
    found = runs("node", compiled / "course.js")
    assert (found.returncode, found.stderr) == (0, "")
    decision, *options = found.stdout.splitlines()
    assert decision == f"decision: {answer['decision']}"
    assert options == [*lines_of(answer, half_up), *lines_of_the_course()]


def test_curl(served: Live, runs: Runs, answer: Any) -> None:  # noqa: ANN401 - any JSON value
    found = runs("sh", EXAMPLES / "ask.sh")
    assert (found.returncode, found.stderr) == (0, "")
    _, adjusted, sessions, number, table = (part.rpartition("\n")[0] or part for part in found.stdout.split(SEPARATOR))
    (first,) = json.loads(adjusted)["options"]
    assert first["prescription"] == answer["options"][0]["prescription"]
    reviews = [*course(SCENARIO)][2:5]
    for line, review in zip(sessions.splitlines(), reviews, strict=True):
        came, said = review.question["sessions"][-1], review.answer
        start = f"{came['pain_in_session']}:{came['pain_next_morning']} {said['decision']}: "
        assert line.startswith(f"{start}exercise=front_squat&sets={said['next']['sets']:g}&")
        assert f"&load={said['next']['load']['value']:g}kg&" in line
    heading, *rows = (line.split(",") for line in f"{table}\n".splitlines())
    assert heading == ["target_reps", "/load/value", "/load/low", "/load/high"]
    for reps, row in zip((8, 9, 10), rows, strict=True):
        target = {"reps": reps, "reps_in_reserve": 2}
        load = served.post("/v1/load-for-reps", {"set": SET, "target": target, "exercise": "front_squat"}).json()[
            "load"
        ]
        assert [float(cell) for cell in row] == [reps, load["value"], load["low"], load["high"]]
    assert number == rows[1][1]


ASKING: Final = {
    "py": """from ask import ask
print(ask("signs?region=knee")["signs"][0]["id"])
print(ask("adjustments?as=markdown&for=lifter", %s))
ask("adjustments", %s)""",
    "mjs": """import { ask } from "./ask.js";
console.log((await ask("signs?region=knee")).signs[0].id);
console.log(await ask("adjustments?as=markdown&for=lifter", %s));
await ask("adjustments", %s);""",
}


def asks(kind: str, asked: str, refused: str, folder: Path, compiled: Path) -> list[str | Path]:
    """The command of a program that lists signs, asks for a text and ends with a refusal."""
    program = ASKING[kind] % (asked, refused)
    if kind == "mjs":
        (compiled / "asks.mjs").write_text(program)
        return ["node", compiled / "asks.mjs"]
    shutil.copy(EXAMPLES / "ask.py", folder)
    (folder / "asks.py").write_text(program)
    return [sys.executable, folder / "asks.py"]


@pytest.mark.parametrize("kind", [*ASKING])
def test_texts_and_lists_are_asked_alike_and_a_refusal_ends_in_its_own_words(
    kind: str, served: Live, runs: Runs, compiled: Path, tmp_path: Path
) -> None:
    asked = json.loads(question())
    refused = json.dumps(asked | {"lifter": asked["lifter"] | {"age": 30}, "aim": "strengthen"})
    found = runs(*asks(kind, json.dumps(asked), refused, tmp_path, compiled))
    assert found.returncode == 1
    first, heading, *_ = found.stdout.splitlines()
    assert first == served.ask("GET", "/v1/signs?region=knee").json()["signs"][0]["id"]
    assert heading.startswith("# Front squat")
    said = [line for line in found.stderr.splitlines() if line.startswith("/")]
    faults = served.post("/v1/adjustments", json.loads(refused)).json()["errors"]
    assert len(said) == len(faults) == 2
    for line, fault in zip(said, faults, strict=True):
        example = f" Example: {json.dumps(fault['example'])}" if "example" in fault else ""
        assert line == f"{fault['pointer']}: {fault['detail']}{example}"
    assert "belongs at /circumstances/age" in found.stderr
    assert re.search(r"null|undefined|Traceback|^ +at (?!http)", found.stderr, re.MULTILINE) is None


@pytest.mark.parametrize("kind", [*ASKING])
def test_without_a_service_it_says_how_another_is_named(kind: str, compiled: Path, tmp_path: Path) -> None:
    found = ended(*asks(kind, "{}", "{}", tmp_path, compiled), service="http://127.0.0.1:1")
    assert found.returncode == 1
    assert "No service at http://127.0.0.1:1: " in found.stderr
    assert "SERVICE=" in found.stderr


@pytest.mark.parametrize("name", ["course.py", "ask.sh"])
def test_without_a_service_it_fails(name: str) -> None:
    runner = sys.executable if name.endswith(".py") else "sh"
    found = ended(runner, EXAMPLES / name, service="http://127.0.0.1:1")
    assert found.returncode != 0
    assert found.stderr
