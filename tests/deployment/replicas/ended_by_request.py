"""The service, except that a marked request ends its process: with the request in hand, or with half an answer sent."""

from __future__ import annotations

import asyncio
import os
import signal
import sys
from typing import Any, Final

import service.app
from service.cli import main
from service.http.types import ASGIApp, Receive, Scope, Send
from service.settings import Settings

MARK: Final = "x-ends-the-process"
SEEN: Final = "a request that ends the process"
ANSWERING: Final = "answering"
START: Final = {"type": "http.response.start", "status": 200, "headers": [(b"content-length", b"100")]}


class EndedByRequest:
    """Wraps the application."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        mark = dict(scope.get("headers", ())).get(MARK.encode())
        if mark is None:
            await self._app(scope, receive, send)
            return
        os.write(sys.stdout.fileno(), f"{SEEN}\n".encode())
        more = True
        while more:
            message: dict[str, Any] = await receive()
            more = message.get("more_body", False)
        if mark == ANSWERING.encode():
            await send(START)
            await send({"type": "http.response.body", "body": b"x" * 50, "more_body": True})
            await asyncio.sleep(0.1)  # until it has left
        os.kill(os.getpid(), signal.SIGKILL)


if __name__ == "__main__":
    create_asgi = service.app.create_asgi

    def create_ended_by_request(settings: Settings | None = None) -> ASGIApp:
        return EndedByRequest(create_asgi(settings))

    service.app.create_asgi = create_ended_by_request
    sys.exit(main(["serve"]))
