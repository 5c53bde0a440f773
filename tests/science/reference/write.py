"""Writes RESULTS.md and what the page of evidence says of it anew: `python -m tests.science.reference.write`."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from tests.science.reference.evidence import evidence
from tests.science.reference.results import results
from tests.support.evidence import write

PAGE: Final = Path(__file__).parent / "RESULTS.md"


def main() -> None:
    """Write the page and the rows."""
    PAGE.write_text(results(), encoding="utf-8")
    for name, rows in evidence().items():
        write(name, rows)


if __name__ == "__main__":
    main()
