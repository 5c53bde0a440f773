"""The service as its own process on a free port of this machine, asked over HTTP; its standard output goes to a file."""

from __future__ import annotations

import http.client
import json
import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, Final

import msgspec
import pytest

ROOT: Final = Path(__file__).parents[2]
PATIENCE: Final = 20.0  # [s] for the start; it takes less than two
JSON: Final = {"Content-Type": "application/json"}


class Reply(msgspec.Struct, frozen=True):
    """What came back; the names of the headers are in lower case."""

    status: int
    headers: dict[str, str]
    body: bytes

    def json(self) -> Any:
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

    def post(self, path: str, request: Any, **headers: str) -> Reply:
        """A request in JSON; bytes go out as they are."""
        body = request if isinstance(request, bytes) else json.dumps(request).encode()
        return self.ask("POST", path, body, JSON | headers)

    def log_lines(self) -> str:
        """Everything on standard output so far."""
        return self.output.read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    output = tmp_path_factory.mktemp("served") / "output"
    environment = os.environ | {"HOST": "127.0.0.1", "PORT": str(port)}
    command = [sys.executable, "-m", "service", "serve"]
    with (
        output.open("wb") as stream,
        subprocess.Popen(command, cwd=ROOT, env=environment, stdout=stream) as process,  # noqa: S603 - fixed arguments
    ):
        try:
            found = Served(port, output)
            wait_until_ready(found, process)
            yield found
        finally:
            process.terminate()
            process.wait(timeout=15)


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
