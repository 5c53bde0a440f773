"""The README, done as it says: each of its commands and programs, and what it says comes of them."""

from __future__ import annotations

import csv
import json
import re
import shutil
import sys
from pathlib import Path
from typing import Any, Final, get_args

import pytest

from deploy.examples.make_picture import FILE, picture, question
from service import vocabulary
from service.api.operations.registry import OPERATIONS
from tests.documentation.examples.conftest import EXAMPLES, Runs
from tests.documentation.examples.fences import fences
from tests.support.description import DOCUMENT
from tests.support.live import JSON, Live
from tests.support.paths import ROOT

SERVE: Final = "./deploy/serve"  # the group deploy starts it in a fresh clone


def asked_with_curl(readme: str, served: Live) -> list[str]:
    """The commands of the README, with the port of the service that is tested."""
    commands = [block for block in fences(readme, "sh") if not block.startswith(SERVE)]
    assert all(command.count("http://127.0.0.1:8000/") == 1 for command in commands)
    return [command.replace(":8000", f":{served.port}") for command in commands]


@pytest.fixture(scope="module")
def answer(served: Live) -> Any:  # noqa: ANN401 - any JSON value
    """What is answered to the first question, in full."""
    reply = served.post("/v1/adjustments", json.loads(question()) | {"limit": 5})
    assert reply.status == 200
    return reply.json()


def test_it_is_short(readme: str) -> None:
    lines = readme.splitlines()
    assert len(lines) <= 150
    assert [line for line in lines if len(line) > 120] == []


def test_the_main_job_is_asked_and_answered_on_the_first_screen(readme: str, served: Live, runs: Runs) -> None:
    assert fences(readme, "sh")[0].split()[0] == SERVE
    first = asked_with_curl(readme, served)[0]
    found = runs("sh", "-c", first)
    assert (found.returncode, found.stderr) == (0, "")
    (shown,) = fences(readme, "json")
    assert json.loads(found.stdout) == json.loads(shown)
    end = readme.index(shown) + len(shown)
    assert readme[:end].count("\n") <= 30
    assert "licensed practice" in " ".join(readme[end:].split())[:400]


def test_the_picture_is_what_the_service_draws_of_that_question(readme: str, served: Live) -> None:
    drawn = served.ask("POST", "/v1/adjustments?as=svg", question(), JSON)
    assert drawn.status == 200
    assert FILE.read_bytes() == drawn.body == picture().encode(), "python -m deploy.examples.make_picture renews it"
    assert re.search(rf"^!\[.+\]\({FILE.relative_to(ROOT)}\)$", readme, re.MULTILINE)


def test_the_same_request_is_a_page_for_the_lifter(readme: str, served: Live, runs: Runs) -> None:
    assert "?as=html&for=lifter" in readme
    assert "`-o page.html`" in readme
    found = runs("sh", "-c", re.sub(r'\?fields=[^"]*', "?as=html&for=lifter", asked_with_curl(readme, served)[0]))
    assert found.stdout.startswith("<!doctype html>")
    assert "data:image/svg+xml" in found.stdout


def test_the_same_request_says_in_the_shell_at_what_to_stop(readme: str, served: Live, runs: Runs) -> None:
    assert "`?as=markdown&for=lifter` says in the shell what to do and **at what to stop**" in " ".join(readme.split())
    found = runs("sh", "-c", re.sub(r'\?fields=[^"]*', "?as=markdown&for=lifter", asked_with_curl(readme, served)[0]))
    assert "\n## When to stop\n" in found.stdout
    assert "\n## What to do\n" in found.stdout


def test_where_no_number_is_known_the_same_command_gets_a_direction(readme: str, served: Live, runs: Runs) -> None:
    command = asked_with_curl(readme, served)[0]
    found = runs("sh", "-c", command.replace("front_squat", "romanian_deadlift").replace("low_back", "hamstring"))
    (option,) = json.loads(found.stdout)["options"]
    assert "hamstring" not in option["demand"]
    assert option["direction"]["hamstring"] == "lower"


