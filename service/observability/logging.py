"""The log: JSON lines of everything that is logged in the process, written to standard output by a thread of its own.

Whoever reads the log may stop reading: a pipe that is full then blocks its writer, which must not be what answers
requests. Lines wait in memory up to a limit; those beyond it are dropped and counted, in a metric and, once the reader
reads on, in a line. Handing on each line by itself would cost a tenth of a short request's whole time, so they are
gathered for a moment. What is lost if the process is killed is what was logged in the last moments; an orderly end
hands on everything that is taken within `ENDS_WITHIN`.

No line holds the words of an exception, which may quote a request.
"""

from __future__ import annotations

import atexit
import io
import logging
import sys
import time
from collections.abc import Callable, MutableMapping
from pathlib import Path
from threading import Event, Lock, Thread
from traceback import extract_tb
from typing import Any, Final

import msgspec
import structlog

from service.observability.metrics import LOG_LINES_DROPPED

GATHERED_FOR: Final = 0.05  # [s]
MOST_BYTES: Final = 1_048_576  # that wait to be written: about 5,000 lines
ENDS_WITHIN: Final = 1.0  # [s], how long the end of the process waits for the reader of the log
LINE_ENCODER: Final = msgspec.json.Encoder()
LEVELS: Final = {
    "debug": logging.DEBUG,
    "info": logging.INFO,
    "warning": logging.WARNING,
    "error": logging.ERROR,
}


def configure_log(level: str, stream: LogStream) -> None:
    """Write everything that is logged in the process as JSON lines; level: debug, info, warning or error."""
    logging.basicConfig(level=logging.WARNING, handlers=[StandardLogging()])
    # where another command than ours started the server, it has handlers of its own, and one that writes down queries
    for name in ("uvicorn", "uvicorn.error", "uvicorn.access"):
        logging.getLogger(name).handlers.clear()
        logging.getLogger(name).propagate = name != "uvicorn.access"
    structlog.configure(
        processors=[
            structlog.processors.add_log_level,
            structlog.processors.TimeStamper(),
            with_traceback,
            lambda _, __, line: LINE_ENCODER.encode(line),
        ],
        wrapper_class=structlog.make_filtering_bound_logger(LEVELS[level]),
        logger_factory=structlog.BytesLoggerFactory(stream),  # type: ignore[arg-type]
        cache_logger_on_first_use=True,
    )


class StandardLogging(logging.Handler):
    """Writes what the server and the libraries log as JSON lines too.

    Their own would hold the words of exceptions, and whoever writes them would wait for the reader of the log.
    """

    def emit(self, record: logging.LogRecord) -> None:
        """See logging.Handler."""
        error = record.exc_info[1] if record.exc_info else None
        event = record.getMessage().strip()
        structlog.get_logger().log(record.levelno, event, logger=record.name, exc_info=error)


def with_traceback(_: object, __: str, line: MutableMapping[str, Any]) -> MutableMapping[str, Any]:
    """A log line's exception as its type and the lines of code that it passed, without its words."""
    exc_info = line.pop("exc_info", None)
    error = exc_info if isinstance(exc_info, BaseException) else sys.exc_info()[1]
    if exc_info and error:
        line["exception"] = type(error).__name__
        line["passed"] = [
            f"{Path(frame.filename).name}:{frame.lineno} {frame.name}" for frame in extract_tb(error.__traceback__)
        ]
    return line


class LogStream:
    """What structlog writes to; `write` and `flush` never wait for the reader.

    take: writes bytes and says how many it took; unbuffered, or the end of the interpreter would wait for the rest.
    """

    def __init__(self, take: Callable[[memoryview], int]) -> None:
        self._take = take
        self._lock = Lock()  # for the three that follow
        self._waiting: list[bytes] = []
        self._bytes = 0
        self._dropped = 0
        self._wake = Event()
        self._ending = Event()
        self._writer: Thread | None = None

    def write(self, line: bytes) -> None:
        """Queue a line, or drop it where too much is waiting."""
        with self._lock:
            if self._bytes + len(line) <= MOST_BYTES:
                self._waiting.append(line)
                self._bytes += len(line)
            else:
                self._drop(1)
            if self._writer is None and not self._ending.is_set():
                self._writer = Thread(target=self._write_all, name="log", daemon=True)
                self._writer.start()
                atexit.register(self.close)
        if not self._wake.is_set():
            self._wake.set()

    def flush(self) -> None:
        """Does nothing: the thread writes queued lines by itself."""

    def close(self) -> None:
        """Write what the reader takes within the time limit; what is logged later is not written."""
        self._ending.set()
        self._wake.set()
        if self._writer is not None:
            self._writer.join(ENDS_WITHIN)

    def _write_all(self) -> None:
        ending = False
        while not ending:
            self._wake.wait()
            self._wake.clear()
            ending = self._ending.wait(GATHERED_FOR)
            self._write_waiting()

    def _write_waiting(self) -> None:
        """Write the queued lines; blocks while the reader does not read."""
        with self._lock:
            lines, self._waiting, self._bytes = self._waiting, [], 0
            dropped, self._dropped = self._dropped, 0
        rest = memoryview(b"".join(lines) + (_notice(dropped) if dropped else b""))
        try:
            while rest:
                rest = rest[self._take(rest) :]
        except OSError:  # nobody reads the log any more
            with self._lock:
                self._dropped += dropped
                self._drop(len(lines))

    def _drop(self, lines: int) -> None:
        self._dropped += lines
        LOG_LINES_DROPPED.inc(lines)


def _notice(dropped: int) -> bytes:
    """The line that replaces those that were dropped."""
    line = {"dropped": dropped, "event": "log lines dropped", "level": "warning", "timestamp": time.time()}
    return msgspec.json.encode(line) + b"\n"


def standard_output() -> LogStream:
    """The lines that go to the process's standard output."""
    return LogStream(io.FileIO(1, "wb", closefd=False).write)
