"""The short examples of deploy/examples, each run as its reader would run it, against the service."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any, Final

import pytest

from tests.support.live import Live
from tests.support.npm.programs import PACKAGES, run
from tests.support.paths import ROOT

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
        demand = option["demand"]["low_back"]
        lines.append(f"{option['rank']}. {option['why'][0]['text']}")
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
            "complaint": {"region": "low_back", "pain_in_session": 4},
            "aim": "strength",
            "constraints": {"bar": {"bar": kg[2]}},
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
    assert found.stdout.splitlines() == lines_of(answer, half_to_even)
    assert len(answer["options"]) > 1


def test_typescript(served: Live, answer: Any, compiled: Path) -> None:  # noqa: ANN401 - any JSON value
    found = ended("node", compiled, address(served))
    assert (found.returncode, found.stderr) == (0, "")
    decision, *options = found.stdout.splitlines()
    assert decision == f"decision: {answer['decision']}"
    assert options == lines_of(answer, half_up)


def test_curl(served: Live, answer: Any) -> None:  # noqa: ANN401 - any JSON value
    found = ended("sh", EXAMPLES / "ask.sh", address(served))
    assert (found.returncode, found.stderr) == (0, "")
    _, adjusted, number, table = (part.rpartition("\n")[0] or part for part in found.stdout.split(SEPARATOR))
    (first,) = json.loads(adjusted)["options"]
    assert first["prescription"] == answer["options"][0]["prescription"]
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
