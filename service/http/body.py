"""The body of a request."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from service.http.problems import HttpProblem, overloaded
from service.http.types import Receive


class BodiesInHand:
    """A limit on the size of all bodies together that are being read or wait for their answer [bytes].

    Bytes count as they arrive, so a client that announces a body and does not send it keeps nobody else out.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self.bytes = 0

    @contextmanager
    def one(self) -> Iterator[Callable[[int], None]]:
        """A function that counts the bytes of one body; they are counted until the block is left.

        The function raises HttpProblem (503) where all bodies together would be too large.
        """
        size = 0

        def count(more: int) -> None:
            nonlocal size
            if self.bytes + more > self._most:
                raise overloaded("Too many batches and tables are waiting; short questions are answered.")
            self.bytes += more
            size += more

        try:
            yield count
        finally:
            self.bytes -= size


async def read_body(receive: Receive, limit: int, count: Callable[[int], None] | None = None) -> bytes:
    """The whole body, of at most so many bytes; count: called with the size of each part as it comes.

    Raises HttpProblem as soon as it is longer (413), and where the client leaves before its end (400).
    """
    parts: list[bytes] = []
    size = 0
    while True:
        message = await receive()
        if message["type"] != "http.request":
            raise HttpProblem("unreadable", "The client left before the body was complete.")
        part: bytes = message.get("body", b"")
        parts.append(part)
        size += len(part)
        if size > limit:
            raise HttpProblem("too-large", f"The body is larger than {limit} bytes.")
        if count is not None:
            count(len(part))
        if not message.get("more_body", False):
            return part if len(parts) == 1 else b"".join(parts)