def test_ids_are_listed_and_all_there(readme: str, served: Live, runs: Runs) -> None:
    found = runs("sh", "-c", asked_with_curl(readme, served)[2])
    exercises = served.ask("GET", "/v1/exercises").json()["exercises"]
    assert found.stdout.splitlines() == [f'"id":"{one["id"]}","name":"{one["name"]}"' for one in exercises]
    regions, aims = re.findall(r"\*\*(?:Regions|Aims)\*\*: ([^.]+)\.", readme)
    assert {*re.split(r",\s+", regions)} == {one["id"] for one in served.ask("GET", "/v1/regions").json()["regions"]}
    assert {*re.split(r",\s+", aims)} == {*get_args(vocabulary.Aim)}


def test_the_signs_are_read_in_the_shell_and_taken(readme: str, served: Live, runs: Runs) -> None:
    lines = runs("sh", "-c", asked_with_curl(readme, served)[1]).stdout.splitlines()
    signs = [sign for line in lines for sign in re.findall(r"^- `(\w+)`: ", line)]
    assert signs == [one["id"] for one in served.ask("GET", "/v1/signs?region=low_back").json()["signs"]]
    asked = json.loads(question())
    asked["complaint"]["signs"] = signs[:1]
    assert served.post("/v1/adjustments", asked).json()["decision"] == "refer"


def test_age_goes_where_it_says(readme: str, served: Live) -> None:
    (stated,) = re.findall(r"`(\"circumstances\": \{\"age\": \d+\})`", readme)
    asked = json.loads(question()) | json.loads(f"{{{stated}}}")
    assert served.post("/v1/adjustments", asked).json()["decision"] == "adjust"
    asked["circumstances"]["age"] = 17
    assert served.post("/v1/adjustments", asked).json()["decision"] == "confirm_first"


def test_pain_pauses_as_it_says(readme: str, served: Live) -> None:
    assert "above 5 at rest or above 5 in two sessions running: pause." in " ".join(readme.split())
    asked = json.loads(question())
    asked["complaint"]["pain_in_session"] = 6
    assert served.post("/v1/adjustments", asked).json()["decision"] == "adjust"
    asked["complaint"]["after_adjustment"] = True
    assert served.post("/v1/adjustments", asked).json()["decision"] == "pause_and_review"


def test_another_port_is_named_where_it_is_started(readme: str) -> None:
    assert "PORT=…" in fences(readme, "sh")[0]


def test_a_name_of_the_trade_is_answered_with_what_was_meant(readme: str, served: Live) -> None:
    asked = json.loads(question())
    asked["prescription"]["exercise"] = "squat"
    (fault,) = served.post("/v1/adjustments", asked).json()["errors"]
    names = {"pointer", "detail", "allowed", "example", "did_you_mean"}
    assert {*fault} == names
    assert names <= {*re.findall(r"`(\w+)`", readme)}
    (said,) = re.findall(r'`squat` gets "(.*?)"', " ".join(readme.split()))
    assert fault["detail"].endswith(said)


def test_units_sex_and_effort_are_as_it_says(served: Live) -> None:
    asked = json.loads(question())
    del asked["lifter"]["sex"], asked["prescription"]["reps_in_reserve"], asked["limit"]
    asked["lifter"] = {"body_mass": {"value": 181, "unit": "lb"}, "stature": {"value": 70, "unit": "in"}}
    asked["prescription"]["load"] = {"value": 135, "unit": "lb"}
    options = served.post("/v1/adjustments", asked).json()["options"]
    assert 1 < len(options) <= 5
    assert {option["prescription"]["load"]["unit"] for option in options} == {"lb"}


@pytest.mark.parametrize("path", ["/docs", "/docs.md", "/v1", "/openapi.json", "/v1/evidence"])
def test_what_it_points_to_is_there(readme: str, served: Live, path: str) -> None:
    assert f"`{path}`" in readme
    assert served.ask("GET", path).status == 200


def test_sentences_come_in_spanish(readme: str, served: Live) -> None:
    assert "`Accept-Language: es`" in readme
    found = served.ask("POST", "/v1/adjustments", question(), JSON | {"accept-language": "es"})
    assert found.headers["content-language"].startswith("es")
    assert found.json()["why"][0]["text"] != served.post("/v1/adjustments", question()).json()["why"][0]["text"]


