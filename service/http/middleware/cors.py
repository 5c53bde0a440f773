"""Pages of other origins (CORS, https://fetch.spec.whatwg.org): those that the settings name may call the service.

Written here since Litestar's own middleware overwrites Vary, which answers in several forms need, and answers a plain
OPTIONS request of an unknown origin with an error.
"""

from __future__ import annotations

from typing import Final

from service.http.headers import value_of, varying
from service.http.types import ASGIApp, Message, Receive, Scope, Send

ANY: Final = "*"
METHODS: Final = b"GET, HEAD, POST, OPTIONS"
REQUEST_HEADERS: Final = (
    b"Accept, Accept-Language, Authorization, Content-Type, If-None-Match, Traceparent, X-Request-Id"
)
ANSWER_HEADERS: Final = b"Allow, Content-Language, Deprecation, ETag, Link, Pages, RateLimit, RateLimit-Policy, Retry-After, Sunset, WWW-Authenticate, X-Request-Id"
MAX_AGE: Final = b"7200"  # [s], the longest that browsers keep a preflight's answer


class CrossOrigin:
    """Lets pages of some origins read the answers of the application.

    origins: as browsers send them, such as https://example.org; * for every one.
    """

    def __init__(self, app: ASGIApp, origins: tuple[str, ...]) -> None:
        self._app = app
        self._any = ANY in origins
        self._origins = frozenset(origin.encode() for origin in origins)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        origin = value_of(scope["headers"], b"origin")
        allowed = bool(origin) and (self._any or origin in self._origins)
        preflight = scope["method"] == "OPTIONS" and value_of(scope["headers"], b"access-control-request-method") != b""

        async def send_with_origin(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = list(message["headers"])
                if not self._any:
                    headers = varying(headers, b"origin")
                if allowed:
                    headers.append((b"access-control-allow-origin", b"*" if self._any else origin))
                    headers.append((b"access-control-expose-headers", ANSWER_HEADERS))
                if allowed and preflight:
                    headers.append((b"access-control-allow-methods", METHODS))
                    headers.append((b"access-control-allow-headers", REQUEST_HEADERS))
                    headers.append((b"access-control-max-age", MAX_AGE))
                message["headers"] = headers
            await send(message)

        await self._app(scope, receive, send_with_origin)
