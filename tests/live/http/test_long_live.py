"""Long computations on a live service: health is answered beside them, and an answer that breaks off is seen to.

By order alone: what is asked while a long answer is being made comes back before its end.
"""

from __future__ import annotations

import http.client
import json
import socket
import subprocess
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any, Final

import pytest
import uvicorn
from litestar import Litestar

from service.api.bulk.streaming import Bounds, Questions, mounted_stream, without_query
from service.api.bulk.tables import most_rows, table_path
from service.api.openapi.bulk_operations import example_table
from service.api.operations.registry import OPERATIONS
from service.http.background import Background
from service.http.body import BodiesInHand
from service.http.middleware.access_log import AccessLog
from service.http.middleware.load_shedding import LoadShedding
from service.http.server.protocol import protocol_with
from service.settings import Settings
from tests.support.connections import connected, until_closed
from tests.support.live import BODIES, JSON, Live, live

CONSULTATION: Final = "/v1/adjustments"
LAST_CHUNK: Final = b"\r\n0\r\n\r\n"
CSV: Final = {"content-type": "text/csv"}
BROKEN_OFF: Final = 18
"""curl's exit code for a partial file."""


def batch(items: int) -> bytes:
    item = json.dumps({"operation": "adjustments", "body": BODIES[CONSULTATION]})
    return b'{"requests":[%b]}' % b",".join([item.encode()] * items)


def table(rows: int) -> bytes:
    header, row, *_ = example_table(OPERATIONS[0]).splitlines(keepends=True)
    return header + row * rows


def request(path: str, body: bytes, media_type: str = "application/json", more: str = "") -> bytes:
    head = f"POST {path} HTTP/1.1\r\nhost: a\r\ncontent-type: {media_type}\r\n{more}content-length: {len(body)}\r\n\r\n"
    return head.encode() + body


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    with live(tmp_path_factory.mktemp("service"), MOST_COST="10000") as found:
        yield found


