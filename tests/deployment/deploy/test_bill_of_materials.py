"""The list of what is in the image fits its standard and lists exactly the lock."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from cyclonedx.schema import SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator

from deploy.bill_of_materials import BILL, DOCKERFILE, LOCK, taken_out, written
from service import __version__


@pytest.fixture(scope="module")
def bill() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(BILL.read_text())
    return found


def locked() -> dict[tuple[str, str], tuple[set[str], str]]:
    """Hashes and condition of each name and version, read from the lock by its lines alone."""
    found: dict[tuple[str, str], tuple[set[str], str]] = {}
    hashes: set[str] = set()
    for line in LOCK.read_text().splitlines():
        if entry := re.match(r"([a-z0-9-]+)==(\S+)(?: ; (.*))? \\$", line):
            hashes = set()
            found[entry[1], entry[2]] = (hashes, entry[3] or "")
        elif digest := re.match(r" +--hash=sha256:(\w+)", line):
            hashes.add(digest[1])  # of the entry above
    return found


def test_it_was_made_from_this_lock_and_this_dockerfile() -> None:
    made = written(LOCK.read_text(), DOCKERFILE.read_text())
    assert made == BILL.read_text(), "run: python -m deploy.bill_of_materials"


def test_it_fits_the_standard(bill: dict[str, Any]) -> None:
    validator = JsonStrictValidator(SchemaVersion.V1_6)
    assert validator.validate_str(BILL.read_text()) is None
    assert validator.validate_str(json.dumps(bill | {"componentz": []})) is not None


def test_it_lists_exactly_the_lock(bill: dict[str, Any]) -> None:
    lock = locked()
    assert len(lock) > 30
    assert {(each["name"], each["version"]) for each in bill["components"]} == set(lock)
    assert len(bill["components"]) == len(lock)
    for component in bill["components"]:
        hashes, condition = lock[component["name"], component["version"]]
        assert component["purl"] == f"pkg:pypi/{component['name']}@{component['version']}"
        assert {each["content"] for each in component["hashes"]} == hashes
        assert {each["alg"] for each in component["hashes"]} == {"SHA-256"}
        assert [each["value"].replace('"', "'") for each in component.get("properties", [])] == [condition] * bool(
            condition
        )


def test_what_the_image_leaves_out_is_excluded(bill: dict[str, Any]) -> None:
    out = taken_out(DOCKERFILE.read_text())
    assert {"polyfactory", "faker", "tzdata", "rich", "pygments", "pip"} <= out
    scopes = {each["name"]: each["scope"] for each in bill["components"]}
    assert {name for name, scope in scopes.items() if scope == "excluded"} == out & set(scopes)
    assert {name for name, scope in scopes.items() if scope == "optional"} == {
        name for (name, _), (__, condition) in locked().items() if condition and name not in out
    }


def test_it_is_of_this_release(bill: dict[str, Any]) -> None:
    assert bill["metadata"]["component"]["version"] == __version__
    assert "timestamp" not in bill["metadata"]


def test_another_lock_is_another_list() -> None:
    lock = LOCK.read_text()
    serials = {
        json.loads(written(text, DOCKERFILE.read_text()))["serialNumber"]
        for text in (lock, lock.replace("anyio==", "anyio==9."))
    }
    assert len(serials) == 2
