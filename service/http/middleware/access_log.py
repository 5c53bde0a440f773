"""One line, one count and, where configured, one span for each request; and its id on the answer.

The outermost layer, so that requests that no route takes are seen as well. Never a body, a query, a header or an
address: only what is ours to know.
"""

from __future__ import annotations

import re
import secrets
import time
from itertools import count
from typing import Any, Final

import structlog

from service.http.headers import ANSWER_HEADERS
from service.http.middleware.authentication import CLIENT_NAME
from service.http.problems import HttpProblem
from service.http.responses import send_problem
from service.http.types import ASGIApp, Receive, Scope, Send
from service.observability.metrics import answered, seconds_of
from service.observability.tracing import Tracer

USABLE_ID: Final = re.compile(rb"[A-Za-z0-9._-]{1,64}")
TRACE_PARENT: Final = re.compile(rb"00-(?!0{32})([0-9a-f]{32})-(?!0{16})([0-9a-f]{16})-[0-9a-f]{2}")
"""W3C Trace Context: version, trace id, parent id, flags."""
OTHER: Final = "other"
METHODS: Final = frozenset({"GET", "HEAD", "POST", "OPTIONS", "PUT", "PATCH", "DELETE"})


class AccessLog:
    """The layer around all others.

    routes: the paths that are served, as the router has them; quiet: those of which nothing is noted.
    """

    def __init__(self, app: ASGIApp, routes: frozenset[str], quiet: frozenset[str], tracer: Tracer | None) -> None:
        self._app = app
        self._routes = routes
        # /v1/exercises/{entry_id:str} by what stands before its last step
        self._entries = {route.rpartition("/")[0]: route for route in routes if route.endswith("}")}
        self._quiet = quiet
        self._tracer = tracer
        self._log: Any = structlog.get_logger("access").bind()
        # unguessable for each process, then counted: unique without asking the system for randomness each time
        start = secrets.token_hex(8)
        self._ids = (b"%s-%x" % (start.encode(), number) for number in count())

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        started = time.perf_counter()
        request_id, parent = self._identity(scope["headers"])
        status = 0

        async def send_with_id(message: Any) -> None:  # noqa: ANN401 - framework and server each have a type for it
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                extra = scope.get(ANSWER_HEADERS, ())
                message["headers"] = [*message["headers"], (b"x-request-id", request_id), *extra]
            await send(message)

        try:
            await self._app(scope, receive, send_with_id)
        except Exception as error:
            if status:  # the answer is on its way already: the server cuts the connection, which tells the client
                raise
            self._log.error("request failed", exc_info=error)
            await send_problem(send_with_id, HttpProblem("internal", "The service failed; the fault has been logged."))
        finally:
            self._note(scope, request_id.decode(), parent, status or 500, time.perf_counter() - started)

    def _identity(self, headers: Any) -> tuple[bytes, bytes]:  # noqa: ANN401 - pairs of bytes in whatever container
        """The request's id, the client's own if it is usable, and its trace context if it is valid."""
        sent = parent = b""
        for name, value in headers:
            if name == b"x-request-id":
                sent = value
            elif name == b"traceparent" and TRACE_PARENT.fullmatch(value):
                parent = value
        return (sent if sent and USABLE_ID.fullmatch(sent) else next(self._ids)), parent

    def _note(self, scope: Scope, request_id: str, parent: bytes, status: int, seconds: float) -> None:
        # paths that are no route of ours may carry anything: they are not repeated; nor are invented methods
        path: str = scope["path"]
        route = path if path in self._routes else self._entries.get(path.rpartition("/")[0], OTHER)
        if route in self._quiet:
            return
        method: str = scope["method"]
        if method not in METHODS:
            method = OTHER
        answered(route, method, status).inc()
        seconds_of(route).observe(seconds)
        line: dict[str, Any] = {}
        if parent:
            line["trace_id"] = parent[3:35].decode()
        if CLIENT_NAME in scope:
            line["client"] = scope[CLIENT_NAME]
        self._log.info(
            "request",
            request_id=request_id,
            method=method,
            route=route,
            status=status,
            ms=round(1000 * seconds, 3),
            **line,
        )
        if self._tracer is not None:
            self._tracer.span(
                f"{method} {route}",
                parent.decode(),
                seconds,
                {"http.route": route, "http.request.method": method, "http.response.status_code": status},
            )
