"""The server's HTTP protocol with limits of its own: on the size of a request's head, and on the time it may take.

uvicorn limits neither with its faster parser; without this, a client that sends its head byte by byte, or never reads
its answer, holds a connection for as long as it likes.
"""

from __future__ import annotations

import asyncio
from typing import Any, ClassVar, Final

import msgspec
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

from service.api.exchange import NO_STORE, SECURITY_HEADERS
from service.api.problems import MEDIA_TYPE, HttpProblem, Problem
from service.front.joined_writes import JoinedWrites
from service.front.metrics import REFUSED

_TOO_LARGE: Final = Problem(
    type="about:blank",  # RFC 6585 §5 says all there is to say
    title="Request Header Fields Too Large",
    status=431,
    detail="Request line and header fields together are larger than the service takes.",
)
_TOO_SLOW: Final = HttpProblem("too-slow", "The head of the request did not come in time.").problem
_UNREADABLE: Final = HttpProblem("unreadable", "The request is not readable HTTP.").problem
_REASONS: Final = {431: "Request Header Fields Too Large", 408: "Request Timeout", 400: "Bad Request"}


def _answer(problem: Problem) -> bytes:
    """A problem as the bytes of a whole HTTP answer, for requests that no application gets to see."""
    body = msgspec.json.encode(problem)
    fields = (
        (b"content-type", MEDIA_TYPE.encode()),
        (b"content-length", b"%d" % len(body)),
        (b"cache-control", NO_STORE),
        *SECURITY_HEADERS,
        (b"connection", b"close"),
    )
    head = b"HTTP/1.1 %d %b\r\n" % (problem.status, _REASONS[problem.status].encode())
    return head + b"".join(b"%b: %b\r\n" % field for field in fields) + b"\r\n" + body


_ANSWERS: Final = {problem.status: _answer(problem) for problem in (_TOO_LARGE, _TOO_SLOW, _UNREADABLE)}


class ImpatientProtocol(HttpToolsProtocol):
    """One connection. A request that comes in one piece, as nearly all do, pays for next to none of this.

    largest_head: of request line and header fields [bytes]; head_seconds: in which they have to come, in which the rest
    of a body has to come that is answered already, and in which a client has to read on [s].
    """

    largest_head: ClassVar[int]
    head_seconds: ClassVar[float]

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401 - whatever the server passes
        super().__init__(*args, **kwargs)
        self._in_body = False
        self._received = 0  # bytes since the last that were part of a body or ended a message
        self._timer: asyncio.TimerHandle | None = None
        self._stalled: asyncio.TimerHandle | None = None
        self._refused = False

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait for a head."""
        super().connection_made(JoinedWrites(transport, self.loop))  # type: ignore[arg-type]
        self._start_timer()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait no longer."""
        self._stop_timer()
        self._read_on()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Count what is neither body nor the end of a message: of it there may not be much, nor for long."""
        self._received += len(data)
        super().data_received(data)
        if self._received and not self._refused:
            if self._received > self.largest_head:
                self._refuse(431)
            elif not self._in_body:
                self._start_timer()

    def on_headers_complete(self) -> None:
        """A head is complete: on to the application, if it is not too large."""
        if self._refused:
            return
        self._stop_timer()
        if self._received > self.largest_head and self._head_size() > self.largest_head:
            self._refuse(431)
            return
        self._received = 0
        super().on_headers_complete()  # raises where the address is none
        self._in_body = True

    def on_body(self, body: bytes) -> None:
        """Pass on, unless the request was refused."""
        self._received = 0
        if not self._refused:
            super().on_body(body)

    def on_message_complete(self) -> None:
        """Pass on, unless the request was refused."""
        self._received = 0
        self._in_body = False
        if self._refused:
            return
        super().on_message_complete()
        self._stop_timer()
        if self.cycle.response_complete:  # before its body had come: only now the next head is waited for
            self._start_timer()

    def on_response_complete(self) -> None:
        """The rest of a body that is answered already, as one too large is, may not come for ever."""
        super().on_response_complete()
        if self.transport.is_closing():
            self._cut_off_later()
        elif self._in_body:
            self._start_timer()

    def timeout_keep_alive_handler(self) -> None:
        """Close a connection on which nothing more is asked."""
        super().timeout_keep_alive_handler()
        self._cut_off_later()

    def pause_writing(self) -> None:
        """The client does not read as fast as it is answered: cut off if it does not read on."""
        super().pause_writing()
        self._stalled = self.loop.call_later(self.head_seconds, self.transport.abort)

    def resume_writing(self) -> None:
        """The client has read on."""
        self._read_on()
        super().resume_writing()

    def send_400_response(self, msg: str) -> None:  # noqa: ARG002 - the problem says it in our own words
        """What came is not HTTP."""
        if not self._refused:
            self._refuse(400)

    def _unsupported_upgrade_warning(self) -> None:
        """Another protocol is offered and not taken up (RFC 9110 §7.8); the parser reads nothing after it."""
        if self.cycle is not None:
            self.cycle.keep_alive = False

    def _head_size(self) -> int:
        return len(self.url) + sum(len(name) + len(value) + 4 for name, value in self.headers)

    def _start_timer(self) -> None:
        if self._timer is None:
            self._timer = self.loop.call_later(self.head_seconds, self._refuse, 408)

    def _stop_timer(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None

    def _read_on(self) -> None:
        if self._stalled is not None:
            self._stalled.cancel()
            self._stalled = None

    def _refuse(self, status: int) -> None:
        self._refused = True
        self._stop_timer()
        REFUSED.labels(_REASONS[status]).inc()
        if not self.transport.is_closing():
            if self._in_hand():
                # answered first: a refusal now would be taken for the answer
                self.cycle.keep_alive = False
                self.flow.pause_reading()
                return
            if self._may_answer():
                self.transport.write(_ANSWERS[status])
            self.transport.close()
            self._cut_off_later()

    @property
    def _nothing_asked(self) -> bool:
        """Whether no request has come yet on this connection."""
        cycle: Any = self.cycle
        return cycle is None

    def _in_hand(self) -> bool:
        """Whether requests that came whole still wait for their answers, and none after them has begun its body."""
        return not self._in_body and not self._nothing_asked and not self.cycle.response_complete

    def _may_answer(self) -> bool:
        """Whether an answer now would be taken for that of the request that is refused."""
        if self._in_body:
            return not self.cycle.response_started and not self.pipeline
        return self._nothing_asked or self._received > 0  # a connection that was merely kept open is closed

    def _cut_off_later(self) -> None:
        """A connection closes when its client has read all; one that does not read is cut off."""
        if self.transport.get_write_buffer_size():
            self.loop.call_later(self.head_seconds, self.transport.abort)


def protocol_with(largest_head: int, head_seconds: float) -> type[ImpatientProtocol]:
    """The protocol for these limits [bytes, s]."""
    return type("LimitedProtocol", (ImpatientProtocol,), {"largest_head": largest_head, "head_seconds": head_seconds})
