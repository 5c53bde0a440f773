"""Limits of a live service: what is too large, too slow or too much at once is refused, and the others are answered."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import ExitStack
from typing import Final

import pytest

from tests.live.http.requests import WITHHELD
from tests.support.connections import connected, head_of, raw, until_closed
from tests.support.live import BODY, JSON, PATH, Live, live
from tests.support.programs import eventually

HEAD_SECONDS: Final = 1.0
REQUEST_SECONDS: Final = 2.0
MOST: Final = 4
GET: Final = b"GET /livez HTTP/1.1\r\nhost: a\r\n\r\n"


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    settings = {"HEAD_SECONDS": f"{HEAD_SECONDS}", "REQUEST_SECONDS": f"{REQUEST_SECONDS}", "MOST_AT_ONCE": f"{MOST}"}
    with live(tmp_path_factory.mktemp("service"), MAX_HEAD="4096", **settings) as found:
        yield found


@pytest.mark.parametrize("begun", [b"", b"POST / HTTP/1.1\r\n", b"\r\n"])
def test_slow_head_is_cut_off(service: Live, begun: bytes) -> None:
    status, headers, body = head_of(raw(service.port, begun))
    assert (status, headers["content-type"]) == (408, "application/problem+json")
    assert b"/problems/too-slow" in body


def test_empty_lines_do_not_keep_a_connection(service: Live) -> None:
    """After an answer, too: empty lines before a request line are passed over (RFC 9112 §2.2), but not for ever."""
    with connected(service.port) as connection:
        connection.sendall(GET)
        connection.settimeout(0.05)
        began = time.monotonic()
        found = b""
        while time.monotonic() - began < 30:
            try:
                connection.sendall(b"\r\n")
                part = connection.recv(65_536)
            except TimeoutError:
                continue
            except ConnectionError:
                break
            if not part:
                break
            found += part
        else:
            pytest.fail("the connection is kept by nothing but empty lines")
    assert found.startswith(b"HTTP/1.1 200")


def test_slow_body_is_cut_off(service: Live) -> None:
    with connected(service.port) as connection:
        connection.sendall(WITHHELD)
        assert connection.recv(100).startswith(b"HTTP/1.1 100 ")
        connection.sendall(BODY[:10])
        status, headers, body = head_of(until_closed(connection))
    assert (status, headers["connection"]) == (408, "close")
    assert b"/problems/too-slow" in body


def test_body_that_is_answered_already_is_not_read_for_ever(service: Live) -> None:
    with connected(service.port) as connection:
        connection.sendall(WITHHELD.replace(b"content-length: %d" % len(BODY), b"content-length: 1000000000"))
        sent = 0
        began = time.monotonic()
        try:
            while time.monotonic() - began < 30:
                connection.sendall(b" " * 4096)
                sent += 4096
                time.sleep(0.005)
        except ConnectionError:
            return
    pytest.fail(f"{sent} bytes were taken after the refusal")


def test_client_that_does_not_read_is_cut_off(service: Live) -> None:
    """Many large answers asked for at once and none read: the service does not keep them."""
    asked = 100
    assert service.ask("GET", "/openapi.json").status == 200  # made once, which may take longer than the limit
    with connected(service.port) as connection:
        connection.sendall(b"GET /openapi.json HTTP/1.1\r\nhost: a\r\n\r\n" * asked)
        assert eventually(lambda: service.compute().status == 200)
        time.sleep(3 * HEAD_SECONDS)
        found = until_closed(connection)
    assert found.startswith(b"HTTP/1.1 200")
    assert found.count(b"HTTP/1.1 200") < asked


@pytest.mark.parametrize(
    "fields",
    [[b"x-%d: %s" % (number, b"a" * 990) for number in range(5)], [b"x-%d: a" % number for number in range(1000)]],
    ids=["long", "many"],
)
def test_huge_head(service: Live, fields: list[bytes]) -> None:
    head = b"\r\n".join([b"GET / HTTP/1.1", b"host: a", *fields, b"", b""])
    half = len(head) // 2
    for pieces in ([head], [head[:half], head[half:]]):
        status, headers, body = head_of(raw(service.port, *pieces))
        assert (status, headers["content-type"]) == (431, "application/problem+json")  # RFC 6585 §5
        assert b"431" in body


def test_huge_trailer(service: Live) -> None:
    """Fields after a chunked body are read as those before it are."""
    head = WITHHELD.replace(b"content-length: %d" % len(BODY), b"transfer-encoding: chunked")
    head = head.replace(b"expect: 100-continue\r\n", b"")
    fields = b"".join(b"x-%d: %s\r\n" % (number, b"a" * 990) for number in range(5))
    assert head_of(raw(service.port, head + b"1\r\n{\r\n0\r\n", fields[:2000], fields[2000:], pause=0.3))[0] == 431


@pytest.mark.parametrize(
    ("method", "path", "body", "status"),
    [
        ("GET", PATH + "?" + "a" * 2048, None, 414),
        ("POST", PATH, b" " * 65_537, 413),
        ("POST", "/v1/batch", b'{"requests": [' + b"{}," * 5000 + b"{}]}", 422),
        ("POST", PATH, b"[" * 60_000, 400),
        ("POST", "/v1/batch", b"[" * 2_000_000, 400),
    ],
    ids=["address", "body", "items", "depth", "depth_of_a_batch"],
)
def test_too_large(service: Live, method: str, path: str, body: bytes | None, status: int) -> None:
    reply = service.ask(method, path, body, JSON)
    assert reply.status == status
    assert len(reply.body) < 4096


def test_too_many_at_once_are_shed(service: Live) -> None:
    with ExitStack() as stack:
        held = [stack.enter_context(connected(service.port)) for _ in range(MOST)]
        for connection in held:
            connection.sendall(WITHHELD)
        assert all(connection.recv(100).startswith(b"HTTP/1.1 100 ") for connection in held)
        reply = service.compute()
        assert reply.status == 503
        assert int(reply.headers["retry-after"]) >= 1
        assert reply.json()["type"] == "/problems/overloaded"
        assert service.ask("GET", "/livez").status == 200
        assert service.ask("GET", "/readyz").status == 200
        for connection in held:
            connection.sendall(BODY)
        assert all(connection.recv(65_536).startswith(b"HTTP/1.1 200 ") for connection in held)
    assert service.compute().status == 200
