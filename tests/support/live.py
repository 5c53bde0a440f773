"""The service as its own process on this machine: asked as a client asks it, and what it writes about that."""

from __future__ import annotations

import http.client
import json
import sys
from collections.abc import Iterable, Iterator
from contextlib import AbstractContextManager
from http import HTTPStatus
from pathlib import Path
from typing import Any, Final

import msgspec
import pytest

from tests.support.description import DOCUMENT, examples
from tests.support.programs import Program, eventually, running, status_of, wait_for

JSON: Final = {"content-type": "application/json"}


def _first_examples() -> dict[str, Any]:
    posts = {path: methods["post"] for path, methods in DOCUMENT["paths"].items() if "post" in methods}
    contents = {path: post["requestBody"]["content"].get(JSON["content-type"]) for path, post in posts.items()}
    return {path: next(iter(examples(content).values()))["value"] for path, content in contents.items() if content}


QUESTIONS: Final = _first_examples()
"""The first published example of each operation that takes JSON, by its path."""
BODIES: Final = {path: question for path, question in QUESTIONS.items() if path != "/v1/batch"}
"""The same of the computations."""
PATH: Final = "/v1/load-for-reps"
BODY: Final = json.dumps(BODIES[PATH]).encode()


class Reply(msgspec.Struct, frozen=True):
    """What came back; the names of the headers are in lower case."""

    status: int
    headers: dict[str, str]
    body: bytes

    def json(self) -> Any:  # noqa: ANN401 - any JSON value
        return json.loads(self.body)


class Live(Program):
    """The service with settings of its own, on a free port."""

    def __init__(self, folder: Path, label: str = "service", environment: dict[str, str] | None = None) -> None:
        super().__init__(folder / f"{label}.log", label)
        self.environment = {"HOST": "127.0.0.1", "PORT": str(self.port), **(environment or {})}

    def command(self) -> list[str]:
        return [sys.executable, "-m", "service", "serve"]

    def ready(self) -> bool:
        return status_of(self.port, "/readyz") == HTTPStatus.OK

    def ask(
        self,
        method: str,
        path: str,
        body: bytes | Iterable[bytes] | None = None,
        headers: dict[str, str] | None = None,
    ) -> Reply:
        """One request on a connection of its own; a body in several pieces goes out chunked, without its length."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        try:
            connection.request(method, path, body, headers or {})
            answer = connection.getresponse()
            return Reply(answer.status, {name.lower(): value for name, value in answer.getheaders()}, answer.read())
        finally:
            connection.close()

    def post(self, path: str, request: object, **headers: str) -> Reply:
        """A request in JSON; bytes go out as they are."""
        body = request if isinstance(request, bytes) else json.dumps(request).encode()
        return self.ask("POST", path, body, JSON | headers)

    def compute(self, **headers: str) -> Reply:
        """One well-formed request for a computation; in the names of headers "_" stands for "-"."""
        return self.post(PATH, BODY, **{name.replace("_", "-"): value for name, value in headers.items()})

    def logged(self) -> int:
        """How much of its log there is once everything asked until now is in it [characters]."""
        last = self.ask("GET", "/nowhere").headers["x-request-id"]
        wait_for("the request is in the log", lambda: last in self.words() and self.words().endswith("\n"))
        return len(self.words())

    def log_lines(self, start: int, count: int) -> str:
        """Its log from a place on; a line comes just after its answer, so `count` of them are waited for."""
        eventually(lambda: self.words().count("\n", start) >= count)
        return self.words()[start:]

    def lines(self) -> list[dict[str, Any]]:
        """What it has logged, without the words with which it starts."""
        return [json.loads(line) for line in self.words().splitlines() if line.startswith("{")]

    def requests(self) -> list[dict[str, Any]]:
        """Its lines about requests."""
        return [line for line in self.lines() if line["event"] == "request"]

    def next_request(self, before: int) -> dict[str, Any]:
        """The line of the request after so many others, once it is written: lines are gathered for a moment."""
        wait_for("the request is in the log", lambda: len(self.requests()) > before)
        return self.requests()[before]

    def answered(self, route: str) -> int:
        """How many requests of a route it has logged, in all of its lives."""
        return self.words().count(f'"route":"{route}"')


def live(folder: Path, **environment: str) -> AbstractContextManager[Live]:
    """The service with these settings, until the block is left."""
    return running(Live(folder, environment=environment))


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    """The service as it starts where nothing is set; one process for all tests of a run."""
    with live(tmp_path_factory.mktemp("served")) as service:
        yield service
