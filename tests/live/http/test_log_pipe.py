"""A live service whose log nobody reads: it serves on and ends, and says later what it could not write."""

from __future__ import annotations

import fcntl
import json
import os
import subprocess
import sys
import threading
import urllib.request
from collections.abc import Iterator
from typing import Any, Final

import pytest

from tests.support.connections import connected, until_closed
from tests.support.paths import ROOT
from tests.support.programs import free_port, status_of, wait_for

PATIENCE: Final = 30.0  # [s] for an end that waits one second for the reader of the log
ASKED: Final = 12_000
ONE: Final = b"GET /nowhere HTTP/1.1\r\nhost: a\r\nx-request-id: " + b"i" * 64 + b"\r\n\r\n"
LAST: Final = b"GET /livez HTTP/1.1\r\nhost: a\r\nconnection: close\r\n\r\n"


class Unread:
    """A live service with a pipe for its output, which holds next to nothing."""

    def __init__(self) -> None:
        self.port = free_port()
        self.metrics = free_port()
        self.process = subprocess.Popen(
            [sys.executable, "-m", "service", "serve"],
            cwd=ROOT,
            env=os.environ | {"PORT": str(self.port), "METRICS_PORT": str(self.metrics)},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )
        assert self.process.stdout is not None
        fcntl.fcntl(self.process.stdout, fcntl.F_SETPIPE_SZ, 4096)
        wait_for("the service is ready", lambda: status_of(self.port, "/readyz") == 200)

    def asked(self, count: int) -> int:
        """How many of so many requests on one connection are answered."""
        with connected(self.port) as connection:
            sending = threading.Thread(target=connection.sendall, args=(ONE * count + LAST,))
            sending.start()
            found = until_closed(connection)
            sending.join()
        return found.count(b"HTTP/1.1 404 ")

    def dropped(self) -> int:
        with urllib.request.urlopen(f"http://127.0.0.1:{self.metrics}/metrics", timeout=10) as answer:
            lines = answer.read().decode().splitlines()
        return int(float(next(line for line in lines if line.startswith("log_lines_dropped_total ")).split()[1]))

    def logged(self, count: int) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
        """The lines of requests and the notices of lost ones, read until they account for so many requests.

        A lost line is told with the next batch that is written, hence in one notice or in several.
        """
        assert self.process.stdout is not None
        requests: list[dict[str, Any]] = []
        notices: list[dict[str, Any]] = []
        patience = threading.Timer(PATIENCE, self.process.kill)  # an end of the output instead of a wait for ever
        patience.start()
        while len(requests) + sum(line["dropped"] for line in notices) < count:
            line = self.process.stdout.readline()
            if not line:
                break
            if line.startswith(b"{"):
                event = json.loads(line)
                {"request": requests, "log lines dropped": notices}[event["event"]].append(event)
        patience.cancel()
        return requests, notices


@pytest.fixture
def service() -> Iterator[Unread]:
    found = Unread()
    yield found
    found.process.kill()
    found.process.communicate()


def test_requests_are_answered_and_lost_lines_counted(service: Unread) -> None:
    assert service.asked(ASKED) == ASKED
    assert status_of(service.port, "/livez") == 200
    lost = service.dropped()
    assert lost > 0
    requests, notices = service.logged(ASKED)
    assert sum(line["dropped"] for line in notices) == lost
    assert len(requests) == ASKED - lost


def test_it_ends(service: Unread) -> None:
    assert service.asked(1_000) == 1_000  # fills the pipe
    service.process.terminate()
    assert service.process.wait(timeout=PATIENCE) == 0
