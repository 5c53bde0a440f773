"""What is written in one turn goes out at once, in order, and nothing is lost at the end."""

from __future__ import annotations

import asyncio

from service.http.server.write_coalescing import CoalescedWrites


class Kept:
    """A transport that keeps what it is given."""

    def __init__(self) -> None:
        self.sent: list[bytes] = []
        self.closed = False
        self.ended = False

    def writelines(self, parts: list[bytes]) -> None:
        self.sent.append(b"".join(parts))

    def close(self) -> None:
        self.closed = True

    def write_eof(self) -> None:
        self.ended = True

    def is_closing(self) -> bool:
        return self.closed

    def get_extra_info(self, name: str) -> str:
        return f"the transport's own {name}"


def test_head_and_body_go_out_together_and_answers_apart() -> None:
    async def run() -> Kept:
        kept = Kept()
        joined = CoalescedWrites(kept, asyncio.get_running_loop())  # type: ignore[arg-type]
        joined.write(b"head ")
        joined.write(b"body")
        assert kept.sent == []
        await asyncio.sleep(0)
        joined.write(b"next")
        await asyncio.sleep(0)
        assert joined.get_extra_info("peername") == "the transport's own peername"
        return kept

    assert asyncio.run(run()).sent == [b"head body", b"next"]


def test_closing_sends_first_what_was_written() -> None:
    async def run() -> Kept:
        kept = Kept()
        joined = CoalescedWrites(kept, asyncio.get_running_loop())  # type: ignore[arg-type]
        joined.write(b"last")
        joined.close()
        await asyncio.sleep(0)
        return kept

    kept = asyncio.run(run())
    assert (kept.sent, kept.closed) == ([b"last"], True)


def test_nothing_is_written_to_a_closed_connection() -> None:
    async def run() -> Kept:
        kept = Kept()
        joined = CoalescedWrites(kept, asyncio.get_running_loop())  # type: ignore[arg-type]
        joined.write(b"too late")
        kept.closed = True
        await asyncio.sleep(0)
        return kept

    assert asyncio.run(run()).sent == []


def test_whoever_waits_with_closing_sends_no_more() -> None:
    async def run() -> tuple[Kept, CoalescedWrites]:
        kept = Kept()
        asked: list[bool] = []
        joined = CoalescedWrites(kept, asyncio.get_running_loop(), lambda: asked.append(True))  # type: ignore[arg-type]
        joined.write(b"last")
        joined.close()
        assert (asked, kept.sent) == ([True], [])
        joined.write_no_more()
        joined.write(b"too late")
        await asyncio.sleep(0)
        return kept, joined

    kept, joined = asyncio.run(run())
    assert (kept.sent, kept.ended, kept.closed, joined.is_closing()) == ([b"last"], True, False, True)
