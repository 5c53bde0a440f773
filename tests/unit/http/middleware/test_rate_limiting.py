"""Quotas: windows, headers, and what happens when the shared store is down."""

from __future__ import annotations

import asyncio
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.http.middleware import rate_limit_store
from service.http.middleware.rate_limit_store import MemoryCounters, Policy, RedisCounters, connected
from service.http.middleware.rate_limiting import Standing, headers, policies_from_text, standings

BURST = Policy("burst", 3, 60)
DAY = Policy("day", 5, 86_400)
NOON = 1_700_049_600.0  # a full minute and a full day hour; any number of seconds would do


def test_policies_from_text() -> None:
    assert policies_from_text("burst=3/60, day=5/86400") == (BURST, DAY)
    assert policies_from_text("") == ()


@pytest.mark.parametrize("text", ["burst", "burst=3", "burst=0/60", "burst=3/0", "a b=3/60", "burst=-3/60", 'x"=1/1'])
def test_policies_that_are_none(text: str) -> None:
    with pytest.raises(ValueError, match="QUOTAS"):
        policies_from_text(text)


@given(st.integers(1, 20), st.integers(1, 40))
def test_exactly_the_quota_is_let_through_in_a_window(quota: int, asked: int) -> None:
    policy = Policy("burst", quota, 60)

    async def ask() -> list[bool]:
        counters = MemoryCounters()
        return [(await standings(counters, "one", 1, (policy,), NOON))[0].exceeded for _ in range(asked)]

    assert asyncio.run(ask()) == [number > quota for number in range(1, asked + 1)]


def test_window_passes_and_clients_do_not_share() -> None:
    async def ask() -> list[list[int]]:
        counters = MemoryCounters()
        found = []
        for client, moment in (("one", 0), ("one", 1), ("two", 1), ("one", 60), ("one", 61)):
            found.append([one.remaining for one in await standings(counters, client, 1, (BURST, DAY), NOON + moment)])
        return found

    assert asyncio.run(ask()) == [[2, 4], [1, 3], [2, 4], [2, 2], [1, 1]]


def test_headers_say_what_is_left_and_when_it_is_renewed() -> None:
    async def ask() -> list[Standing]:
        return await standings(MemoryCounters(), "one", 1, (BURST, DAY), NOON + 20)

    # draft-ietf-httpapi-ratelimit-headers-10: quoted names; q, w and qu in the policy, r and t in the standing
    found = dict(headers(asyncio.run(ask())))
    assert found[b"ratelimit-policy"] == b'"burst";q=3;w=60;qu="work", "day";q=5;w=86400;qu="work"'
    assert found[b"ratelimit"].startswith(b'"burst";r=2;t=40, "day";r=4;t=')


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


@given(st.lists(st.integers(1, 12), min_size=1, max_size=12))
def test_work_is_counted_whole_where_every_policy_has_room_and_else_not_at_all(costs: list[int]) -> None:
    policies = (Policy("burst", 20, 60), Policy("day", 30, 86_400))

    async def ask() -> list[list[Standing]]:
        counters = MemoryCounters()
        return [await standings(counters, "one", cost, policies, NOON + 60 * turn) for turn, cost in enumerate(costs)]

    used = 0  # each request has a minute of its own, so that the day alone adds up
    for cost, (burst, day) in zip(costs, asyncio.run(ask()), strict=True):
        allowed = used + cost <= 30
        used += cost if allowed else 0
        assert (burst.exceeded, day.exceeded) == (False, not allowed)
        assert (burst.remaining, day.remaining) == (20 - cost if allowed else 20, 30 - used)
