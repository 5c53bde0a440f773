"""The clients' packages as deploy/clients/make makes them: numbered as the service, installed from a file, at work."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest

from service import __version__
from tests.interface.clients.generators import PROGRAMS, compiled, ran
from tests.support.live import Live
from tests.support.paths import ROOT

WHEEL = f"program_adjustment_client-{__version__}-py3-none-any.whl"
SOURCES = f"program_adjustment_client-{__version__}.tar.gz"
NODE = f"program-adjustment-client-{__version__}.tgz"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("packages")
    ran(ROOT / "deploy" / "clients" / "make", folder, cwd=ROOT)
    return folder


@pytest.fixture(scope="module")
def python(made: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A Python that has the wheel and what it needs, and nothing else."""
    folder = tmp_path_factory.mktemp("wheel")
    ran(sys.executable, "-m", "venv", "venv", cwd=folder)
    program = folder / "venv" / "bin" / "python"
    ran(program, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", made / WHEEL, cwd=folder)
    return program


def test_they_are_numbered_as_the_service(made: Path) -> None:
    assert {file.name for file in made.iterdir()} == {WHEEL, SOURCES, NODE}


def test_the_wheel_consults(python: Path, served: Live, tmp_path: Path) -> None:
    shutil.copy(PROGRAMS.parent / "consultation.py", tmp_path)
    printed = ran(python, "consultation.py", f"http://127.0.0.1:{served.port}", cwd=tmp_path)
    assert "course: back_to_original, hold, progress, step_back, ends back_to_original" in printed.splitlines()
    version = "from importlib.metadata import version; print(version('program-adjustment-client'))"
    assert ran(python, "-c", version, cwd=tmp_path).strip() == __version__


def test_the_page_of_the_wheel_is_typed_and_runs(python: Path, served: Live, tmp_path: Path) -> None:
    """As its reader copies it, one block below another, under mypy's strict rules with what is installed."""
    (tmp_path / "page.py").write_text(page_of("python", served), encoding="utf-8")
    checked = ("--strict", "--config-file=", "--cache-dir=cache", "--python-executable", python, "page.py")
    ran(sys.executable, "-m", "mypy", *checked, cwd=tmp_path)
    printed = ran(python, "page.py", cwd=tmp_path).splitlines()
    assert printed[0].startswith("1 Front squat, ")
    assert printed[-1] == "<!doctype html>"


def test_the_source_package_makes_the_same_wheel(made: Path, tmp_path: Path) -> None:
    options = ("--no-deps", "--no-build-isolation", "--quiet", "--wheel-dir", tmp_path)
    ran(sys.executable, "-m", "pip", "wheel", *options, made / SOURCES, cwd=tmp_path)
    assert (tmp_path / WHEEL).read_bytes() == (made / WHEEL).read_bytes()


def test_the_package_for_node_consults(
    made: Path, short_consultation: dict[str, Any], served: Live, tmp_path: Path
) -> None:
    """Made by @hey-api/openapi-ts. Nothing comes with it."""
    (tmp_path / "package.json").write_text('{"type": "module"}')
    ran("npm", "install", "--offline", "--silent", made / NODE, cwd=tmp_path)
    installed = [file.name for file in (tmp_path / "node_modules").iterdir() if not file.name.startswith(".")]
    assert installed == ["program-adjustment-client"]
    shutil.copy(PROGRAMS / "hey_api.ts", tmp_path)
    assert json.loads(compiled(tmp_path, "hey_api.js", f"http://127.0.0.1:{served.port}")) == short_consultation


def test_the_page_of_the_package_for_node_is_typed_and_runs(made: Path, served: Live, tmp_path: Path) -> None:
    (tmp_path / "package.json").write_text('{"type": "module"}')
    ran("npm", "install", "--offline", "--silent", made / NODE, cwd=tmp_path)
    (tmp_path / "page.ts").write_text(page_of("typescript", served), encoding="utf-8")
    printed = compiled(tmp_path, "page.js", "").splitlines()
    assert printed[0].startswith("1 Front squat, ")
    assert printed[-1] == "<!doctype html>"


def page_of(client: str, served: Live) -> str:
    """The program that the blocks of a client's page are together, for the running service."""
    text = (ROOT / "deploy" / "clients" / client / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"(?:^    .*\n|^\n(?=    ))+", text, re.MULTILINE)
    return "\n".join(map(dedent, blocks)).replace("http://127.0.0.1:8000", f"http://127.0.0.1:{served.port}")


def test_nothing_generated_is_kept() -> None:
    """What is under version control is packaging alone; the code is made anew from the description each time."""
    listed = subprocess.run(
        ["git", "ls-files", "deploy/clients"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split()
    assert len(listed) > 5
    assert [name for name in listed if name.endswith((".py", ".ts", ".js"))] == []
