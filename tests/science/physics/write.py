"""Writes what the page of evidence says of these checks: `python -m tests.science.physics.write`."""

from __future__ import annotations

from tests.science.physics.checks import checks
from tests.support.evidence import write

if __name__ == "__main__":
    write("checks.csv", checks())
