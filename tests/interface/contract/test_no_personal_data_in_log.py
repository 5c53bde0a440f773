"""A failure of the service itself is answered as a problem and logged with its place, never with what was sent."""

from __future__ import annotations

import asyncio
import io
import json
from collections.abc import Callable, Iterator
from typing import Any, Final, TypeAlias

import pytest
import structlog
from litestar import Litestar, get

from service.api import refusals
from service.api.models.operation import Operation
from service.api.operations.tempo import LiftingTempo, TempoAnswer
from service.api.routes import mounted
from service.app import create_app
from service.http.background import Background
from service.observability.logging import LogStream, configure_log
from service.settings import Settings

Log: TypeAlias = Callable[[], bytes]

MARK: Final = "59-58-57-56"
BODY: Final = json.dumps({"tempo": MARK, "reps": {"low": 5, "high": 6}}).encode()


def failing(request: LiftingTempo) -> TempoAnswer:
    """As a fault of ours would: with a message that quotes the request."""
    try:
        return TempoAnswer(**{str(request.tempo): request.tempo})  # type: ignore[arg-type]
    except TypeError as error:
        raise ValueError(f"no phase in {request.tempo}") from error


OPERATION: Final = Operation("failing", "Tempo", "Fails", "Fails.", LiftingTempo, TempoAnswer, failing, ())


@pytest.fixture
def log(monkeypatch: pytest.MonkeyPatch) -> Iterator[Log]:
    """What the service's log, configured as for serving, writes; asked for when all is logged."""
    written = io.BytesIO()
    lines = LogStream(written.write)
    kept = structlog.get_config()
    configure_log("info", lines)
    monkeypatch.setattr(refusals, "log", structlog.get_logger())

    def all_written() -> bytes:
        lines.close()
        return written.getvalue()

    yield all_written
    structlog.configure(**kept)


def call(app: Litestar, method: str, path: str, body: bytes) -> tuple[int, bytes]:
    """One request to the application itself, without a server around it."""
    scope = {
        "type": "http",
        "asgi": {"version": "3.0"},
        "http_version": "1.1",
        "method": method,
        "scheme": "http",
        "path": path,
        "raw_path": path.encode(),
        "root_path": "",
        "query_string": b"",
        "headers": [(b"content-type", b"application/json"), (b"host", b"localhost")],
        "client": ("127.0.0.1", 1),
        "server": ("127.0.0.1", 80),
        "state": {},
    }
    sent: list[dict[str, Any]] = []

    async def receive() -> dict[str, Any]:
        return {"type": "http.request", "body": body, "more_body": False}

    async def send(message: dict[str, Any]) -> None:
        sent.append(message)

    asgi: Any = app
    asyncio.run(asgi(scope, receive, send))
    return sent[0]["status"], b"".join(message.get("body", b"") for message in sent)


def test_failing_computation(log: Log) -> None:
    app = Litestar([mounted(OPERATION, 65_536, Background(8))], openapi_config=None, logging_config=None)
    status, answer = call(app, "POST", OPERATION.path, BODY)
    check(status, answer, log())


def test_failing_resource(log: Log) -> None:
    @get("/failing")
    async def broken() -> None:
        raise ValueError(f"no phase in {MARK}")

    app = create_app(Settings())
    app.register(broken)
    status, answer = call(app, "GET", "/failing", b"")
    check(status, answer, log())


def check(status: int, answer: bytes, written: bytes) -> None:
    problem = json.loads(answer)
    assert (status, problem["status"], problem["type"]) == (500, 500, "/problems/internal")
    assert MARK.encode() not in answer
    assert b"ValueError" not in answer
    (line,) = [json.loads(line) for line in written.splitlines()]
    assert line["level"] == "error"
    assert "ValueError" in json.dumps(line)
    assert "test_no_personal_data_in_log.py" in json.dumps(line)
    assert MARK not in json.dumps(line)
