"""Where log lines go: standard output, handed on a few times a second while requests are served.

Handing on each line by itself costs a tenth of a short request's whole time. What is lost if the process is killed is
what was logged in the last moments; an orderly end hands on everything.
"""

from __future__ import annotations

import asyncio
from typing import IO, Final

HANDED_ON_AFTER: Final = 0.05  # [s]


class Lines:
    """A stream of bytes whose `flush` waits for more to come while an event loop runs."""

    def __init__(self, stream: IO[bytes]) -> None:
        self._stream = stream
        self._waiting = False
        self.write = stream.write

    def flush(self) -> None:
        """Hand on what was written: soon while requests are served, else now."""
        if self._waiting:
            return
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self._stream.flush()
            return
        self._waiting = True
        loop.call_later(HANDED_ON_AFTER, self._hand_on)

    def _hand_on(self) -> None:
        self._waiting = False
        self._stream.flush()
