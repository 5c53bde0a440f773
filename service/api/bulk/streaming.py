"""Many questions in one body, answered piece by piece beside the event loop, and sent as the pieces are made.

An answer that cannot be finished ends without its last chunk (RFC 9112 §7.1), so that no client takes it for whole.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator, Callable, Iterable, Iterator
from functools import partial
from typing import TYPE_CHECKING, Any, Final, TypeAlias

import msgspec
from litestar.handlers import asgi

from service.api.serialization.language_parameter import ONLY_LANGUAGE
from service.http.background import Background
from service.http.body import BodiesInHand, read_body
from service.http.cost import charge, check_cost
from service.http.media_types import CSV, FULL_TYPES, JSON
from service.http.negotiation import check_content_type, negotiated
from service.http.problems import HttpProblem
from service.http.responses import NO_STORE, SECURITY_HEADERS, send_bytes, send_problem
from service.http.types import Receive, Scope, Send

if TYPE_CHECKING:
    from litestar.handlers.asgi_handlers import ASGIRouteHandler


class Questions(msgspec.Struct, frozen=True):
    """The questions of a body: what they cost, part by part, and the pieces of their answer, each made when it is taken."""

    costs: Iterable[int]
    pieces: Iterable[bytes]


class Bounds(msgspec.Struct, frozen=True):
    """What one body may have: bytes, and cost of its questions; what all of them together; and where they are answered."""

    bytes: int
    cost: int
    in_hand: BodiesInHand
    background: Background


Read: TypeAlias = Callable[[bytes], Questions]
"""The questions in a body; raises HttpProblem where nothing in it can be answered."""
Reading: TypeAlias = Callable[[bytes], Read]
"""What reads the body that comes with a query; raises HttpProblem where the query may not be."""

SLICE: Final = 0.005  # [s] of work before other long computations get their turn
METHODS: Final = "POST, OPTIONS"
HOW_ASKED: Final = "The questions are the body of a POST."


def mounted_stream(
    path: str, media_type: bytes, parameters: frozenset[bytes], bounds: Bounds, reading: Reading
) -> ASGIRouteHandler:
    """A path that takes and gives bodies of one media type with these parameters, as a Litestar handler."""

    async def handle(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["method"] == "OPTIONS":
            await send_bytes(send, 204, b"", JSON, ((b"allow", METHODS.encode()),))
            return
        try:
            _check_post(scope)
            read = reading(scope["query_string"])
            check_content_type(scope, media_type, parameters)
            # a table is answered as one whatever is accepted (RFC 9110 §12.5.1): many clients ask for JSON always
            if media_type != CSV:
                negotiated(scope, (media_type,))
            with bounds.in_hand.one() as count:
                body = await read_body(receive, bounds.bytes, count)
                with bounds.background.admitted():
                    questions = await bounds.background.run(partial(read, body))
                    del body  # what is still needed of it is in the questions
                    cost = await _cost(questions.costs, bounds)
                    check_cost(cost, bounds.cost)
                    await charge(scope, cost)
                    await _send_stream(send, receive, _slices(questions.pieces, bounds.background), media_type)
        except HttpProblem as problem:
            await send_problem(send, problem)

    return asgi(path, copy_scope=False)(handle)


def _check_post(scope: Scope) -> None:
    if scope["method"] != "POST":
        raise HttpProblem("method-not-allowed", f"This path takes: {METHODS}. {HOW_ASKED}", {"Allow": METHODS})


def without_query(read: Read) -> Reading:
    """A reading that takes nothing of the query but the language, which has been taken out of it."""

    def reading(query: bytes) -> Read:
        if query:
            raise HttpProblem("unknown-parameter", f"The questions go into the body; of the query {ONLY_LANGUAGE}.")
        return read

    return reading


async def _send_stream(send: Send, receive: Receive, chunks: AsyncIterator[bytes], media_type: bytes) -> None:
    """One answer from its chunks. Ends early when the client has left."""
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
        async for chunk in chunks:
            await send({"type": "http.response.body", "body": chunk, "more_body": True})
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


async def _cost(costs: Iterable[int], bounds: Bounds) -> int:
    """What questions cost together, added up in slices of time and no further than beyond what one body may cost."""
    waiting, whole = iter(costs), 0
    while whole <= bounds.cost and (part := await bounds.background.run(partial(_sum_of_slice, waiting, bounds.cost))):
        whole += part
    return whole


def _sum_of_slice(costs: Iterator[int], most: int) -> int:
    """The sum of as many costs as are worked out in one slice of time, or are too much; 0 only at their end."""
    whole, end = 0, time.perf_counter() + SLICE
    for cost in costs:
        whole += cost
        if whole > most or time.perf_counter() > end:
            break
    return whole


async def _slices(pieces: Iterable[bytes], background: Background) -> AsyncIterator[bytes]:
    """The pieces put together, as many as are made in one slice of time; the next slice is begun when it is taken."""
    waiting = iter(pieces)
    while chunk := await background.run(partial(_slice, waiting)):
        yield chunk


def _slice(pieces: Iterator[bytes]) -> bytes:
    """As many of the pieces as are made in one slice of time, none only at their end."""
    chunk = bytearray()
    end = time.perf_counter() + SLICE
    for piece in pieces:
        chunk += piece
        if time.perf_counter() > end:
            break
    return bytes(chunk)