def says_of_the_course(answer: Any, served: Live) -> tuple[list[str], dict[str, Any], dict[str, Any]]:  # noqa: ANN401 - any JSON value
    """Decision, reasons and options, then the weeks and the review, as the two programs ask for them."""
    asked, now = json.loads(question()), answer["options"][0]["prescription"]
    case = {"lifter": asked["lifter"], "original": asked["prescription"], "region": "low_back"}
    weeks = served.post("/v1/return-plan", case | {"adjusted": now}).json()["weeks"]
    went = {"pain_in_session": 2, "pain_next_morning": 1, "reps_done": [now["reps"]["high"]] * now["sets"]}
    reviewed = {"prescription": now, "sessions": [went, went], "usual_pain": 1}
    review = served.post("/v1/session-review", case | reviewed).json()
    texts = [why["text"] for why in answer["why"]] + [option["words"] for option in answer["options"]]
    return [answer["decision"], *texts], weeks, review


def test_python(readme: str, served: Live, runs: Runs, answer: Any, tmp_path: Path) -> None:  # noqa: ANN401 - any JSON value
    (program,) = fences(readme, "python")
    shutil.copy(EXAMPLES / "ask.py", tmp_path)
    (tmp_path / "mine.py").write_text(program)
    found = runs(sys.executable, "mine.py", cwd=tmp_path)
    assert (found.returncode, found.stderr) == (0, "")
    lines, weeks, review = says_of_the_course(answer, served)
    reasons = [why["text"] for why in review["why"]]
    assert found.stdout.splitlines() == [*lines, f"weeks back: {weeks}", review["decision"], *reasons]
    now = review["next"]
    sets = f"{now['sets']} sets of {now['reps']['low']} repetitions with {now['load']['value']:g} kg"
    assert f"the decision after two sessions is `{review['decision']}`, to {sets}" in " ".join(readme.split())


def test_typescript(served: Live, runs: Runs, answer: Any, compiled: Path) -> None:  # noqa: ANN401 - any JSON value
    found = runs("node", "mine.js", cwd=compiled)
    assert (found.returncode, found.stderr) == (0, "")
    lines, weeks, review = says_of_the_course(answer, served)
    shown = " ".join(found.stdout.split())
    for text in (*lines, *(why["text"] for why in review["why"])):
        assert text in shown
    assert f"low: {weeks['low']}, high: {weeks['high']}" in shown
    assert f" {review['decision']} [" in shown


def test_table(readme: str, served: Live, runs: Runs, answer: Any, tmp_path: Path) -> None:  # noqa: ANN401 - any JSON value
    team = EXAMPLES / "team.csv"
    command = asked_with_curl(readme, served)[3].replace("deploy/examples/team.csv", str(team))
    found = runs("sh", "-c", command, cwd=tmp_path)
    assert (found.returncode, found.stderr) == (0, "")
    rows = [*csv.DictReader((tmp_path / "adjusted.csv").read_text(encoding="utf-8").splitlines())]
    with team.open(encoding="utf-8") as lines:
        assert [row["athlete"] for row in rows] == [row["athlete"] for row in csv.DictReader(lines)]
    assert [row["error"] for row in rows] == [""] * len(rows)
    assert {row["/decision"] for row in rows} == {"adjust", "pause_and_review"}
    assert all(bool(row["/options/0/words"]) == (row["/decision"] == "adjust") for row in rows)
    assert rows[0]["/options/0/words"] == answer["options"][0]["words"]


def test_every_operation_and_resource_is_named(readme: str) -> None:
    table = readme[readme.index("## What there is to ask") : readme.index("## Read the answers")]
    named = {name for cell in re.findall(r"^\| ([^|]+) \|", table, re.MULTILINE) for name in re.split(r"[,;] ", cell)}
    paths = {path.removeprefix("/v1/") for path in DOCUMENT["paths"] if path.startswith("/v1/") and "{" not in path}
    assert named - {"`/v1/…`", "tables/…"} == {path for path in paths if not path.startswith("tables/")}
    assert {operation.name for operation in OPERATIONS} <= named
    assert len(vocabulary.LEVERS) == 11  # "eleven levers"


@pytest.mark.parametrize("page", ["README.md", "deploy/examples/README.md", "openapi/README.md", "deploy/README.md"])
def test_every_link_leads_to_a_file(page: str) -> None:
    targets = re.findall(r"\]\((?!https?:)([^)#]+)", (ROOT / page).read_text(encoding="utf-8"))
    assert [target for target in targets if not ((ROOT / page).parent / target).exists()] == []
