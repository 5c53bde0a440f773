"""Counters: bounded in memory, and kept by each replica while the shared store is down."""

from __future__ import annotations

import asyncio
from typing import Any, Final

import pytest

from service.http.middleware import rate_limit_store
from service.http.middleware.rate_limit_store import MemoryCounters, Policy, RedisCounters, connected

BURST: Final = Policy("burst", 3, 60)
NOON: Final = 1_700_049_600.0  # a full minute; any number of seconds would do


def test_memory_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rate_limit_store, "MOST_COUNTERS", 10)
    counters = MemoryCounters()

    async def ask() -> None:
        for number in range(1000):
            await counters.charge(str(number), 1, (BURST,), NOON)

    asyncio.run(ask())
    assert len(counters._counts) <= 10  # noqa: SLF001 - what is kept is the point


@pytest.mark.parametrize("url", ["redis://:pass/word@store:6379", "redis://store:port"])
def test_address_that_is_none_is_not_quoted(url: str) -> None:
    with pytest.raises(ValueError, match=r"^REDIS_URL is not the address of a store$"):
        connected(url)


class Broken:
    """A store that does not answer."""

    def __init__(self) -> None:
        self.asked = 0

    def register_script(self, _: str) -> Any:  # noqa: ANN401 - as the client's own
        async def run(places: list[str], numbers: list[int]) -> list[int]:  # noqa: ARG001
            self.asked += 1
            raise ConnectionError("no store")

        return run


def test_store_that_is_down_is_left_alone_for_a_while_and_counted_without() -> None:
    async def ask() -> tuple[list[int], int]:
        store = Broken()
        counters = RedisCounters(store)  # type: ignore[arg-type]
        before = [(await counters.charge("one", 1, (BURST,), NOON))[0] for _ in range(5)]
        return before, store.asked

    before, asked = asyncio.run(ask())
    assert before == [0, 1, 2, 3, 3]  # the whole quota, counted by this process alone
    assert asked == 1
