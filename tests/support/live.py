"""The service as a live process with settings of its own, and requests to it, well-formed or as bytes."""

from __future__ import annotations

import json
import os
import socket
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

from service.api.operations.registry import OPERATIONS
from service.http.middleware.api_keys import hashed
from tests.support.processes import Replica
from tests.support.running import Served

BODIES: Final = {operation.path: operation.examples[0].request for operation in OPERATIONS}
PATH: Final = "/v1/load-for-reps"
BODY: Final = json.dumps(BODIES[PATH]).encode()
JSON: Final = {"content-type": "application/json"}
# what every answer says to a browser, whoever gives it (OWASP REST Security Cheat Sheet, security headers)
SECURITY: Final = {"x-content-type-options": "nosniff", "referrer-policy": "no-referrer"}
WITHHELD: Final = (
    f"POST {PATH} HTTP/1.1\r\nhost: a\r\ncontent-type: application/json\r\n"
    f"content-length: {len(BODY)}\r\nexpect: 100-continue\r\n\r\n"
).encode()
"""A head after which the service waits for the body, and says so: the request is then in its hand."""


class Live(Served):
    """A running service."""

    def __init__(self, replica: Replica) -> None:
        super().__init__(replica.port, replica.log)
        self.replica = replica

    def compute(self, **headers: str) -> Any:  # noqa: ANN401 - a reply, whose JSON the tests look into
        """One well-formed request for a computation."""
        return self.ask("POST", PATH, BODY, JSON | {name.replace("_", "-"): value for name, value in headers.items()})

    def lines(self) -> list[dict[str, Any]]:
        """What it has logged, without the words with which it starts."""
        return [json.loads(line) for line in self.replica.words().splitlines() if line.startswith("{")]

    def requests(self) -> list[dict[str, Any]]:
        """Its lines about requests."""
        return [line for line in self.lines() if line["event"] == "request"]

    def next_request(self, before: int) -> dict[str, Any]:
        """The line of the request after so many others, once it is written: lines are gathered for a moment."""
        for _ in range(100):
            if len(lines := self.requests()) > before:
                return lines[before]
            time.sleep(0.05)
        raise AssertionError("the request is not in the log")


@contextmanager
def live(folder: Path, **environment: str) -> Iterator[Live]:
    """The service with these settings, until the block is left."""
    replica = Replica(folder, "service", environment)
    try:
        replica.start()
        yield Live(replica)
    finally:
        replica.kill()


def connected(port: int, timeout: float = 30.0) -> socket.socket:
    return socket.create_connection(("127.0.0.1", port), timeout=timeout)


def until_closed(connection: socket.socket) -> bytes:
    """All that comes until the other side closes."""
    found = bytearray()
    try:
        while part := connection.recv(65_536):
            found += part
    except ConnectionError:
        pass
    return bytes(found)


def raw(port: int, *pieces: bytes, pause: float = 0.0) -> bytes:
    """What comes back for these bytes until the service closes the connection; pause: between the pieces [s]."""
    with connected(port) as connection:
        for piece in pieces:
            connection.sendall(piece)
            time.sleep(pause)
        return until_closed(connection)


def head_of(answer: bytes) -> tuple[int, dict[str, str], bytes]:
    """Status, header fields and body of an answer that came as bytes."""
    head, _, body = answer.partition(b"\r\n\r\n")
    first, *fields = head.decode("ascii").split("\r\n")
    named = {name.lower(): value.strip() for name, _, value in (field.partition(":") for field in fields)}
    return int(first.split(" ")[1]), named, body


def keys_written(path: Path, text: str) -> None:
    """A key file replaced at once, as an operator would; each version has a time of its own."""
    draft = path.with_suffix(".new")
    draft.write_text(text, encoding="utf-8")
    moment = time.time_ns()
    os.utime(draft, ns=(moment, moment))
    draft.replace(path)


def key_entry(name: str, key: str, not_after: str = "") -> str:
    """One key as the file holds it."""
    end = f"not_after = {not_after}\n" if not_after else ""
    return f'[{name}]\nsha256 = "{hashed(key.encode())}"\n{end}'


def eventually(happened: Callable[[], bool], seconds: float = 30.0) -> bool:
    """Whether it happens in time [s]."""
    end = time.monotonic() + seconds
    while not (done := happened()) and time.monotonic() < end:
        time.sleep(0.02)
    return done
