"""Bytes sent to the service over connections of their own, many at once, and what comes back until it closes them."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Iterable
from http import HTTPStatus
from typing import Final

import msgspec

from tests.support.paths import ROOT

AT_ONCE: Final = 48
PATIENCE: Final = 60.0  # [s] the service cuts off long before
FIRST_LINE: Final = re.compile(rb"(?:^|(?<=\n)|(?<=\}))HTTP/1\.[01] (\d{3}) ")
# words of the inside, which an answer has no reason to hold
INSIDE: Final = (
    *(b"Traceback", b'File "', b"site-packages", b"msgspec", b"litestar", b"uvicorn", b"httptools", b"jsonschema"),
    *(b"RecursionError", b"UnicodeDecodeError", b"ValueError", b"TypeError", b"KeyError", b" object at 0x"),
    str(ROOT).encode(),
)


class Sent(msgspec.Struct, frozen=True):
    """One thing to send: a name that tells it again, its bytes, and the pause between pieces of it [s], 0 for none."""

    name: str
    data: bytes
    pause: float = 0.0


class Heard(msgspec.Struct, frozen=True):
    """What came back for it."""

    sent: Sent
    answer: bytes

    @property
    def statuses(self) -> list[int]:
        """The statuses of the answers, in their order."""
        return [int(found) for found in FIRST_LINE.findall(self.answer)]

    @property
    def faults(self) -> list[str]:
        """What may not be: a failure, other than 503 with a time to come back, or a word of the inside."""
        found = [f"{self.sent.name}: {status}" for status in self.statuses if status >= 500 and not self._shed(status)]
        found += [f"{self.sent.name}: {word.decode()}" for word in INSIDE if word in self.answer]
        if self.answer and not self.statuses:
            found.append(f"{self.sent.name}: no HTTP: {self.answer[:60]!r}")
        return found

    def _shed(self, status: int) -> bool:
        return status == HTTPStatus.SERVICE_UNAVAILABLE and b"\r\nretry-after: " in self.answer


async def _exchange(port: int, sent: Sent) -> Heard:
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    found = bytearray()

    async def listen() -> None:
        try:
            while part := await reader.read(65_536):
                found.extend(part)
        except ConnectionError:
            pass  # the service had refused before all was sent

    try:
        async with asyncio.timeout(PATIENCE):
            listening = asyncio.create_task(listen())
            step = max(1, len(sent.data) // 8) if sent.pause else max(1, len(sent.data))
            for start in range(0, len(sent.data), step):
                if found or listening.done():
                    break
                writer.write(sent.data[start : start + step])
                await asyncio.sleep(sent.pause)
            await listening
    finally:
        writer.close()
    return Heard(sent, bytes(found))


def exchange(port: int, everything: Iterable[Sent]) -> list[Heard]:
    """Send all of it, some at once; raises TimeoutError where a connection is neither answered nor closed."""

    async def run() -> list[Heard]:
        waiting = iter(everything)
        heard: list[Heard] = []

        async def client() -> None:
            for sent in waiting:
                found = await _exchange(port, sent)
                heard.append(found)

        await asyncio.gather(*(client() for _ in range(AT_ONCE)))
        return heard

    return asyncio.run(run())
