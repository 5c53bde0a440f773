"""Quotas: windows, whose they are, header fields, and what is exempt, on a bare application."""

from __future__ import annotations

import asyncio
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.http.cost import charge
from service.http.headers import ANSWER_HEADERS
from service.http.middleware.rate_limit_store import MemoryCounters, Policy
from service.http.middleware.rate_limiting import RateLimiting, Standing, headers, policies_from_text, standings
from service.http.problems import HttpProblem
from tests.support.asgi import application, request, results

BURST: Final = Policy("burst", 3, 60)
DAY: Final = Policy("day", 5, 86_400)
NOON: Final = 1_700_049_600.0  # a full minute and a full day hour; any number of seconds would do
TWO: Final = (Policy("burst", 2, 86_400),)


def limited() -> RateLimiting:
    return RateLimiting(application, TWO, MemoryCounters(), b"secret", frozenset({"/livez"}))


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


# --- the layer -------------------------------------------------------------------------------------------------------
def test_health_and_preflight_are_not_counted() -> None:
    replies = results(limited(), [request(path="/livez"), request(method="OPTIONS")] * 3)
    assert {reply["status"] for reply in replies} == {200}


def test_quota_is_each_clients_own_and_the_refusal_says_when_to_come_back() -> None:
    scopes = [request(client=client) for client in ("192.0.2.1", "192.0.2.1", "192.0.2.2", "192.0.2.1")]
    replies = results(limited(), scopes)
    assert [one["status"] for one in replies] == [200, 200, 200, 429]
    refused = dict(replies[3]["headers"])
    assert 0 < int(refused[b"retry-after"]) <= 86_400
    assert refused[b"ratelimit"].startswith(b'"burst";r=0;t=')
    assert refused[b"ratelimit-policy"] == b'"burst";q=2;w=86400;qu="work"'
    assert b"quota-exceeded" in replies[3]["body"]
    assert b"192.0.2" not in replies[3]["body"]
    assert dict(scopes[0][ANSWER_HEADERS])[b"ratelimit"].startswith(b'"burst";r=1;t=')


@pytest.mark.parametrize(
    ("clients", "statuses"),
    [
        (("2001:db8::1", "2001:db8::ffff:0:0:2", "2001:0db8:0000:0000:1::"), [200, 200, 429]),  # one /64
        (("2001:db8::1", "2001:db8:0:1::1", "2001:db8:0:ffff::1"), [200, 200, 200]),
        (("192.0.2.1", "::ffff:192.0.2.1", "::ffff:c000:201"), [200, 200, 429]),  # RFC 4291 §2.5.5.2
        (("::ffff:192.0.2.1", "::ffff:192.0.2.2", "::ffff:192.0.2.3"), [200, 200, 200]),
        (("fe80::1%eth0", "fe80::2%eth0", "fe80::3"), [200, 200, 429]),
        (("192.0.2.1", "192.0.2.2", "192.0.3.1"), [200, 200, 200]),
        (("", "no:address", "none"), [200, 200, 200]),
    ],
)
def test_addresses_of_one_client(clients: tuple[str, ...], statuses: list[int]) -> None:
    assert [one["status"] for one in results(limited(), [request(client=one) for one in clients])] == statuses


def test_what_a_request_costs_beyond_its_first_unit_is_charged_by_whoever_answers_it() -> None:
    scope = request()

    async def costly(scope: Any, _: object, send: Any) -> None:  # noqa: ANN401 - an application
        await charge(scope, 2)
        with pytest.raises(HttpProblem) as refused:
            await charge(scope, 3)
        assert refused.value.kind.id == "too-large"  # no window has ever so much
        await application(scope, _, send)

    results(RateLimiting(costly, TWO, MemoryCounters(), b"secret", frozenset()), [scope])
    assert ANSWER_HEADERS not in scope  # a refusal brings its own
