"""The npm packages are pinned, with checksums, and their lock names no place to fetch them from."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any, Final

NPM: Final = Path(__file__).parents[2] / "support" / "npm"
WANTED: Final[dict[str, str]] = json.loads((NPM / "package.json").read_bytes())["devDependencies"]
LOCKED: Final[dict[str, dict[str, Any]]] = json.loads((NPM / "package-lock.json").read_bytes())["packages"]


def test_what_is_wanted_is_one_version_and_the_locked_one() -> None:
    assert [version for version in WANTED.values() if not re.fullmatch(r"\d+\.\d+\.\d+", version)] == []
    assert {name: LOCKED[f"node_modules/{name}"]["version"] for name in WANTED} == WANTED


def test_every_package_has_its_checksum_and_no_address() -> None:
    packages = {name: found for name, found in LOCKED.items() if name}
    assert [name for name, found in packages.items() if "integrity" not in found and "inBundle" not in found] == []
    assert [name for name, found in packages.items() if "resolved" in found] == []
