"""The server's limits on a request's head, over real connections."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator
from typing import Any

import pytest
import uvicorn

from service.http.server.protocol import protocol_with

LARGEST: int = 4096
SECONDS: float = 0.5


async def application(scope: Any, receive: Any, send: Any) -> None:  # noqa: ANN401 - an application
    if scope["type"] != "http":
        return
    size = 0
    while True:
        message = await receive()
        size += len(message.get("body", b""))
        if not message.get("more_body"):
            break
    body = str(size).encode()
    await send({"type": "http.response.start", "status": 200, "headers": [(b"content-length", b"%d" % len(body))]})
    await send({"type": "http.response.body", "body": body})


@pytest.fixture(scope="module")
def port() -> Iterator[int]:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        number = int(probe.getsockname()[1])
    config = uvicorn.Config(
        application, port=number, http=protocol_with(LARGEST, SECONDS), log_level="critical", lifespan="off"
    )
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    yield number
    server.should_exit = True
    thread.join()


def sent(port: int, *pieces: bytes, pause: float = 0.0) -> bytes:
    """Everything the server says to these pieces."""
    with socket.create_connection(("127.0.0.1", port), timeout=20) as connection:
        for piece in pieces:
            connection.sendall(piece)
            if pause:
                time.sleep(pause)
        answer = b""
        while part := connection.recv(65_536):
            answer += part
            if answer.startswith(b"HTTP/1.1 200") and answer.rstrip().split(b"\r\n\r\n")[-1].isdigit():
                break
        return answer


def test_ordinary_requests_are_answered_one_after_the_other_on_one_connection(port: int) -> None:
    head = b"POST / HTTP/1.1\r\nhost: a\r\ncontent-length: 5\r\n\r\n"
    with socket.create_connection(("127.0.0.1", port), timeout=20) as connection:
        for _ in range(3):
            connection.sendall(head + b"12345")
            answer = b""
            while not answer.endswith(b"\r\n\r\n5"):
                answer += connection.recv(65_536)
            assert answer.startswith(b"HTTP/1.1 200")


def test_body_larger_than_the_head_may_be_is_no_head(port: int) -> None:
    size = 20 * LARGEST
    answer = sent(port, b"POST / HTTP/1.1\r\nhost: a\r\ncontent-length: %d\r\n\r\n" % size, b"x" * size)
    assert answer.endswith(str(size).encode())


def test_head_in_pieces_is_answered(port: int) -> None:
    answer = sent(port, b"GET / HT", b"TP/1.1\r\nhost", b": a\r\n\r\n", pause=0.02)
    assert answer.startswith(b"HTTP/1.1 200")


def test_large_head_is_refused_when_it_comes_at_once(port: int) -> None:
    fields = b"".join(b"x-%d: %s\r\n" % (number, b"a" * 990) for number in range(5))
    answer = sent(port, b"GET / HTTP/1.1\r\nhost: a\r\n" + fields + b"\r\n")
    assert answer.startswith(b"HTTP/1.1 431")  # RFC 6585 §5


def test_large_head_is_refused_while_it_comes(port: int) -> None:
    pieces = [b"x-%d: %s\r\n" % (number, b"a" * 990) for number in range(5)]  # the last one is more than enough
    answer = sent(port, b"GET / HTTP/1.1\r\nhost: a\r\n", *pieces, pause=0.02)
    assert answer.startswith(b"HTTP/1.1 431")


@pytest.mark.parametrize("begun", [b"", b"GET / HTTP/1.1\r\nhost: a\r\n"])
def test_head_that_does_not_come_is_cut_off(port: int, begun: bytes) -> None:
    assert sent(port, begun).startswith(b"HTTP/1.1 408")  # RFC 9110 §15.5.9


def test_other_clients_are_answered_while_slow_ones_hold_connections(port: int) -> None:
    slow = [socket.create_connection(("127.0.0.1", port), timeout=20) for _ in range(50)]
    try:
        for connection in slow:
            connection.sendall(b"GET / HTTP/1.1\r\n")
        assert sent(port, b"GET / HTTP/1.1\r\nhost: a\r\n\r\n").startswith(b"HTTP/1.1 200")
        assert all(connection.recv(64).startswith(b"HTTP/1.1 408") for connection in slow)
    finally:
        for connection in slow:
            connection.close()
