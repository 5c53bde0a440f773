"""Writes every golden file anew: `python -m tests.science.golden.write`, then read the diff line by line."""

from __future__ import annotations

from tests.science.golden.rendering import rendered
from tests.support.golden import consultation, episode, episodes, files


def main() -> None:
    for path in files():
        path.write_text(rendered(consultation(path)), encoding="utf-8")
    for path in episodes():
        path.write_text(episode(path), encoding="utf-8")


if __name__ == "__main__":
    main()
