"""What the service is measured against, served by the same server on the same core.

floor: the least that an ASGI application can do, the body given back; echo: the least that the same framework can do.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from litestar import Litestar, get, post
from litestar.enums import ScopeType

if TYPE_CHECKING:
    from litestar.types import Receive, Scope, Send


async def floor(scope: Scope, receive: Receive, send: Send) -> None:
    """Gives each request's body back; knows no routes."""
    if scope["type"] != ScopeType.HTTP:
        return
    body = b""
    more = True
    while more:
        message = await receive()
        if message["type"] != "http.request":
            return
        body += message["body"]
        more = message["more_body"]
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(body)).encode())]
    await send({"type": "http.response.start", "status": 200, "headers": headers})
    await send({"type": "http.response.body", "body": body, "more_body": False})


@get("/readyz")
async def readyz() -> dict[str, str]:
    """Answers as soon as the application does."""
    return {"status": "ready"}


@post("/echo", status_code=200)
async def give_back(data: dict[str, Any]) -> dict[str, Any]:
    """Reads the JSON object of a request and answers with it."""
    return data


echo = Litestar([readyz, give_back], openapi_config=None)
