"""What protects the process from too much at once: a cap on requests in flight, and a limit on the time of each.

Body, address and item counts are limited where they are read; header size and slow headers by the server's protocol
(service.front.protocol).
"""

from __future__ import annotations

import asyncio
from typing import Final

from service.api.exchange import send_problem
from service.api.problems import HttpProblem
from service.front.asgi import App, Message, Receive, Scope, Send
from service.front.metrics import IN_FLIGHT, SHED

RETRY_AFTER: Final = 1  # [s]


class Limits:
    """Wraps the application."""

    def __init__(self, app: App, most_at_once: int, seconds: float, exempt: frozenset[str]) -> None:
        self._app = app
        self._most = most_at_once
        self._seconds = seconds
        self._exempt = exempt
        self._now = 0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request: shed with 503 where too many are being answered, cut off with 408 where it takes too long."""
        if scope["type"] != "http" or scope["path"] in self._exempt:
            await self._app(scope, receive, send)
            return
        if self._now >= self._most:
            SHED.inc()
            await send_problem(
                send,
                HttpProblem("overloaded", "Too many requests are being answered.", {"retry-after": str(RETRY_AFTER)}),
            )
            return
        self._now += 1
        IN_FLIGHT.inc()
        try:
            await self._in_time(scope, receive, send)
        finally:
            self._now -= 1
            IN_FLIGHT.dec()

    async def _in_time(self, scope: Scope, receive: Receive, send: Send) -> None:
        begun = False

        async def noting(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            async with asyncio.timeout(self._seconds):
                await self._app(scope, receive, noting)
        except TimeoutError:
            if begun:  # the answer is on its way already: the connection is cut, which tells the client
                raise
            await send_problem(
                send,
                HttpProblem(
                    "too-slow", f"The request was not complete within {self._seconds:g} s.", {"connection": "close"}
                ),
            )
