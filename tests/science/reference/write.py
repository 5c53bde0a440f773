"""Writes RESULTS.md anew: `python -m tests.science.reference.write`."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from tests.science.reference.results import results

PAGE: Final = Path(__file__).parent / "RESULTS.md"


def main() -> None:
    """Write the page."""
    PAGE.write_text(results(), encoding="utf-8")


if __name__ == "__main__":
    main()
