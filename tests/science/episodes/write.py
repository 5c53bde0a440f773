"""Writes RESULTS.md anew: `python -m tests.science.episodes.write`."""

from __future__ import annotations

from pathlib import Path

from tests.science.episodes.results import results


def main() -> None:
    (Path(__file__).parent / "RESULTS.md").write_text(results(), encoding="utf-8")


if __name__ == "__main__":
    main()
