"""GET, HEAD and conditional requests (RFC 9110 §13) for every resource and every computation asked by its address.

An entity tag is made of the release and of the very bytes that go out, so it is strong, differs between the forms,
languages and codings of one answer, and changes with the release. Litestar's own means set the header and never answer 304.
"""

from __future__ import annotations

from hashlib import blake2b
from typing import Any, Final

from service.http.headers import value_of, without
from service.http.types import ASGIApp, Message, Receive, Scope, Send

OK: Final = 200
NOT_MODIFIED: Final = 304
SAFE: Final = ("GET", "HEAD")
# what describes a body does not go with an answer that has none
OF_THE_BODY: Final = (b"content-type", b"content-length", b"content-encoding", b"content-language")


def entity_tag(release: str, media_type: bytes, language: bytes, body: bytes) -> bytes:
    """The strong entity tag of a representation; language: its tag, empty where it has none."""
    seed = b"%s %s %s" % (release.encode(), media_type, language)
    return b'"%s"' % blake2b(body, digest_size=12, key=blake2b(seed, digest_size=32).digest()).hexdigest().encode()


def matches(if_none_match: bytes, tag: bytes) -> bool:
    """Whether an If-None-Match header names a tag, by the weak comparison that it asks for."""
    if if_none_match.strip() == b"*":
        return True
    return tag in (part.strip().removeprefix(b"W/") for part in if_none_match.split(b","))


class ConditionalRequests:
    """Tags what can be cached, answers 304, and answers HEAD as GET without the body."""

    def __init__(self, app: ASGIApp, release: str) -> None:
        self._app = app
        self._release = release

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http" or scope["method"] not in SAFE:
            await self._app(scope, receive, send)
            return
        start: Any = None
        parts: list[bytes] = []

        async def keep(message: Message) -> None:
            nonlocal start
            if message["type"] == "http.response.start":
                start = message
            elif message["type"] == "http.response.body":
                parts.append(message.get("body", b""))

        await self._app({**scope, "method": "GET"}, receive, keep)
        body = b"".join(parts)
        headers = [*without(start["headers"], b"content-length"), (b"content-length", b"%d" % len(body))]
        status = start["status"]
        if status == OK and value_of(headers, b"cache-control") != b"no-store":
            tag = entity_tag(
                self._release, value_of(headers, b"content-type"), value_of(headers, b"content-language"), body
            )
            headers.append((b"etag", tag))
            if matches(value_of(scope["headers"], b"if-none-match"), tag):
                status, headers, body = NOT_MODIFIED, without(headers, *OF_THE_BODY), b""
        await send({"type": "http.response.start", "status": status, "headers": headers})
        await send(
            {"type": "http.response.body", "body": b"" if scope["method"] == "HEAD" else body, "more_body": False}
        )
