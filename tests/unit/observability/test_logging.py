"""Log lines are written in order by a thread of their own; a reader that stalls costs lines, and those are counted."""

from __future__ import annotations

import json
import os
import threading
import time
from collections.abc import Iterator
from typing import Any, Final

import pytest

from service.observability import logging as lines
from service.observability.logging import ENDS_WITHIN, MOST_BYTES, LogStream
from service.observability.metrics import LOG_LINES_DROPPED
from tests.support.programs import eventually

LINE: Final = b'{"event":"request"}'.ljust(999) + b"\n"


def dropped() -> float:
    (metric,) = LOG_LINES_DROPPED.collect()
    return next(sample.value for sample in metric.samples if sample.name.endswith("_total"))


class Reader:
    """A reader of the log that takes nothing while it is stalled."""

    def __init__(self) -> None:
        self.taken: list[bytes] = []
        self.reads = threading.Event()
        self.gone = False

    def take(self, data: memoryview) -> int:
        assert self.reads.wait(30)
        if self.gone:
            raise BrokenPipeError
        part = bytes(data[:1_500])  # not all of it at once
        self.taken.append(part)
        return len(part)

    @property
    def lines(self) -> list[dict[str, Any]]:
        return [json.loads(line) for line in b"".join(self.taken).splitlines()]


@pytest.fixture
def reader() -> Iterator[Reader]:
    found = Reader()
    yield found
    found.reads.set()


def test_lines_come_whole_and_in_order(reader: Reader) -> None:
    out = LogStream(reader.take)
    reader.reads.set()
    for number in range(200):
        out.write(b'{"number":%d}\n' % number)
        out.flush()
    out.close()
    assert [line["number"] for line in reader.lines] == list(range(200))


def test_lines_of_one_moment_are_handed_on_together(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lines, "GATHERED_FOR", 0.2)
    taken: list[bytes] = []

    def take(data: memoryview) -> int:
        taken.append(bytes(data))
        return len(data)

    out = LogStream(take)
    for moment in range(2):
        for _ in range(3):
            out.write(b"line\n")
        assert eventually(lambda moment=moment: len(taken) == moment + 1)  # type: ignore[misc]
    assert taken == [b"line\n" * 3] * 2


def test_stalled_reader_costs_lines_that_are_counted_and_no_memory(reader: Reader) -> None:
    before = dropped()
    out = LogStream(reader.take)
    sent = 5 * MOST_BYTES // len(LINE)
    for _ in range(sent):
        out.write(LINE)
    lost = dropped() - before
    # as much again may be in the writer's hands
    assert sent - 2 * MOST_BYTES // len(LINE) - 1 <= lost <= sent - MOST_BYTES // len(LINE) + 1
    reader.reads.set()
    assert eventually(lambda: len(reader.lines) == sent - lost + 1)
    notice = reader.lines[-1]
    assert set(notice) == {"event", "level", "timestamp", "dropped"}
    assert (notice["event"], notice["level"], notice["dropped"]) == ("log lines dropped", "warning", lost)
    out.write(LINE)
    out.close()
    assert [line["event"] for line in reader.lines].count("log lines dropped") == 1
    assert reader.lines[-1]["event"] == "request"


def test_reader_that_is_gone_costs_lines_and_nothing_else(reader: Reader) -> None:
    before = dropped()
    reader.gone = True
    reader.reads.set()
    out = LogStream(reader.take)
    out.write(LINE)
    assert eventually(lambda: dropped() == before + 1)
    reader.gone = False
    out.write(LINE)
    out.close()
    assert [line.get("dropped") for line in reader.lines] == [None, 1]


def test_end_does_not_wait_for_a_stalled_reader(reader: Reader) -> None:
    out = LogStream(reader.take)
    out.write(LINE)
    began = time.monotonic()
    out.close()
    assert time.monotonic() - began < 10 * ENDS_WITHIN


def test_pipe(monkeypatch: pytest.MonkeyPatch) -> None:
    """A real pipe: what the system takes at once is less than what is written."""
    monkeypatch.setattr(lines, "GATHERED_FOR", 0.001)
    read, write = os.pipe()
    with open(read, "rb") as reading, open(write, "wb", buffering=0) as writing:  # noqa: PTH123 - descriptors
        out = LogStream(writing.write)
        for _ in range(300):
            out.write(LINE)
        assert reading.read(300 * len(LINE)) == LINE * 300
        out.close()
