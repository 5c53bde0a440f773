"""A layer around a bare application, asked without a server."""

from __future__ import annotations

import asyncio
from typing import Any

from service.http.types import ASGIApp


def request(
    *headers: tuple[bytes, bytes], path: str = "/v1/tempo", client: str = "192.0.2.1", method: str = "POST"
) -> dict[str, Any]:
    """The scope of a request."""
    return {
        "type": "http",
        "path": path,
        "method": method,
        "headers": list(headers),
        "query_string": b"",
        "client": (client, 4711),
    }


def results(app: ASGIApp, scopes: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The start of the answer to each, with its body."""

    async def run() -> list[dict[str, Any]]:
        answers = []
        for scope in scopes:
            sent: list[dict[str, Any]] = []

            async def send(message: dict[str, Any], sent: list[dict[str, Any]] = sent) -> None:
                sent.append(message)

            await app(scope, None, send)
            answers.append({**sent[0], "body": b"".join(message["body"] for message in sent[1:])})
        return answers

    return asyncio.run(run())


async def application(_: Any, __: Any, send: Any) -> None:  # noqa: ANN401 - the shapes of ASGI
    """Answers everything with ok."""
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": b"ok"})
