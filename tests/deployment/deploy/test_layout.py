"""The top level of the repository stays as it was agreed, and its scripts can be run."""

from __future__ import annotations

import os
import shutil
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]
TOP = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "service",
    "openapi",
    "tests",
    "deploy",
    "Dockerfile",
}


def tracked_files() -> list[str]:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True)
    return [name for name in listed.stdout.split("\0") if name]


def test_the_top_level_is_as_agreed() -> None:
    top = {name.split("/")[0] for name in tracked_files()}
    assert {name for name in top if not name.startswith(".")} == TOP


def test_no_environment_or_cache_is_committed() -> None:
    leftovers = ("__pycache__", ".venv", ".venv-test", ".mypy_cache", ".ruff_cache", ".pytest_cache", ".hypothesis")
    assert [name for name in tracked_files() if set(name.split("/")) & set(leftovers)] == []


@pytest.mark.parametrize("script", ["deploy/serve", "deploy/lock", "tests/run", ".ci/run"])
def test_a_script_is_executable_and_readable_by_its_shell(script: str) -> None:
    path = ROOT / script
    assert os.access(path, os.X_OK)
    shell = path.read_text().splitlines()[0].removeprefix("#!").split()[-1].split("/")[-1]
    assert shutil.which(shell), f"{script} needs {shell}"
    subprocess.run([shell, "-n", script], cwd=ROOT, check=True)


def test_continuous_integration_runs_the_tests() -> None:
    lines = [line.strip() for line in (ROOT / ".ci" / "run").read_text().splitlines()]
    assert any("./tests/run" in line and not line.startswith("#") for line in lines)


WITHOUT_FOLDER = {"check", "nightly"}  # they are about the whole tree, and about the folders of other groups


def test_every_group_has_its_folder_and_every_folder_its_group() -> None:
    listed = subprocess.run(["./tests/run", "list"], cwd=ROOT, capture_output=True, text=True, check=True)
    groups = [line.split()[:2] for line in listed.stdout.splitlines()]
    folders = {"/".join(dict.fromkeys(group)) for group in groups if group[0] not in WITHOUT_FOLDER} | {"support"}
    tests = [name.removeprefix("tests/") for name in tracked_files() if name.startswith("tests/")]
    files = [name for name in tests if "/" in name]
    assert [folder for folder in folders if not any(name.startswith(f"{folder}/") for name in files)] == []
    assert [name for name in files if not name.startswith(tuple(f"{folder}/" for folder in folders))] == []


def test_an_unknown_group_is_refused() -> None:
    done = subprocess.run(["./tests/run", "nonsense"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert "nonsense" in done.stderr


def test_the_wanted_python_is_the_lowest_supported() -> None:
    lowest = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["requires-python"].removeprefix(">=")
    assert (ROOT / ".python-version").read_text().strip() == lowest
