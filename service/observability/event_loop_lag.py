"""How late the event loop comes to what is due: how long each client waits while the loop is kept by another's work."""

from __future__ import annotations

import asyncio
from typing import Final

from prometheus_client import Histogram

PERIOD: Final = 0.25  # [s] between two looks: four a second cost nothing that could be measured; design choice


class LoopLag:
    """Looks at the clock of the running event loop every PERIOD and observes by how much it is late [s]."""

    def __init__(self, lateness: Histogram) -> None:
        self._lateness = lateness
        self._timer: asyncio.TimerHandle | None = None

    def start(self) -> None:
        """Start measuring, on the running loop."""
        loop = asyncio.get_running_loop()
        self._timer = loop.call_at(due := loop.time() + PERIOD, self._look, loop, due)

    def stop(self) -> None:
        """Stop measuring."""
        if self._timer is not None:
            self._timer.cancel()

    def _look(self, loop: asyncio.AbstractEventLoop, due: float) -> None:
        self._lateness.observe(max(0.0, loop.time() - due))
        self.start()
