"""The programs that package.json beside this file pins, run with their output caught."""

from __future__ import annotations

import subprocess
from pathlib import Path
from typing import Final

PACKAGES: Final = Path(__file__).parent / "node_modules"
PATIENCE: Final = 300.0  # [s] of the slowest of them on a busy machine


def run(name: str, *arguments: str | Path, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """A program's run, whatever its end. One that is not installed fails the test."""
    program = PACKAGES / ".bin" / name
    assert program.exists(), f"{name} is not installed: ./tests/run lint clients installs it"
    command = [str(program), *map(str, arguments)]
    return subprocess.run(command, cwd=cwd, capture_output=True, text=True, check=False, timeout=PATIENCE)
