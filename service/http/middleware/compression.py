"""Answers compressed with gzip where the client takes it (RFC 9110 §12.5.3), whole or as they are streamed.

Written here since Litestar's own middleware looks for the word gzip alone: it would send it to a client that says
"gzip;q=0", and says nothing of Vary where it leaves an answer as it is.
"""

from __future__ import annotations

import zlib
from typing import Any, Final

from service.http.headers import value_of, varying, without
from service.http.media_types import PNG
from service.http.negotiation import weighted_members
from service.http.types import ASGIApp, Message, Receive, Scope, Send

LEAST: Final = 1024  # [bytes] of a whole answer, below which compressing saves nothing worth its time
LEVEL: Final = 5
GZIP_WINDOW: Final = 31  # of zlib: with the header and trailer of gzip, which hold no time, so equal bytes stay equal


def takes_gzip(accept_encoding: bytes) -> bool:
    """Whether an Accept-Encoding header takes gzip at a quality above 0."""
    weights = dict(weighted_members(accept_encoding)) if accept_encoding else {}
    return weights.get(b"gzip", weights.get(b"*", 0.0)) > 0


class Compression:
    """Compresses the answers of the application where the client accepts it."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        if takes_gzip(value_of(scope["headers"], b"accept-encoding")):
            await self._app(scope, receive, _Compressing(send))
        elif scope["method"] == "POST":  # nobody keeps its answer, so nobody needs to know what it depends on
            await self._app(scope, receive, send)
        else:
            await self._app(scope, receive, _Varying(send))


class _Varying:
    """Sends an answer unchanged, with Accept-Encoding in its Vary."""

    def __init__(self, send: Send) -> None:
        self._send = send

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            message["headers"] = varying(list(message["headers"]), b"accept-encoding")
        await self._send(message)


class _Compressing:
    """Sends an answer compressed, unless it is short."""

    def __init__(self, send: Send) -> None:
        self._send = send
        self._start: Any = None
        self._gzip: Any = None

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            message["headers"] = varying(list(message["headers"]), b"accept-encoding")
            self._start = message
            return
        if message["type"] != "http.response.body":
            await self._send(message)
            return
        body, more = message.get("body", b""), message.get("more_body", False)
        if self._start is not None:
            await self._begin(body, more=more)
        if self._gzip is not None:
            body = self._gzip.compress(body) + self._gzip.flush(zlib.Z_SYNC_FLUSH if more else zlib.Z_FINISH)
        await self._send({"type": "http.response.body", "body": body, "more_body": more})

    async def _begin(self, body: bytes, *, more: bool) -> None:
        start, self._start = self._start, None
        media_type = value_of(start["headers"], b"content-type")
        if more or (len(body) >= LEAST and media_type != PNG):  # which is compressed already
            self._gzip = zlib.compressobj(LEVEL, zlib.DEFLATED, GZIP_WINDOW)
            start["headers"] = [*without(start["headers"], b"content-length"), (b"content-encoding", b"gzip")]
        await self._send(start)
