"""The top level of the repository stays as it was agreed, and its scripts can be run."""

from __future__ import annotations

import ast
import os
import re
import shutil
import subprocess
import tomllib
from pathlib import PurePath

import pytest

from tests.support.paths import ROOT

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


def test_every_file_that_the_table_of_security_names_is_there() -> None:
    """A name without a folder lies in the folder of the one before it."""
    text = (ROOT / "deploy" / "SECURITY.md").read_text(encoding="utf-8")
    files, folder = set(tracked_files()), ""
    names = re.findall(r"[\w/]*\w+\.(?:py|toml|md)\b", text)
    assert len(names) > 20
    for name in names:
        path, _, base = name.rpartition("/")
        folder = path or folder
        assert f"{folder}/{base}" in files, name


READ = (".md", ".py", ".sh", ".toml", ".ts", ".yaml", "Dockerfile", "tests/run", "deploy/lock", "deploy/serve")
MADE = ("tests/support/npm/node_modules",)  # by ./tests/run
NAMED = re.compile(r"(?<![\w$/.-])(?:deploy|openapi|service|tests)/[\w./-]*\w(?!\.?[\w*{<-])")
FOR_INSTANCE = {"service/a", "service/a/b.py", "tests/unit/a/test_b_c.py", "tests/SET", "tests/SET/GROUP"}


def test_every_path_that_a_file_names_is_there() -> None:
    files = set(tracked_files())
    there = files | {str(folder) for name in files for folder in PurePath(name).parents} | FOR_INSTANCE
    named = {
        (name, path)
        for name in files
        if name.endswith(READ)
        for path in NAMED.findall((ROOT / name).read_text(encoding="utf-8"))
        if not path.startswith(MADE)
    }
    assert len(named) > 100
    assert sorted((name, path) for name, path in named if path not in there) == []


def test_no_environment_or_cache_is_committed() -> None:
    leftovers = ("__pycache__", ".venv", ".venv-test", ".mypy_cache", ".ruff_cache", ".pytest_cache", ".hypothesis")
    assert [name for name in tracked_files() if set(name.split("/")) & set(leftovers)] == []


@pytest.mark.parametrize("script", ["deploy/serve", "deploy/lock", "deploy/clients/make", "tests/run", ".ci/run"])
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
    files = [name for name in tests if "/" in name and not name.endswith(".md")]
    assert [folder for folder in folders if not any(name.startswith(f"{folder}/") for name in files)] == []
    assert [name for name in files if not name.startswith(tuple(f"{folder}/" for folder in folders))] == []


# its imports of itself, its docstrings, and the faults that the tests have to see
OF_THE_WHOLE = {f"tests/unit/test_{name}.py" for name in ("imports", "docstrings", "faults")}


def group_of(name: str) -> str:
    """The group of a module of the tests by its dotted name, such as science.golden; what lies in none is support."""
    parts = name.split(".")[1:]
    return parts[0] if parts[0] in {"unit", "support", "mutation"} else ".".join(parts[:2])


def test_no_group_imports_another() -> None:
    crossing = []
    for name in tracked_files():
        if name.startswith("tests/") and name.endswith(".py") and name.count("/") > 1:
            module = name.removesuffix(".py").replace("/", ".")
            tree = ast.parse((ROOT / name).read_bytes())
            imported = [node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
            imported += [alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names]
            groups = {group_of(other) for other in imported if other.startswith("tests.")}
            crossing += [f"{name}: {group}" for group in groups - {"support", group_of(module)}]
    assert crossing == []


def test_every_unit_test_is_named_after_what_it_tests() -> None:
    """tests/unit/a/test_b_c.py tests b_c or b of service/a, module or package; the rest of its name is an aspect."""
    lost = []
    for name in tracked_files():
        if not name.startswith("tests/unit/") or name in OF_THE_WHOLE:
            continue
        folder, _, file = name.removeprefix("tests/unit/").rpartition("/")
        words = file.removesuffix(".py").removeprefix("test_").split("_")
        subjects = [ROOT / "service" / folder / "_".join(words[:count]) for count in range(1, len(words) + 1)]
        if not any(subject.is_dir() or subject.with_suffix(".py").is_file() for subject in subjects):
            lost.append(name)
    assert lost == []


def test_an_unknown_group_is_refused() -> None:
    done = subprocess.run(["./tests/run", "nonsense"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert "nonsense" in done.stderr


def test_the_wanted_python_is_the_lowest_supported() -> None:
    lowest = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["requires-python"].removeprefix(">=")
    assert (ROOT / ".python-version").read_text().strip() == lowest


def test_the_page_for_the_next_engineer_is_short() -> None:
    """What it leads to has the rest; a page that grows with every change is read by nobody."""
    assert len((ROOT / "DEVELOPERS.md").read_bytes()) <= 8_000
