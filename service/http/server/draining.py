"""Told to stop, the service first says that it is not ready, and serves on until whoever sends it requests has seen it.

Without the pause, requests that are under way to it when it stops listening would be lost: nobody sends again a request
that a replica may have had.
"""

from __future__ import annotations

import signal
from threading import Timer
from types import FrameType

import uvicorn

from service.http.shutdown import STOPPING


class Server(uvicorn.Server):
    """A server that goes on for `drain_seconds` [s] after the first SIGTERM; a second one, or SIGINT, ends that."""

    def __init__(self, config: uvicorn.Config, drain_seconds: float) -> None:
        super().__init__(config)
        self._drain_seconds = drain_seconds

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Stop, now or after the pause."""
        if sig == signal.SIGTERM and self._drain_seconds and not STOPPING.is_set():
            pause = Timer(self._drain_seconds, super().handle_exit, (sig, frame))
            pause.daemon = True  # an end that comes sooner does not wait for it
            pause.start()
        else:
            super().handle_exit(sig, frame)
        STOPPING.set()
