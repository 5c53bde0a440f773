"""The server's HTTP protocol with limits of its own: on the size of a request's head, and on the time it may take.

uvicorn limits neither with its faster parser; without this, a client that sends its head byte by byte, or never reads
its answer, holds a connection for as long as it likes. Nor does it look at Host, read the body of a request that offers
another protocol, or wait with closing until a client that still sends its body can have seen the answer.

Measured for the choice of the server, on one core with 16 connections: a bare echo 36.1 thousand requests a second with
uvicorn (0.54) against 15.6 with granian (2.8.7), an echo of the framework 10.1 against 7.5.
"""

from __future__ import annotations

import asyncio
import re
from typing import Any, ClassVar, Final

import httptools
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

from service.http.server.rejections import BAD_HOST, TOO_LARGE, TOO_SLOW, UNREADABLE, Rejection
from service.http.server.write_coalescing import CoalescedWrites
from service.observability.metrics import REFUSED

DRAINED: Final = 16 * 1024 * 1024
"""How much of a body is taken and thrown away after its answer [bytes]; a batch or table may have a quarter of it."""
_NAME: Final = rb"[\w.~!$&'()*+,;=-]*"
HOST: Final = re.compile(rb"(?:\[[\w.~!$&'()*+,;=:-]+\]|%b(?:%%[0-9A-Fa-f]{2}%b)*)(?::[0-9]*)?" % (_NAME, _NAME))
"""RFC 9110 §7.2: a host as in a URI, which may be empty, and a port."""
OFFERING: Final = frozenset({b"upgrade", b"http2-settings"})
"""Fields with which a client offers another protocol, and their names in Connection (RFC 9110 §7.8, RFC 7540 §3.2)."""


