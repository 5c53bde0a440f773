"""The running service as a client meets it: what is sent, what comes back, and what it writes about that."""

from __future__ import annotations

import http.client
import json
import subprocess
import time
from collections.abc import Iterable
from pathlib import Path
from typing import Any, Final

import msgspec
import pytest

PATIENCE: Final = 60.0  # [s] for the start, which takes less than two where nothing else runs
JSON: Final = {"Content-Type": "application/json"}


class Reply(msgspec.Struct, frozen=True):
    """What came back; the names of the headers are in lower case."""

    status: int
    headers: dict[str, str]
    body: bytes

    def json(self) -> Any:  # noqa: ANN401 - any JSON value
        return json.loads(self.body)


class Served:
    """The running service."""

    def __init__(self, port: int, output: Path) -> None:
        self.port = port
        self.output = output

    def ask(
        self,
        method: str,
        path: str,
        body: bytes | Iterable[bytes] | None = None,
        headers: dict[str, str] | None = None,
    ) -> Reply:
        """One request on a connection of its own; a body in several pieces goes out chunked, without its length."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)
        try:
            connection.request(method, path, body, headers or {})
            found = connection.getresponse()
            return Reply(found.status, {name.lower(): value for name, value in found.getheaders()}, found.read())
        finally:
            connection.close()

    def post(self, path: str, request: object, **headers: str) -> Reply:
        """A request in JSON; bytes go out as they are."""
        body = request if isinstance(request, bytes) else json.dumps(request).encode()
        return self.ask("POST", path, body, JSON | headers)

    def logged(self) -> int:
        """How much of standard output there is once everything asked until now is logged."""
        last = self.ask("GET", "/nowhere").headers["x-request-id"]
        began = time.monotonic()
        while last not in (written := self.output.read_text(encoding="utf-8")) or not written.endswith("\n"):
            assert time.monotonic() - began < PATIENCE, "a request is not logged"
            time.sleep(0.02)
        return len(written)

    def log_lines(self, start: int, count: int) -> str:
        """Standard output from a place on; a line comes just after its answer, so `count` of them are waited for."""
        began = time.monotonic()
        while True:
            written = self.output.read_text(encoding="utf-8")[start:]
            if written.count("\n") >= count or time.monotonic() - began > PATIENCE:
                return written
            time.sleep(0.02)


def wait_until_ready(found: Served, process: subprocess.Popen[bytes]) -> None:
    began = time.monotonic()
    while time.monotonic() - began < PATIENCE:
        if process.poll() is not None:
            pytest.fail(f"the service ended with {process.returncode} instead of serving")
        try:
            if found.ask("GET", "/readyz").status == http.HTTPStatus.OK:
                return
        except OSError:
            time.sleep(0.05)
    pytest.fail(f"the service was not ready after {PATIENCE} s")
