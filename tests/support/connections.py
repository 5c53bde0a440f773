"""Connections to a live service on which tests send bytes of their own, well-formed or not."""

from __future__ import annotations

import socket
import time


def connected(port: int, timeout: float = 30.0) -> socket.socket:
    """A connection on which nothing may take longer than the timeout [s]."""
    return socket.create_connection(("127.0.0.1", port), timeout=timeout)


def until_closed(connection: socket.socket) -> bytes:
    """All that comes until the other side closes."""
    received = bytearray()
    try:
        while part := connection.recv(65_536):
            received += part
    except ConnectionError:
        pass
    return bytes(received)


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
