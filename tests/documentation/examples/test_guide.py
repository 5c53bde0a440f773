"""The guide's requests, copied into a shell, Python, TypeScript, Kotlin and a cell, and run against the service."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any, Final
from urllib.parse import parse_qs, urlsplit

import pytest

from service.api.docs.guide import GuideStep, Mistake, guide, mistakes
from tests.support.kotlin import compiler, library
from tests.support.live import Live
from tests.support.npm.programs import PACKAGES, run

PATIENCE: Final = 300.0  # [s] of Kotlin's compiler on a busy machine
STEPS: Final = [step.id for step in guide()]
ASKED: Final = [step.id for step in guide() if step.request is not None]
MISTAKES: Final = {mistake.id: mistake for mistake in mistakes()}
SETTINGS: Final = {
    "compilerOptions": {
        "strict": True,
        "noUncheckedIndexedAccess": True,
        "target": "es2022",
        "module": "nodenext",
        "types": ["node"],
        "outDir": "out",
    },
    "include": ["*.ts"],
}
each_step = pytest.mark.parametrize("name", STEPS)
each_mistake = pytest.mark.parametrize("mistake", MISTAKES.values(), ids=list(MISTAKES))


@pytest.fixture(scope="module")
def steps(served: Live) -> dict[str, GuideStep]:
    """The guide as a page of the running service has it."""
    return {step.id: step for step in guide(f"http://127.0.0.1:{served.port}")}


def code(step: GuideStep, language: str) -> str:
    (found,) = (snippet.code for snippet in step.snippets if snippet.language == language)
    return found


def printed(*command: str | Path, cwd: Path | None = None) -> str:
    """What a program said; one that fails fails the test with its words."""
    ended = subprocess.run(  # noqa: S603 - our own pages, run as their reader would
        [str(word) for word in command], cwd=cwd, capture_output=True, text=True, check=False, timeout=PATIENCE
    )
    assert (ended.returncode, ended.stderr) == (0, ""), ended.stdout + ended.stderr
    return ended.stdout


def check(step: GuideStep, answer: Any) -> None:  # noqa: ANN401 - any JSON value
    """The answer is the one that is shown, whole but for the first step, which shows the beginning of a list."""
    if step.request is not None:
        assert answer == step.answer
        return
    shown, signs = step.answer["signs"], answer["signs"]
    assert [{name: sign[name] for name in one} for one, sign in zip(shown, signs, strict=False)] == shown
    assert f"of {len(signs)}," in step.remark


@each_step
def test_curl(name: str, steps: dict[str, GuideStep]) -> None:
    check(steps[name], json.loads(printed("sh", "-c", code(steps[name], "curl"))))


@each_step
def test_python(name: str, steps: dict[str, GuideStep]) -> None:
    check(steps[name], json.loads(printed(sys.executable, "-c", code(steps[name], "python"))))


@pytest.fixture(scope="module")
def typescript(steps: dict[str, GuideStep], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the compiled programs."""
    folder = tmp_path_factory.mktemp("typescript")
    for name, step in steps.items():
        (folder / f"{name}.ts").write_text(code(step, "typescript"))
    (folder / "node_modules").symlink_to(PACKAGES)
    (folder / "package.json").write_text('{"type": "module"}')
    (folder / "tsconfig.json").write_text(json.dumps(SETTINGS))
    compiled = run("tsc", "--project", folder, cwd=folder)
    assert compiled.returncode == 0, compiled.stdout
    return folder / "out"


@each_step
def test_typescript(name: str, steps: dict[str, GuideStep], typescript: Path) -> None:
    check(steps[name], json.loads(printed("node", typescript / f"{name}.js")))


def kotlin_name(step: str) -> str:
    return "".join(word.capitalize() for word in step.split("-"))


@pytest.fixture(scope="module")
def kotlin(steps: dict[str, GuideStep], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the compiled classes, each file of its own name."""
    folder = tmp_path_factory.mktemp("kotlin")
    for name, step in steps.items():
        (folder / f"{kotlin_name(name)}.kt").write_text(code(step, "kotlin"))
    printed(*compiler(str(library())), *sorted(folder.glob("*.kt")), cwd=folder)
    return folder / "out"


@each_step
def test_kotlin(name: str, steps: dict[str, GuideStep], kotlin: Path) -> None:
    said = printed("java", "-classpath", f"{library()}:{kotlin}", f"{kotlin_name(name)}Kt")
    check(steps[name], json.loads(said))


@pytest.mark.parametrize("name", ASKED)
@pytest.mark.parametrize(("language", "separator"), [("cell", ","), ("cell-semicolons", ";")])
def test_a_cell(name: str, language: str, separator: str, steps: dict[str, GuideStep], served: Live) -> None:
    """The formula's address answers with the value that POST has at the same place of the whole answer."""
    formula = code(steps[name], language)
    asked = re.search(r'WEBSERVICE\("(.*?)"\)', formula)
    assert asked
    address = urlsplit(asked[1].replace('"&"', ""))
    assert '"' not in address.query
    reply = served.ask("GET", f"{address.path}?{address.query}")
    assert (reply.status, reply.headers["content-type"]) == (200, "text/plain; charset=utf-8")
    value = served.post(address.path, steps[name].request).json()
    for step in parse_qs(address.query)["select"][0].split("/")[1:]:
        value = value[int(step)] if isinstance(value, list) else value[step]
    if isinstance(value, str):
        assert formula == f'=IFERROR({asked[0]}{separator}"no answer")'
        assert reply.body.decode() == value
    else:
        assert formula == f'=NUMBERVALUE({asked[0]}{separator}"."{separator}",")'
        assert float(reply.body) == value


@each_mistake
def test_the_service_says_of_a_mistake_what_is_shown(mistake: Mistake, served: Live) -> None:
    asked = mistake.asked
    headers = {"content-type": asked.media_type} if asked.body else None
    reply = served.ask(asked.method, asked.target, asked.body.encode() or None, headers)
    assert (reply.status, reply.json()) == (mistake.status, mistake.answer)


@each_mistake
def test_what_is_mended_is_answered(mistake: Mistake, served: Live) -> None:
    (mended,) = (one for one in mistakes(f"http://127.0.0.1:{served.port}") if one.id == mistake.id)
    command = next(snippet.code for snippet in mended.snippets if snippet.language == "curl")
    answer = json.loads(printed("sh", "-c", command))
    assert "type" not in answer
    assert answer.get("basis") or answer["decision"] == "refer"
