"""What protects the process from too much at once: a cap on requests in flight, and a limit on the time of each.

Body, address and item counts are limited where they are read; header size and slow headers by the server's protocol
(service.http.server.protocol).
"""

from __future__ import annotations

import asyncio
from collections.abc import Container
from contextlib import suppress
from typing import Any, Final

from service.http.problems import HttpProblem, overloaded
from service.http.responses import send_problem
from service.http.types import ASGIApp, Receive, Scope, Send
from service.observability.metrics import IN_FLIGHT, SHED

CHECKED_EVERY: Final = 0.5  # [s], at most; a part of the limit where that is shorter


class LoadShedding:
    """Answers no more requests at once than it may, and none for longer.

    Requests in flight are checked periodically for one that takes too long: a timer for each would cost a request more
    than the rest of this class. most_at_once: requests in flight; seconds: from a request's first byte to
    the end of its answer [s]; exempt: paths that are always answered; computing: the tasks whose requests have been
    read and are being computed.
    """

    def __init__(
        self,
        app: ASGIApp,
        most_at_once: int,
        seconds: float,
        exempt: Container[str],
        computing: Container[object] = (),
    ) -> None:
        self._app = app
        self._most = most_at_once
        self._seconds = seconds
        self._exempt = exempt
        self._computing = computing
        self._started: dict[asyncio.Task[Any], float] = {}
        self._too_slow: dict[asyncio.Task[Any], HttpProblem] = {}
        self._checking = False
        IN_FLIGHT.set_function(lambda: len(self._started))

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request: shed with 503 where too many are being answered.

        Cut off where it takes too long: with 408 if it was slow to come, with 503 if the service was slow to answer.
        """
        if scope["type"] != "http" or scope["path"] in self._exempt:
            await self._app(scope, receive, send)
            return
        if len(self._started) >= self._most:
            SHED.inc()
            await send_problem(send, overloaded("Too many requests are being answered."))
            return
        loop = asyncio.get_running_loop()
        task: Any = asyncio.current_task()
        self._started[task] = loop.time()
        if not self._checking:
            self._checking = True
            self._check_later(loop)
        try:
            await self._app(scope, receive, send)
        except asyncio.CancelledError:
            if task not in self._too_slow:  # the server itself ends it
                raise
            task.uncancel()
            # where the answer had begun already, the server refuses to begin another and cuts the connection
            with suppress(RuntimeError):
                await send_problem(send, self._too_slow[task])
        finally:
            del self._started[task]
            self._too_slow.pop(task, None)

    def _problem(self, task: asyncio.Task[Any]) -> HttpProblem:
        close = {"connection": "close"}
        if task in self._computing:
            detail = f"The answer was not ready within {self._seconds:g} s: too much is being computed."
            return overloaded(detail, close)
        return HttpProblem("too-slow", f"The request was not complete within {self._seconds:g} s.", close)

    def _check_later(self, loop: asyncio.AbstractEventLoop) -> None:
        loop.call_later(min(CHECKED_EVERY, self._seconds / 4), self._check, loop)

    def _check(self, loop: asyncio.AbstractEventLoop) -> None:
        latest = loop.time() - self._seconds
        for task, started in self._started.items():
            if started < latest and task not in self._too_slow:
                self._too_slow[task] = self._problem(task)
                task.cancel()
        if self._started:
            self._check_later(loop)
        else:
            self._checking = False
