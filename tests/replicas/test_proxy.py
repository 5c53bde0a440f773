"""What the proxy passes on, keeps to itself and repeats, against stand-ins that show what they were sent."""

from __future__ import annotations

import http.client
import json
import socket
import threading
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import TYPE_CHECKING, ClassVar

import pytest

from tests.replicas.load import ask
from tests.replicas.processes import Proxy, wait_for

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tests.replicas.deployment import Deployment

OF_EACH_ANSWER = {"date", "x-request-id", "connection", "keep-alive"}
LARGEST = 65_536  # [bytes] MAX_BODY where nothing else is set


class StandIn(BaseHTTPRequestHandler):
    """Healthy; shows headers at /headers, is busy at /busy, and ends the connection without a word the first time."""

    protocol_version = "HTTP/1.1"
    seen: ClassVar[list[tuple[str, int]]] = []

    def do_GET(self) -> None:
        self.reply(200, [(name.lower(), value) for name, value in self.headers.items()])

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["Content-Length"]))
        self.seen.append((self.path, len(body)))
        if self.path == "/busy":
            self.reply(503, {}, {"Retry-After": "7"})
        elif len(self.seen) == 1:
            self.close_connection = True
        else:
            self.reply(200, {"length": len(body)})

    def reply(self, status: int, content: object, headers: dict[str, str] | None = None) -> None:
        body = json.dumps(content).encode()
        self.send_response(status)
        for name, value in {"Content-Length": str(len(body)), **(headers or {})}.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: object) -> None:
        """Nothing."""


@contextmanager
def stand_ins() -> Iterator[tuple[int, int]]:
    """The ports of two of them."""
    servers = [ThreadingHTTPServer(("127.0.0.1", 0), StandIn) for _ in range(2)]
    for server in servers:
        threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield servers[0].server_port, servers[1].server_port
    finally:
        for server in servers:
            server.shutdown()
            server.server_close()


@pytest.fixture(name="proxy")
def proxy_before_stand_ins(tmp_path: Path) -> Iterator[Proxy]:
    StandIn.seen.clear()
    with stand_ins() as ports:
        proxy = Proxy(tmp_path, *ports)
        try:
            proxy.start()
            yield proxy
        finally:
            proxy.kill()


def test_a_request_that_got_no_answer_is_sent_again_whole(proxy: Proxy) -> None:
    status, _, body = ask(proxy.port, "/any", b"x" * LARGEST)
    assert (status, json.loads(body)) == (200, {"length": LARGEST})
    assert StandIn.seen == [("/any", LARGEST)] * 2


def test_a_busy_answer_is_passed_on_and_not_asked_for_twice(proxy: Proxy) -> None:
    status, headers, _ = ask(proxy.port, "/busy", b"{}")
    assert (status, headers["retry-after"]) == (503, "7")
    assert len(StandIn.seen) == 1


def test_the_client_cannot_choose_the_address_that_it_is_known_by(proxy: Proxy) -> None:
    connection = http.client.HTTPConnection("127.0.0.1", proxy.port, timeout=30)
    connection.request("GET", "/headers", headers={"X-Forwarded-For": "192.0.2.1", "X-Request-Id": "mine"})
    shown = json.loads(connection.getresponse().read())
    connection.close()
    assert [value for name, value in shown if name == "x-forwarded-for"] == ["127.0.0.1"]
    assert [value for name, value in shown if name == "x-request-id"] == ["mine"]


def test_a_request_that_is_never_finished_reaches_no_replica(proxy: Proxy) -> None:
    with socket.create_connection(("127.0.0.1", proxy.port), timeout=60) as connection:
        connection.sendall(b"POST /any HTTP/1.1\r\nHost: proxy\r\nContent-Length: 100\r\n\r\nbegun")
        assert connection.recv(200).startswith(b"HTTP/1.1 408 ")
    assert StandIn.seen == []


def test_every_header_of_an_answer_arrives(deployment: Deployment) -> None:
    status, direct, body = ask(deployment.replicas[0].port)
    through = ask(deployment.proxy.port)
    assert (status, body) == (through[0], through[2])
    assert set(direct) - OF_EACH_ANSWER <= set(through[1])
    assert {name: through[1][name] for name in set(direct) - OF_EACH_ANSWER} == {
        name: value for name, value in direct.items() if name not in OF_EACH_ANSWER
    }
    assert "x-request-id" in through[1]


def test_the_log_holds_nothing_of_what_was_asked(deployment: Deployment) -> None:
    before = len(deployment.proxy.words())
    status, headers, _ = ask(deployment.proxy.port, "/v1/sources/kneehurts?pain=kneehurts", None)
    assert status >= 400
    name = headers["x-request-id"]
    wait_for("the request is in the log", lambda: f'{name}"' in deployment.proxy.words())
    written = deployment.proxy.words()[before:]
    assert "kneehurts" not in written
    line = next(line for line in written.splitlines() if name in line)
    assert "127.0.0.1" not in line
    assert json.loads(line)["status"] == status
