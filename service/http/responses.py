"""Whole answers and problems as ASGI messages, with the header fields that every answer has."""

from __future__ import annotations

from typing import Final

from service.http.headers import Headers
from service.http.media_types import FULL_TYPES, HTML, PROBLEM, SVG, TEXT
from service.http.problems import HttpProblem
from service.http.types import Send

NO_STORE: Final = b"no-store"
SECURITY_HEADERS: Final = (
    (b"x-content-type-options", b"nosniff"),
    (b"content-security-policy", b"default-src 'none'; frame-ancestors 'none'"),
    (b"referrer-policy", b"no-referrer"),
)
# a picture opened by itself carries its own style sheet
PICTURE_HEADERS: Final = (
    (b"x-content-type-options", b"nosniff"),
    (b"content-security-policy", b"default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"),
    (b"referrer-policy", b"no-referrer"),
)
# a page brings its own policy, which names the hash of its style
PAGE_HEADERS: Final = ((b"x-content-type-options", b"nosniff"), (b"referrer-policy", b"no-referrer"))
BY_TYPE: Final = {SVG: PICTURE_HEADERS, HTML: PAGE_HEADERS}


async def send_bytes(
    send: Send, status: int, body: bytes, media_type: bytes, headers: Headers = (), cache: bytes = NO_STORE
) -> None:
    """One whole answer; cache: its Cache-Control; headers: of a page with its Content-Security-Policy."""
    await send(
        {
            "type": "http.response.start",
            "status": status,
            "headers": [
                (b"content-type", FULL_TYPES.get(media_type, media_type)),
                (b"content-length", b"%d" % len(body)),
                (b"cache-control", cache),
                *BY_TYPE.get(media_type, SECURITY_HEADERS),
                *headers,
            ],
        }
    )
    await send({"type": "http.response.body", "body": body, "more_body": False})


async def send_problem(send: Send, problem: HttpProblem, *, as_line: bool = False) -> None:
    """One problem; as one line of plain text where the client asked for cells and not for JSON."""
    headers = tuple((name.lower().encode(), value.encode()) for name, value in problem.headers.items())
    body, media_type = (problem.line.encode(), TEXT) if as_line else (problem.body, PROBLEM)
    await send_bytes(send, problem.kind.status, body, media_type, headers)
