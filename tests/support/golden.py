"""The golden consultations as questions: what each of the kept files asks."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Final

import msgspec

from tests.support.asking import ask
from tests.support.paths import ROOT

FOLDER: Final = ROOT / "tests" / "science" / "golden" / "consultations"
ANSWER: Final = "## Answer"
_FENCE: Final = "```"


class Consultation(msgspec.Struct, frozen=True):
    """What a file asks: everything above its answer, kept as it was written, and what is in it."""

    head: str
    operation: str
    request: dict[str, Any]

    @property
    def answer(self) -> dict[str, Any]:
        """The answer of the service as it stands."""
        return dict(msgspec.to_builtins(ask(self.operation, self.request)))


def files() -> list[Path]:
    """All of them, in their order."""
    return sorted(FOLDER.glob("*.md"))


def consultation(path: Path) -> Consultation:
    """What a file asks."""
    head = path.read_text(encoding="utf-8").split(f"{ANSWER}\n")[0].rstrip()
    opening, body = head.split(f"{_FENCE}json\n")
    operation = opening.rstrip().rpartition("Asked of ")[2].rstrip(":")
    return Consultation(head, operation, json.loads(body.split(_FENCE)[0]))
