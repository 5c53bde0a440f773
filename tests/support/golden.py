"""The golden files as questions: what each consultation asks, and what came of each session of a course of care."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Final

import msgspec

from service.api.docs.course import Scenario
from tests.support.asking import ask, in_full
from tests.support.course_text import course_text
from tests.support.paths import ROOT

GOLDEN: Final = ROOT / "tests" / "science" / "golden"
FOLDER: Final = GOLDEN / "consultations"
ANSWER: Final = "## Answer"
_FENCE: Final = "```"


class Consultation(msgspec.Struct, frozen=True):
    """What a file asks: everything above its answer, kept as it was written, and what is in it."""

    head: str
    operation: str
    request: dict[str, Any]

    @property
    def answer(self) -> dict[str, Any]:
        """The answer of the service as it stands, in full where there is more to be had."""
        asked = in_full(self.request) if self.operation == "adjustments" else self.request
        return dict(msgspec.to_builtins(ask(self.operation, asked)))


def files() -> list[Path]:
    """All of them, in their order."""
    return sorted(FOLDER.glob("*.md"))


def episodes() -> list[Path]:
    """The courses of care, in their order."""
    return sorted((GOLDEN / "episodes").glob("*.md"))


def consultation(path: Path) -> Consultation:
    """What a file asks."""
    head, asked = _head(path)
    operation = head.partition(f"{_FENCE}json\n")[0].rstrip().rpartition("Asked of ")[2].rstrip(":")
    return Consultation(head, operation, json.loads(asked))


def scenario(path: Path) -> Scenario:
    """The lifter of a course of care, and what comes of each session."""
    return msgspec.json.decode(_head(path)[1], type=Scenario)


def episode(path: Path) -> str:
    """The whole text of a course of care: its head, and the course that the service takes."""
    return f"{_head(path)[0]}\n\n{ANSWER}\n\n{course_text(scenario(path))}"


def _head(path: Path) -> tuple[str, str]:
    """What stands above the answer, kept as it was written, and the JSON in it."""
    head = path.read_text(encoding="utf-8").split(f"{ANSWER}\n")[0].rstrip()
    return head, head.partition(f"{_FENCE}json\n")[2].partition(_FENCE)[0]
