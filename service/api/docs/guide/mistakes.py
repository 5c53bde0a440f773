"""What clients get wrong: the request, what the service says to it, and the request mended.

Each is asked of the very endpoint that serves it, in an event loop of its own, since the page may be made inside of one.
"""

from __future__ import annotations

import asyncio
import tomllib
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from pathlib import Path
from typing import Any, Final

import msgspec

from service.api.docs.course import BY_NAME
from service.api.docs.guide.models import ADDRESS, Message, Mistake
from service.api.docs.guide.writing import snippets, written
from service.api.routes import Endpoint
from service.http.background import Background

MOST_BODY: Final = 100_000
LONGEST_TEXT: Final = 240
"""Characters of a text as it is shown, such as a list of all exercises."""


class _Words(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    id: str
    title: str
    paragraphs: list[str]
    asked: Message
    mended: Message


class _All(msgspec.Struct, forbid_unknown_fields=True):
    mistakes: list[_Words]


@cache
def mistakes(address: str = ADDRESS) -> tuple[Mistake, ...]:
    """The mistakes with their mends, with snippets that ask at an address."""
    text = (Path(__file__).parent / "mistakes.toml").read_text(encoding="utf-8")
    return tuple(_mistake(words, address) for words in msgspec.convert(tomllib.loads(text), _All).mistakes)


def _mistake(words: _Words, address: str) -> Mistake:
    status, body = answered(words.asked)
    answer = msgspec.json.decode(body)
    asked, mended = (msgspec.structs.replace(one, body=one.body.strip()) for one in (words.asked, words.mended))
    return Mistake(
        words.id,
        words.title,
        words.paragraphs,
        asked,
        status,
        answer,
        written(_shortened(answer)),
        mended,
        snippets(mended, address),
    )


def _shortened(value: Any) -> Any:
    """JSON with the ends of long texts left out."""
    if isinstance(value, dict):
        return {name: _shortened(inner) for name, inner in value.items()}
    if isinstance(value, list):
        return [_shortened(inner) for inner in value]
    return f"{value[:LONGEST_TEXT]} …" if isinstance(value, str) and len(value) > LONGEST_TEXT else value


def answered(message: Message) -> tuple[int, bytes]:
    """Status and body of what an operation answers to a request."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(lambda: asyncio.run(_answered(message))).result()


async def _answered(message: Message) -> tuple[int, bytes]:
    path, _, query = message.target.partition("?")
    background = Background(1)
    endpoint = Endpoint(BY_NAME[path.rpartition("/")[2]], MOST_BODY, background)
    sent: list[dict[str, Any]] = []

    async def receive() -> dict[str, Any]:
        return {"type": "http.request", "body": message.body.encode()}

    async def send(part: Any) -> None:
        sent.append(part)

    scope = {
        "type": "http",
        "method": message.method,
        "path": path,
        "query_string": query.encode(),
        "headers": [(b"content-type", message.media_type.encode())] if message.body else [],
    }
    await endpoint(scope, receive, send)
    await background.close()
    start, body = sent
    return start["status"], body["body"]
