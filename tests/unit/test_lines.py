"""Log lines are handed on together while requests are served, and at once otherwise."""

from __future__ import annotations

import asyncio
import io

import pytest

from service.front import lines
from service.front.lines import Lines


class Kept(io.BytesIO):
    """A stream that counts how often it is told to hand on."""

    flushed = 0

    def flush(self) -> None:
        self.flushed += 1


def test_without_an_event_loop_each_line_is_handed_on() -> None:
    kept = Kept()
    out = Lines(kept)
    for _ in range(2):
        out.write(b"line\n")
        out.flush()
    assert (kept.getvalue(), kept.flushed) == (b"line\nline\n", 2)


def test_lines_of_one_moment_are_handed_on_once_and_later_ones_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lines, "HANDED_ON_AFTER", 0.001)

    async def run() -> list[int]:
        kept = Kept()
        out = Lines(kept)
        seen = []
        for _ in range(2):
            for _ in range(3):
                out.write(b"line\n")
                out.flush()
            seen.append(kept.flushed)
            await asyncio.sleep(0.05)
            seen.append(kept.flushed)
        return seen

    assert asyncio.run(run()) == [0, 1, 1, 2]
