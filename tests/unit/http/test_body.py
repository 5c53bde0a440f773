"""How much is read of bodies: of one, and of all batches and tables that are in hand together."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Any

import pytest

from service.api.bulk.streaming import Bounds, Questions, mounted_stream, without_query
from service.http.background import Background
from service.http.body import BodiesInHand, read_body
from service.http.problems import HttpProblem

HEADERS = [(b"content-type", b"application/json")]


def coming(parts: list[bytes]) -> Callable[[], Any]:
    """A client that sends these parts of a body."""
    messages = [
        {"type": "http.request", "body": part, "more_body": number < len(parts)} for number, part in enumerate(parts, 1)
    ]

    async def receive() -> Any:  # noqa: ANN401 - an ASGI message
        return messages.pop(0) if messages else await asyncio.Event().wait()

    return receive


def test_bodies_may_have_so_much_together_and_what_is_answered_makes_room() -> None:
    in_hand = BodiesInHand(10)
    with in_hand.one() as first, in_hand.one() as second:
        assert asyncio.run(read_body(coming([b"abc", b"abc"]), 8, first)) == b"abcabc"
        with pytest.raises(HttpProblem) as found:
            asyncio.run(read_body(coming([b"abc", b"ab", b"a"]), 8, second))
        assert (found.value.kind.status, found.value.headers) == (503, {"retry-after": "1"})
        assert in_hand.bytes == 9
    assert in_hand.bytes == 0
    with in_hand.one() as third:
        assert asyncio.run(read_body(coming([b"abcdefghij"]), 10, third)) == b"abcdefghij"


def test_a_body_counts_until_its_stream_has_been_sent() -> None:
    """Whoever reads slowly keeps the room that the questions take, and gives it back at the end, or by leaving."""
    in_hand = BodiesInHand(10)
    seen = []

    def read(body: bytes) -> Questions:
        return Questions([1], [body])

    async def run(*, leaving: bool) -> None:
        bounds = Bounds(8, 9, in_hand, background := Background(8))
        handle = mounted_stream("/", b"application/json", frozenset(), bounds, without_query(read)).fn

        async def send(_: object) -> None:
            seen.append(in_hand.bytes)
            if leaving:
                raise asyncio.CancelledError

        scope = {"type": "http", "method": "POST", "path": "/", "headers": HEADERS, "query_string": b""}
        try:
            await handle(scope, coming([b"12345", b"678"]), send)
        except asyncio.CancelledError:
            assert leaving
        await background.close()

    asyncio.run(run(leaving=False))
    assert set(seen) == {8}
    assert in_hand.bytes == 0
    asyncio.run(run(leaving=True))
    assert in_hand.bytes == 0
