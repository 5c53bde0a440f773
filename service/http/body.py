"""The body of a request."""

from __future__ import annotations

from service.http.problems import HttpProblem
from service.http.types import Receive


async def read_body(receive: Receive, limit: int) -> bytes:
    """The whole body, of at most so many bytes.

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
        if not message.get("more_body", False):
            return part if len(parts) == 1 else b"".join(parts)
