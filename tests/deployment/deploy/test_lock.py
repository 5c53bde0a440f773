"""The lock files pin what pyproject.toml asks for, with hashes, and name no place that they came from."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.support.paths import ROOT

RUNTIME = ROOT / "deploy" / "requirements.lock"
TEST = ROOT / "deploy" / "requirements-test.lock"


def entries(lock: Path) -> dict[str, str]:
    """Each requirement with the lines of its hashes, by the text before them; comments are left out."""
    text = re.sub(r"^ *#.*\n", "", lock.read_text(), flags=re.MULTILINE)
    found = {}
    for entry in re.split(r"\n(?=\S)", text.strip()):
        requirement, _, hashes = entry.partition("\\\n")
        found[requirement.strip()] = hashes
    return found


def pins(lock: Path) -> dict[str, set[str]]:
    """The versions of each package: several where they depend on the Python."""
    versions: dict[str, set[str]] = {}
    for text in entries(lock):
        requirement = Requirement(text)
        (only,) = requirement.specifier
        assert only.operator == "==", text
        versions.setdefault(canonicalize_name(requirement.name), set()).add(only.version)
    return versions


def asked_for(*groups: str) -> list[Requirement]:
    """What pyproject.toml asks for: to run, and in the named groups."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())
    texts = [*project["project"]["dependencies"]]
    for group in groups:
        texts += project["dependency-groups"][group]
    return [Requirement(text) for text in texts]


@pytest.mark.parametrize("lock", [RUNTIME, TEST], ids=lambda lock: lock.name)
def test_every_requirement_has_hashes(lock: Path) -> None:
    without = [text for text, hashes in entries(lock).items() if not re.search(r"--hash=sha256:[0-9a-f]{64}", hashes)]
    assert without == []


@pytest.mark.parametrize("lock", [RUNTIME, TEST], ids=lambda lock: lock.name)
def test_it_names_no_place(lock: Path) -> None:
    text = lock.read_text()
    assert "://" not in text
    assert not re.search(r"^\s*-(?:-(?!hash)|[a-z])", text, re.MULTILINE), "an option beside the hashes"
    assert not re.search(r"(?:^|\s)/\w", text), "a path on a machine"
    assert not re.search(r"\b[\w-]+\.(?:org|com|net|io)\b", text), "the name of a host"


@pytest.mark.parametrize(("lock", "groups"), [(RUNTIME, ()), (TEST, ("test", "check"))], ids=["runtime", "test"])
def test_it_holds_what_the_project_asks_for(lock: Path, groups: tuple[str, ...]) -> None:
    pinned = pins(lock)
    for requirement in asked_for(*groups):
        versions = pinned.get(canonicalize_name(requirement.name), set())
        assert versions, f"{requirement} is not in the lock: run deploy/lock"
        assert all(requirement.specifier.contains(version) for version in versions), f"{requirement}: {versions}"


def test_the_tests_run_with_the_versions_that_serve() -> None:
    tested = pins(TEST)
    assert {name: versions for name, versions in pins(RUNTIME).items() if tested.get(name) != versions} == {}


def test_litestar_stays_below_3() -> None:
    (version,) = pins(RUNTIME)["litestar"]
    assert int(version.split(".")[0]) < 3
