"""The server's HTTP protocol with limits of its own: on the size of a request's head, and on the time it may take.

uvicorn limits neither with its faster parser; without this, a client that sends its head byte by byte holds a
connection for as long as it likes.
"""

from __future__ import annotations

import asyncio
from typing import Any, ClassVar

from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

_TOO_LARGE = b"HTTP/1.1 431 Request Header Fields Too Large\r\ncontent-length: 0\r\nconnection: close\r\n\r\n"
_TOO_SLOW = b"HTTP/1.1 408 Request Timeout\r\ncontent-length: 0\r\nconnection: close\r\n\r\n"


class ImpatientProtocol(HttpToolsProtocol):
    """One connection. A request whose head comes in one piece, as nearly all do, pays for none of this.

    largest_head: of request line and header fields [bytes]; head_seconds: in which they have to come [s].
    """

    largest_head: ClassVar[int]
    head_seconds: ClassVar[float]

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401 - whatever the server passes
        super().__init__(*args, **kwargs)
        self._in_head = False
        self._received = 0  # bytes since the present head began, this piece included
        self._timer: asyncio.TimerHandle | None = None
        self._refused = False

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait for a head."""
        super().connection_made(transport)
        self._start_timer()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait no longer."""
        self._stop_timer()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Count what came as long as a head is not complete."""
        self._received += len(data)
        super().data_received(data)
        if self._in_head:
            self._start_timer()
            if self._received > self.largest_head:
                self._refuse(_TOO_LARGE)

    def on_message_begin(self) -> None:
        """A head begins."""
        self._in_head = True
        super().on_message_begin()

    def on_headers_complete(self) -> None:
        """A head is complete: on to the application, if it is not too large."""
        self._in_head = False
        self._stop_timer()
        if self._received > self.largest_head and self._head_size() > self.largest_head:
            self._refuse(_TOO_LARGE)
            return
        self._received = 0
        super().on_headers_complete()

    def on_body(self, body: bytes) -> None:
        """Pass on, unless the request was refused."""
        self._received = 0
        if not self._refused:
            super().on_body(body)

    def on_message_complete(self) -> None:
        """Pass on, unless the request was refused."""
        self._received = 0
        if not self._refused:
            super().on_message_complete()

    def _head_size(self) -> int:
        return len(self.url) + sum(len(name) + len(value) for name, value in self.headers)

    def _start_timer(self) -> None:
        if self._timer is None:
            self._timer = self.loop.call_later(self.head_seconds, self._refuse, _TOO_SLOW)

    def _stop_timer(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None

    def _refuse(self, answer: bytes) -> None:
        self._refused = True
        self._stop_timer()
        if not self.transport.is_closing():
            self.transport.write(answer)
            self.transport.close()


def protocol_with(largest_head: int, head_seconds: float) -> type[ImpatientProtocol]:
    """The protocol for these limits [bytes, s]."""
    return type("LimitedProtocol", (ImpatientProtocol,), {"largest_head": largest_head, "head_seconds": head_seconds})
