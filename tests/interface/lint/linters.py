"""What the linters find in a description, as rule and place."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Final

import msgspec

from tests.support.npm.programs import run

HERE: Final = Path(__file__).parent
SPECTRAL: Final = HERE / "spectral.yaml"
REDOCLY: Final = HERE / "redocly.yaml"
SWITCHED_OFF: Final = re.compile(r"^ +['\"]?([\w:-]+)['\"]?: ['\"]?off\b")


class Finding(msgspec.Struct, frozen=True):
    """A rule that the description breaks, where, and in the linter's words."""

    rule: str
    place: str
    words: str


def spectral(description: Path, rules: Path = SPECTRAL) -> list[Finding]:
    """Findings of every severity, hints included."""
    ended = run("spectral", "lint", "--ruleset", rules, "--format", "json", "--quiet", description)
    assert ended.returncode in (0, 1), ended.stderr + ended.stdout
    return [
        Finding(str(found["code"]), "/".join(map(str, found["path"])), found["message"])
        for found in json.loads(ended.stdout)
    ]


def redocly(description: Path, rules: Path = REDOCLY) -> list[Finding]:
    """Findings of every severity."""
    ended = run("redocly", "lint", "--config", rules, "--format", "json", "--max-problems", "1000", description)
    assert ended.stdout.startswith("{"), ended.stderr + ended.stdout
    report = json.loads(ended.stdout)
    found = [
        Finding(found["ruleId"], str(found["location"][0].get("pointer")), found["message"])
        for found in report["problems"]
    ]
    assert bool(found) == bool(ended.returncode or report["totals"]["warnings"]), ended.stderr
    return found


LINTERS: Final[dict[str, tuple[Callable[[Path, Path], list[Finding]], Path]]] = {
    "spectral": (spectral, SPECTRAL),
    "redocly": (redocly, REDOCLY),
}


def switched_off(rules: Path) -> dict[str, str]:
    """The rules that a configuration switches off, each with the comment above it."""
    lines = rules.read_text(encoding="utf-8").splitlines()
    found = {}
    for above, line in zip(["", *lines], lines, strict=False):
        if (match := SWITCHED_OFF.match(line)) is not None:
            found[match.group(1)] = above.strip().removeprefix("#").strip() if above.strip().startswith("#") else ""
    return found
