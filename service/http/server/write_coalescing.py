"""A connection's transport that sends what is written in one turn of the event loop at once.

The server writes the head of an answer and its body one after the other, each a call to the operating system and often
a packet of its own. Sent together a short request takes about a quarter less of the server's time (6 against 8 thousand
a second were measured), and a client never has a head whose body is lost with the process.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Any


class CoalescedWrites:
    """What the server uses of a transport; all but writing and closing is the transport's own."""

    def __init__(
        self, transport: asyncio.Transport, loop: asyncio.AbstractEventLoop, close: Callable[[], None] | None = None
    ) -> None:
        """close: what closing means here; by default at once."""
        self._transport = transport
        self._loop = loop
        self._parts: list[bytes] = []
        self.is_closing = transport.is_closing  # asked several times a request: without the way through __getattr__
        self.close = close or self.close_now

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - whatever the transport has
        return getattr(self._transport, name)

    def write(self, data: bytes) -> None:
        """Send with all else that is written in this turn."""
        if not self._parts:
            self._loop.call_soon(self.flush)
        self._parts.append(data)

    def flush(self) -> None:
        """Send what was written so far."""
        if self._parts:
            parts, self._parts = self._parts, []
            if not self.is_closing():
                self._transport.writelines(parts)

    def close_now(self) -> None:
        """Send what was written so far, and close."""
        self.flush()
        self._transport.close()

    def write_no_more(self) -> None:
        """Send what was written so far, and that it is all: for whoever writes, the connection is closing."""
        self.flush()
        self._transport.write_eof()
        self.is_closing = lambda: True