class ImpatientProtocol(HttpToolsProtocol):
    """One connection. A request that comes in one piece, as nearly all do, costs almost nothing extra.

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
        self._offered = False  # another protocol, by the head just read
        self._lingering = False  # the answer is complete, and closing waits for the client
        self._drained = 0  # bytes that came after the answer to them

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Start the time limit of the first head."""
        super().connection_made(CoalescedWrites(transport, self.loop, self._close))  # type: ignore[arg-type]
        self._start_timer()

    def connection_lost(self, exc: Exception | None) -> None:
        """Cancel the time limits."""
        self._stop_timer()
        self._read_on()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Count the bytes that are neither body nor the end of a message, which are limited in number and time."""
        if self._lingering:
            self._drain(len(data))
            return
        self._received += len(data)
        self._unset_keepalive_if_required()
        self._parse(memoryview(data))
        if self._received and not self._refused:
            if self._received > self.largest_head:
                self._refuse(TOO_LARGE)
            elif not self._in_body:
                self._start_timer()

    def _parse(self, data: memoryview) -> None:
        try:
            while data:
                try:
                    self.parser.feed_data(data)
                except httptools.HttpParserUpgrade as offer:
                    if not self._offered:  # refused, as CONNECT is: what follows is no request
                        break
                    data = data[offer.args[0] :]
                    self._read_without_offer()
                else:
                    break
        except httptools.HttpParserError:
            self.logger.warning("Invalid HTTP request received.")
            if not self._refused:
                self._refuse(UNREADABLE)

    def _read_without_offer(self) -> None:
        """Parse the head again without its offer of another protocol, after which the parser would read no body."""
        self._offered = False
        lines = [b"%b %b HTTP/%b" % (self.parser.get_method(), self.url, self.parser.get_http_version().encode())]
        for name, value in self.headers:
            if name not in OFFERING:
                lines.append(b"%b: %b" % (name, _without_offer(value) if name == b"connection" else value))
        self.parser = httptools.HttpRequestParser(self)
        self.parser.set_dangerous_leniencies(lenient_data_after_close=True)  # as the server does
        self.parser.feed_data(b"\r\n".join([*lines, b"", b""]))

    def on_headers_complete(self) -> None:
        """Pass a complete head to the application, or refuse one that is too large."""
        if self._refused:
            return
        if self.parser.should_upgrade() and self.parser.get_method() != b"CONNECT":
            self._offered = True
            return
        self._stop_timer()
        if self._received > self.largest_head and self._head_size() > self.largest_head:
            self._refuse(TOO_LARGE)
            return
        if not self._host_is_good():
            self._refuse(BAD_HOST)
            return
        self._received = 0
        super().on_headers_complete()  # raises where the address is none
        self._in_body = True

    def on_body(self, body: bytes) -> None:
        """Pass a part of a body on, unless the request was refused."""
        self._received = 0
        if self._refused:
            return
        if self.cycle.response_complete:
            self._drain(len(body))
        else:
            super().on_body(body)

    def on_message_complete(self) -> None:
        """Pass the end of a request on, unless it was refused or its head is to be parsed again."""
        if self._offered:
            return
        self._received = 0
        self._in_body = False
        self._drained = 0
        if self._refused:
            return
        super().on_message_complete()
        self._stop_timer()
        if self.cycle.response_complete:  # before its body had come: only now the next head is waited for
            self._start_timer()

    def on_response_complete(self) -> None:
        """Limit the time for the rest of a body that is answered already, such as one that is too large."""
        super().on_response_complete()
        if self.transport.is_closing():
            self._cut_off_later()
        elif self._in_body:
            self._start_timer()

    def timeout_keep_alive_handler(self) -> None:
        """Close an idle connection."""
        super().timeout_keep_alive_handler()
        self._cut_off_later()

    def pause_writing(self) -> None:
        """Start the time limit of a client that reads more slowly than it is answered."""
        super().pause_writing()
        self._stalled = self.loop.call_later(self.head_seconds, self.transport.abort)

    def resume_writing(self) -> None:
        """Cancel that limit: the client reads again."""
        self._read_on()
        super().resume_writing()

    def _host_is_good(self) -> bool:
        """RFC 9112 §3.2: one valid Host, which only HTTP/1.0 may leave out."""
        hosts = [value for name, value in self.headers if name == b"host"]
        if not hosts:
            return bool(self.parser.get_http_version() == "1.0")
        return len(hosts) == 1 and HOST.fullmatch(hosts[0]) is not None

    def _head_size(self) -> int:
        return len(self.url) + sum(len(name) + len(value) + 4 for name, value in self.headers)

    def _start_timer(self) -> None:
        if self._timer is None:
            self._timer = self.loop.call_later(self.head_seconds, self._refuse, TOO_SLOW)

    def _stop_timer(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None

    def _read_on(self) -> None:
        if self._stalled is not None:
            self._stalled.cancel()
            self._stalled = None

    def _refuse(self, rejection: Rejection) -> None:
        self._refused = True
        self._stop_timer()
        REFUSED.labels(rejection.reason).inc()
        if not self.transport.is_closing():
            if self._in_hand():
                # answered first: a refusal now would be taken for the answer
                self.cycle.keep_alive = False
                self.flow.pause_reading()
                return
            if self._may_answer():
                self.transport.write(rejection.answer)
            # who was too slow is not waited for again
            self._close(lingering=rejection is not TOO_SLOW)

    @property
    def _nothing_asked(self) -> bool:
        """Whether no request has come yet on this connection."""
        cycle: Any = self.cycle
        return cycle is None

    def _in_hand(self) -> bool:
        """Whether requests that came whole still wait for their answers, and none after them has begun its body."""
        return not self._in_body and not self._nothing_asked and not self.cycle.response_complete

    def _may_answer(self) -> bool:
        """Whether the client would match an answer sent now to the request that is refused."""
        if self._in_body:
            return not self.cycle.response_started and not self.pipeline
        return self._nothing_asked or self._received > 0  # a connection that was merely kept open is closed

    def _close(self, *, lingering: bool | None = None) -> None:
        """Close, at once or when the client has had the time to send the rest of its body and to see the answer.

        A connection that is closed with bytes unread is reset, and what the client has not read yet may be lost to it
        (RFC 9112 §9.6). lingering: by default while a body is coming, or what was refused.
        """
        transport: Any = self.transport
        if lingering is None:
            lingering = self._in_body or self._refused
        if not lingering or transport.is_closing():
            transport.close_now()
            self._cut_off_later()
            return
        self._lingering = True
        self.flow.resume_reading()
        transport.write_no_more()
        self._stop_timer()
        self._timer = self.loop.call_later(self.head_seconds, transport.abort)

    def _drain(self, size: int) -> None:
        """Discard up to a limited number of bytes that come after their answer."""
        self._drained += size
        if self._drained > DRAINED:
            self.transport.abort()

    def _cut_off_later(self) -> None:
        """Close the connection even if its client does not read what it was sent."""
        if self.transport.get_write_buffer_size():
            self.loop.call_later(self.head_seconds, self.transport.abort)


def _without_offer(connection: bytes) -> bytes:
    """The options of a Connection field, without those that belong to an offer of another protocol."""
    return b",".join(option for option in connection.split(b",") if option.strip().lower() not in OFFERING)


def protocol_with(largest_head: int, head_seconds: float) -> type[ImpatientProtocol]:
    """The protocol class with these limits [bytes, s]."""
    return type("LimitedProtocol", (ImpatientProtocol,), {"largest_head": largest_head, "head_seconds": head_seconds})