@pytest.fixture(scope="module")
def hurried(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    """A service that gives each request less time than the questions of one table need."""
    with live(tmp_path_factory.mktemp("hurried"), REQUEST_SECONDS="0.5", MOST_COST="1000000") as found:
        yield found


@pytest.mark.parametrize("path", ["/v1/batch", table_path(OPERATIONS[0])])
def test_health_and_short_questions_are_answered_while_many_consultations_are(service: Live, path: str) -> None:
    sent = request(path, batch(150)) if path == "/v1/batch" else request(path, table(150), "text/csv")
    with connected(service.port) as connection:
        connection.sendall(sent)
        assert connection.recv(15) == b"HTTP/1.1 200 OK"
        meanwhile = [service.ask("GET", "/livez").status for _ in range(5)] + [service.compute().status]
        connection.settimeout(0)
        came = b""
        while LAST_CHUNK not in came:  # what has come until now is not all
            try:
                came += connection.recv(65_536)
            except BlockingIOError:
                break
        assert LAST_CHUNK not in came, "the long answer was complete before the short ones"
        connection.settimeout(60)
        while LAST_CHUNK not in came:
            came += connection.recv(65_536)
    assert meanwhile == [200] * 6


@pytest.mark.parametrize("path", ["/v1/batch", table_path(OPERATIONS[0])])
def test_more_work_than_one_request_may_ask_for_is_refused_before_the_first_byte(service: Live, path: str) -> None:
    rows = most_rows(OPERATIONS[0], 10_000)
    body, headers = (batch(rows + 1), JSON) if path == "/v1/batch" else (table(rows + 1), CSV)
    reply = service.ask("POST", path, body, headers)
    assert (reply.status, reply.json()["type"]) == (413, "/problems/too-large")
    assert reply.json()["detail"].startswith(f"These questions cost {10_000 + OPERATIONS[0].cost} units of work")
    assert " in 2 parts" in reply.json()["detail"]


def test_most_rows_follow_from_the_cost() -> None:
    most = {operation.name: most_rows(operation, Settings().most_cost) for operation in OPERATIONS}
    for operation in OPERATIONS:
        rows = most[operation.name]
        assert rows == 10_000 or rows * operation.cost <= Settings().most_cost < (rows + 1) * operation.cost
    assert most["adjustments"] < most["load-for-reps"] == 10_000


@pytest.mark.parametrize("form", ["batch", "table"])
@pytest.mark.parametrize("coding", ["identity", "gzip"])
def test_answer_that_takes_too_long_ends_without_its_last_chunk(hurried: Live, form: str, coding: str) -> None:
    accepted = f"accept-encoding: {coding}\r\n"
    before = len(hurried.requests())
    if form == "batch":
        sent = request("/v1/batch", batch(5000), more=accepted)
    else:
        sent = request(table_path(OPERATIONS[0]), table(10_000), "text/csv", accepted)
    with connected(hurried.port) as connection:
        connection.sendall(sent)
        found = until_closed(connection)
    assert found.startswith(b"HTTP/1.1 200 OK")
    assert b"transfer-encoding: chunked" in found
    assert not found.endswith(LAST_CHUNK)
    assert hurried.ask("GET", "/livez").status == 200
    assert hurried.next_request(before)["status"] == 503  # the log knows better than the status that was sent


def test_clients_see_that_it_broke_off(hurried: Live, tmp_path: Path) -> None:
    with closing(http.client.HTTPConnection("127.0.0.1", hurried.port, timeout=60)) as connection:
        connection.request("POST", "/v1/batch", batch(5000), JSON)
        with connection.getresponse() as reply, pytest.raises(http.client.IncompleteRead):
            reply.read()
    file = tmp_path / "table.csv"
    file.write_bytes(table(10_000))
    address = f"http://127.0.0.1:{hurried.port}{table_path(OPERATIONS[0])}"
    for more in ([], ["--compressed"]):
        command = ["curl", "--silent", "--data-binary", f"@{file}", "--header", "content-type: text/csv", *more]
        done = subprocess.run([*command, address], capture_output=True, check=False, timeout=60)  # noqa: S603
        assert done.returncode == BROKEN_OFF
        assert done.stdout.startswith(b"lifter_body_mass,")


def test_single_question_that_waits_too_long_is_a_problem(hurried: Live) -> None:
    """Many at once, more than the time of a request allows: each is answered, or told that it will not be."""
    replies: list[Any] = []
    path = f"{CONSULTATION}?as=svg"
    body = json.dumps(BODIES[CONSULTATION]).encode()
    threads = [
        threading.Thread(target=lambda: replies.append(hurried.ask("POST", path, body, JSON))) for _ in range(100)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert {reply.status for reply in replies} == {200, 503}
    refused = [reply for reply in replies if reply.status == 503]
    assert {reply.json()["type"] for reply in refused} == {"/problems/overloaded"}
    assert all(int(reply.headers["retry-after"]) >= 1 for reply in refused)


@contextmanager
def serving(app: Any) -> Iterator[int]:  # noqa: ANN401 - an ASGI application
    """An application under the service's own protocol, in this process; its port."""
    with socket.create_server(("127.0.0.1", 0)) as listening:
        server = uvicorn.Server(uvicorn.Config(app, http=protocol_with(16_384, 10.0), log_level="critical"))
        thread = threading.Thread(target=lambda: server.run([listening]))
        thread.start()
        try:
            yield listening.getsockname()[1]
        finally:
            server.should_exit = True
            thread.join()


@pytest.mark.parametrize("coding", ["identity", "gzip"])
def test_answer_whose_computation_fails_midway_is_broken_off(coding: str) -> None:
    def read(_: bytes) -> Questions:
        def pieces() -> Iterator[bytes]:
            yield b"whole "
            raise ZeroDivisionError

        return Questions([1], pieces())

    routed = Litestar(
        [
            mounted_stream(
                "/many",
                b"application/json",
                frozenset(),
                Bounds(99, 9, BodiesInHand(99), Background(8)),
                without_query(read),
            )
        ],
        openapi_config=None,
        logging_config=None,
    )
    app = AccessLog(LoadShedding(routed, 8, 60.0, frozenset()), frozenset(), frozenset(), None)
    with serving(app) as port, connected(port) as connection:
        connection.sendall(request("/many", b"{}", more=f"accept-encoding: {coding}\r\n"))
        found = until_closed(connection)
    assert found.startswith(b"HTTP/1.1 200 OK")
    assert not found.endswith(LAST_CHUNK)
    assert b"ZeroDivisionError" not in found
