"""LibreOffice as a calculator: a workbook and what to set in, what its cells show out."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from typing import Final, TypeAlias

import msgspec

# Debian's package python3-uno serves Debian's own Python, which need not be the one on the PATH
SYSTEM_PYTHON: Final = Path("/usr/bin/python3")
CALCULATE: Final = Path(__file__).parent / "calculate.py"


class CellShown(msgspec.Struct, frozen=True):
    """What a cell shows, its number (0 for a text), the number of its error (0: none), and its formula or content."""

    text: str
    number: float
    error: int
    formula: str


Shown: TypeAlias = dict[str, CellShown]


def calculated(workbook: Path, locale: str, *steps: dict[str, float | str]) -> list[Shown]:
    """The cells that are not empty after each step, each of which sets some. Fails if it cannot run."""
    job = {"workbook": str(workbook), "locale": locale, "steps": steps}
    ended = subprocess.run(  # noqa: S603 - fixed arguments
        [SYSTEM_PYTHON, CALCULATE], input=json.dumps(job), capture_output=True, text=True, check=False, timeout=280
    )
    assert ended.returncode == 0, f"LibreOffice did not calculate (./tests/run installs it):\n{ended.stderr[-3000:]}"
    return msgspec.json.decode(ended.stdout, type=list[Shown])
