"""Many questions in one body, answered piece by piece: sent as they are made, with other requests served in between."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from litestar.handlers import asgi
from litestar.types import Receive, Scope, Send

from service.api.exchange import (
    CSV,
    FULL_TYPES,
    JSON,
    NO_STORE,
    SECURITY_HEADERS,
    check_content,
    chosen,
    read_body,
    send_bytes,
    send_problem,
)
from service.api.problems import HttpProblem

if TYPE_CHECKING:
    from litestar.handlers.asgi_handlers import ASGIRouteHandler

Answered: TypeAlias = Callable[[bytes], Iterable[bytes]]

SLICE: Final = 0.005  # [s] of work before others get their turn
METHODS: Final = "POST, OPTIONS"


def mounted_stream(
    path: str, media_type: bytes, parameters: frozenset[bytes], max_body: int, answered: Answered
) -> ASGIRouteHandler:
    """A path that takes and gives bodies of one media type with these parameters, as a Litestar handler.

    answered: the pieces of the answer to a body; raises HttpProblem at once where nothing in the body can be answered.
    """

    async def handle(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["method"] == "OPTIONS":  # type: ignore[typeddict-item]
            await send_bytes(send, 204, b"", JSON, ((b"allow", METHODS.encode()),))
            return
        try:
            _check_post(scope)
            check_content(scope, media_type, parameters)
            # a table is answered as one whatever is accepted (RFC 9110 §12.5.1): many clients ask for JSON always
            if media_type != CSV:
                chosen(scope, (media_type,))
            pieces = answered(await read_body(receive, max_body))
        except HttpProblem as found:
            await send_problem(send, found)
        else:
            await _send_stream(send, receive, pieces, media_type)

    return asgi(path, copy_scope=False)(handle)


def _check_post(scope: Scope) -> None:
    if scope["method"] != "POST":  # type: ignore[typeddict-item]
        raise HttpProblem("method-not-allowed", f"This path takes: {METHODS}.", {"Allow": METHODS})
    if scope["query_string"]:
        raise HttpProblem("unknown-parameter", "The questions go into the body; no query parameter is taken.")


async def _send_stream(send: Send, receive: Receive, pieces: Iterable[bytes], media_type: bytes) -> None:
    """One answer from the pieces that make it. Ends early when the client has left."""
    await send(
        {
            "type": "http.response.start",
            "status": 200,
            "headers": [
                (b"content-type", FULL_TYPES.get(media_type, media_type)),
                (b"cache-control", NO_STORE),
                *SECURITY_HEADERS,
            ],
        }
    )
    left = asyncio.ensure_future(_client_left(receive))
    try:
        for chunk in _slices(pieces):
            await send({"type": "http.response.body", "body": chunk, "more_body": True})
            await asyncio.sleep(0)
            if left.done():
                return
        await send({"type": "http.response.body", "body": b"", "more_body": False})
    finally:
        left.cancel()


async def _client_left(receive: Receive) -> None:
    """Returns once the client has left; the request's body has been read before."""
    message: Any = {"type": "http.request"}
    while message["type"] != "http.disconnect":
        message = await receive()


def _slices(pieces: Iterable[bytes]) -> Iterator[bytes]:
    """The pieces put together, as many as are made in one slice of time."""
    chunk = bytearray()
    end = time.perf_counter() + SLICE
    for piece in pieces:
        chunk += piece
        if time.perf_counter() > end:
            yield bytes(chunk)
            chunk.clear()
            end = time.perf_counter() + SLICE
    if chunk:
        yield bytes(chunk)
