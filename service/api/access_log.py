"""One JSON line a request and a request id on every answer; never a body, a query, a header or an address.

The outermost layer, so that requests that no route takes are logged as well.
"""

from __future__ import annotations

import re
import secrets
import time
from itertools import count
from typing import TYPE_CHECKING, Any, Final

import structlog
from litestar.enums import ScopeType

if TYPE_CHECKING:
    from litestar.types import ASGIApp, Message, Receive, Scope, Send

USABLE_ID: Final = re.compile(rb"[A-Za-z0-9._-]{1,64}")


class AccessLog:
    """Wraps the application."""

    def __init__(self, app: ASGIApp, routes: frozenset[str]) -> None:
        self._app = app
        self._routes = routes
        self._log: Any = structlog.get_logger("access")
        # unguessable for each process, then counted: unique without asking the system for randomness each time
        start = secrets.token_hex(8)
        self._ids = (b"%s-%x" % (start.encode(), number) for number in count())

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != ScopeType.HTTP:
            await self._app(scope, receive, send)
            return
        started = time.perf_counter()
        given = next((value for name, value in scope["headers"] if name == b"x-request-id"), b"")
        request_id = given if given and USABLE_ID.fullmatch(given) else next(self._ids)
        status = 500

        async def send_with_id(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                message["headers"] = [*message["headers"], (b"x-request-id", request_id)]
            await send(message)

        try:
            await self._app(scope, receive, send_with_id)
        finally:
            path = scope["path"]
            self._log.info(
                "request",
                request_id=request_id.decode(),
                method=scope["method"],
                # paths that are no route of ours may carry anything: they are not repeated
                route=path if path in self._routes else "other",
                status=status,
                ms=round(1000 * (time.perf_counter() - started), 3),
            )
