"""The short examples of deploy/examples, each run as its reader would run it, against the service."""

from __future__ import annotations

import json
import re
import runpy
import shutil
import subprocess
import sys
from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from textwrap import dedent
from typing import Any, Final

import pytest

from service.api.docs.course import SCENARIO, course
from service.api.models.week import DEMO_WEEK
from tests.support.live import Live
from tests.support.npm.programs import PACKAGES, run
from tests.support.paths import ROOT

README: Final = (ROOT / "README.md").read_text(encoding="utf-8")
EXAMPLES: Final = ROOT / "deploy" / "examples"
COMPILER: Final = {
    "compilerOptions": {
        "strict": True,
        "noUncheckedIndexedAccess": True,
        "target": "es2022",
        "module": "nodenext",
        "types": ["node"],
        "outDir": "out",
    },
    "files": ["ask.ts"],
}
SEPARATOR: Final = "?\n"
SET: Final = {"load": {"value": 62.5, "unit": "kg"}, "reps": 6, "reps_in_reserve": 2}
HUNDREDTH: Final = Decimal("0.01")


def ended(*command: str | Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)  # noqa: S603 - fixed arguments


def address(served: Live) -> str:
    return f"http://127.0.0.1:{served.port}"


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
    kg = [{"value": value, "unit": "kg"} for value in (64, 62.5, 15)]
    reply = served.post(
        "/v1/adjustments",
        {
            "lifter": {"body_mass": kg[0], "stature": {"value": 168, "unit": "cm"}, "sex": "female"},
            "prescription": {
                "exercise": "front_squat",
                "sets": 4,
                "reps": {"low": 5, "high": 6},
                "load": kg[1],
                "reps_in_reserve": 2,
                "days_per_week": 2,
            },
            "complaint": {"region": "low_back", "pain_in_session": 4, "usual_pain": 1},
            "aim": "strength",
            "constraints": {"gym": {"bar": {"bar": kg[2]}}},
        },
    )
    assert reply.status == 200
    return reply.json()


@pytest.fixture(scope="module")
def compiled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("typescript")
    shutil.copy(EXAMPLES / "ask.ts", folder)
    (folder / "node_modules").symlink_to(PACKAGES)
    (folder / "package.json").write_text('{"type": "module"}')
    (folder / "tsconfig.json").write_text(json.dumps(COMPILER))
    compiler = run("tsc", "--project", folder, cwd=folder)
    assert compiler.returncode == 0, compiler.stdout
    return folder / "out" / "ask.js"


def test_python(served: Live, answer: Any) -> None:  # noqa: ANN401 - any JSON value
    found = ended(sys.executable, EXAMPLES / "ask.py", address(served))
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


def blocks(text: str) -> list[str]:
    """The indented examples of a page."""
    return [dedent(block) for block in re.findall(r"(?:^    .*\n)+", text, re.MULTILINE)]


def test_the_readme_asks_for_the_main_job_and_leads_through_a_course_of_care(served: Live) -> None:
    (loop,) = (block for block in blocks(README) if "while now" in block)
    came = [one.question["sessions"][-1] for one in [*course(SCENARIO)][2:]]
    done: list[Any] = []

    def train(now: dict[str, Any]) -> dict[str, Any]:
        done.append(now)
        pains: dict[str, Any] = came[min(len(done), len(came)) - 1]
        return {**pains, "reps_done": [now["reps"]["high"]] * now["sets"]}

    names: dict[str, Any] = runpy.run_path(str(EXAMPLES / "ask.py"))
    names |= {"service": address(served), "train": train}
    exec(loop, names)  # noqa: S102 - our own page, run as its reader would
    assert names["decision"] == "back_to_original"
    assert done[-1]["load"] == names["squat"]["load"]
    assert done[0] != names["squat"]
    assert loop.count("\n") == 10


def test_the_readme_asks_for_a_week(served: Live) -> None:
    (week,) = (block for block in blocks(README) if "week = [" in block)
    names: dict[str, Any] = runpy.run_path(str(EXAMPLES / "ask.py"))
    names |= {"service": address(served), "lifter": names["LIFTER"]}
    exec(week, names)  # noqa: S102 - our own page, run as its reader would
    assert names["week"] == DEMO_WEEK
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


def test_the_readme_asks_with_curl(served: Live) -> None:
    answers = []
    for command in (block for block in blocks(README) if block.startswith("curl")):
        found = ended("sh", "-c", command.replace("http://127.0.0.1:8000", address(served)))
        assert (found.returncode, found.stderr) == (0, "")
        answers.append(json.loads(found.stdout))
    week, one = answers
    assert week["regions"]["knee"]["lifts"][0]["share"]["linear"]["value"] == 1.0
    load = one["load"]
    low, high = f"{load['low']:.1f}", f"{load['high']:.1f}"
    said = f"({load['value']:.1f} kg, on another day two times in three between {low} and {high})"
    assert said in " ".join(README.split())


def test_typescript(served: Live, answer: Any, compiled: Path) -> None:  # noqa: ANN401 - any JSON value
    found = ended("node", compiled, address(served))
    assert (found.returncode, found.stderr) == (0, "")
    decision, *options = found.stdout.splitlines()
    assert decision == f"decision: {answer['decision']}"
    assert options == [*lines_of(answer, half_up), *lines_of_the_course()]


def test_curl(served: Live, answer: Any) -> None:  # noqa: ANN401 - any JSON value
    found = ended("sh", EXAMPLES / "ask.sh", address(served))
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


@pytest.mark.parametrize("name", ["ask.py", "ask.sh"])
def test_without_a_service_it_fails(name: str) -> None:
    runner = sys.executable if name.endswith(".py") else "sh"
    found = ended(runner, EXAMPLES / name, "http://127.0.0.1:1")
    assert found.returncode != 0
    assert found.stderr
