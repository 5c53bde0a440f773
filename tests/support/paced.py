"""Load at a fixed rate, or as fast as the answers come, over a few connections that are kept.

At a fixed rate each request is due at its time whether or not the server has caught up, and its latency counts from
then: a server that stalls is not spared the requests that would have come meanwhile.
"""

from __future__ import annotations

import asyncio
import re
import time
from collections.abc import Sequence
from itertools import count
from typing import Final

import msgspec
import uvloop

CONNECTIONS: Final = 16
_LENGTH: Final = re.compile(rb"\r\ncontent-length: (\d+)\r\n", re.IGNORECASE)


class Paced(msgspec.Struct, frozen=True):
    """What was measured: latencies of the answered [s], in order; failures: what was not 200, in words; seconds [s]."""

    latencies: list[float]
    failures: list[str]
    seconds: float

    @property
    def rate(self) -> float:
        """Answers in a second [1/s]."""
        return len(self.latencies) / self.seconds

    def percentile(self, share: float) -> float:
        """The latency that a share of the answers did not exceed [s]."""
        return self.latencies[min(len(self.latencies) - 1, int(share * len(self.latencies)))]


def request(path: str, body: bytes, headers: str = "", media_type: str = "application/json") -> bytes:
    """A POST request as bytes; headers: further lines, each with its end."""
    head = f"POST {path} HTTP/1.1\r\nhost: a\r\ncontent-type: {media_type}\r\n{headers}"
    return head.encode() + b"content-length: %d\r\n\r\n" % len(body) + body


def put_on(port: int, requests: Sequence[bytes], seconds: float, rate: float | None = None) -> Paced:
    """Send the requests in turn for some time [s], at a rate [1/s] or as fast as they are answered."""
    return uvloop.run(_put_on(port, requests, seconds, rate))


async def exchange(reader: asyncio.StreamReader, writer: asyncio.StreamWriter, sent: bytes) -> tuple[bytes, bytes]:
    """Head and body of the answer to a request on a connection that is kept."""
    writer.write(sent)
    head = await reader.readuntil(b"\r\n\r\n")
    return head, await _body(reader, head)


async def _body(reader: asyncio.StreamReader, head: bytes) -> bytes:
    """The body of an answer, of a length that its head tells, or in chunks."""
    length = _LENGTH.search(head)
    if length:
        return await reader.readexactly(int(length[1]))
    body = bytearray()
    while size := int(await reader.readline(), 16):
        body += await reader.readexactly(size)
        await reader.readline()
    await reader.readline()
    return bytes(body)


async def _put_on(port: int, requests: Sequence[bytes], seconds: float, rate: float | None) -> Paced:
    numbers = count()
    latencies: list[float] = []
    failures: list[str] = []
    begun = time.perf_counter() + 0.05

    async def client() -> None:
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        try:
            for number in numbers:
                due = begun + number / rate if rate else max(begun, time.perf_counter())
                if due >= begun + seconds:
                    return
                if (wait := due - time.perf_counter()) > 0:
                    await asyncio.sleep(wait)
                head, body = await exchange(reader, writer, requests[number % len(requests)])
                if head.startswith(b"HTTP/1.1 200 "):
                    latencies.append(time.perf_counter() - due)
                else:
                    failures.append(f"{head[:60]!r} {body[:200]!r}")
        except (OSError, asyncio.IncompleteReadError) as error:
            failures.append(repr(error))
        finally:
            writer.close()

    await asyncio.gather(*(client() for _ in range(CONNECTIONS)))
    return Paced(sorted(latencies), failures, time.perf_counter() - begun)
