"""The cap on requests in flight and the limit on their time, on a bare application."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from typing import Any

from service.http.middleware.load_shedding import LoadShedding

Sent = list[dict[str, Any]]


def scope(path: str = "/v1/anything") -> dict[str, Any]:
    return {"type": "http", "path": path, "method": "POST", "headers": [], "query_string": b""}


def kept(sent: Sent) -> Callable[[dict[str, Any]], Awaitable[None]]:
    async def send(message: dict[str, Any]) -> None:
        sent.append(message)

    return send


async def receive() -> dict[str, Any]:
    return {"type": "http.request", "body": b"", "more_body": False}


async def answered(_: Any, __: Any, send: Any) -> None:  # noqa: ANN401 - an application
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": b"ok"})


def test_what_is_above_the_cap_is_shed_and_later_requests_are_answered() -> None:
    gate = asyncio.Event()
    exempt_path = "/livez"

    async def slow(asked: Any, got: Any, send: Any) -> None:  # noqa: ANN401
        if asked["path"] != exempt_path:
            await gate.wait()
        await answered(asked, got, send)

    async def run() -> list[Sent]:
        limits = LoadShedding(slow, 2, 60.0, frozenset({exempt_path}))
        sent: list[Sent] = [[] for _ in range(6)]

        async def ask(place: int, path: str = "/v1/anything") -> None:
            await limits(scope(path), receive, kept(sent[place]))

        first = [asyncio.create_task(ask(place)) for place in (0, 1)]
        await asyncio.sleep(0)
        await ask(2)
        await ask(3, exempt_path)
        gate.set()
        await asyncio.gather(*first)
        await ask(4)
        return sent

    sent = asyncio.run(run())
    assert [messages[0]["status"] for messages in sent[:5]] == [200, 200, 503, 200, 200]
    assert dict(sent[2][0]["headers"])[b"retry-after"] == b"1"
    assert b"overloaded" in sent[2][1]["body"]


def test_request_whose_body_does_not_come_is_cut_off_and_its_place_is_free_again() -> None:
    async def waiting(_: Any, got: Any, __: Any) -> None:  # noqa: ANN401
        await got()

    async def never() -> dict[str, Any]:
        await asyncio.sleep(3600)
        return {}

    async def run() -> list[Sent]:
        limits = LoadShedding(waiting, 1, 0.01, frozenset())
        sent: list[Sent] = [[], []]
        for messages in sent:
            await limits(scope(), never, kept(messages))
        return sent

    for messages in asyncio.run(run()):
        assert messages[0]["status"] == 408
        assert dict(messages[0]["headers"])[b"connection"] == b"close"
