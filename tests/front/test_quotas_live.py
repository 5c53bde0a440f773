"""Quotas of one live service: each client's own, told in every answer, and refused with what a client needs to know.

The window is a day, so that none ends while a test runs but for one at midnight (UTC), for which a test waits.
"""

from __future__ import annotations

import re
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from service.front.keys import hashed
from tests.front.live import Live, live

QUOTA = 5
DAY = 86_400


@pytest.fixture
def service(tmp_path: Path) -> Iterator[Live]:
    if DAY - time.time() % DAY < 60:
        time.sleep(61)
    keys = ",".join(f"{name}={hashed(name.encode())}" for name in ("one", "two"))
    with live(tmp_path, API_KEYS=keys, QUOTAS=f"burst={100 * QUOTA}/{DAY},day={QUOTA}/{DAY}") as found:
        yield found


def test_quota(service: Live) -> None:
    replies = [service.compute(authorization="Bearer one") for _ in range(QUOTA + 2)]
    assert [reply.status for reply in replies] == [200] * QUOTA + [429] * 2
    for number, reply in enumerate(replies, 1):
        # draft-ietf-httpapi-ratelimit-headers-10 §3, §4
        assert reply.headers["ratelimit-policy"] == f'"burst";q={100 * QUOTA};w={DAY}, "day";q={QUOTA};w={DAY}'
        found = re.fullmatch(r'"burst";r=(\d+);t=(\d+), "day";r=(\d+);t=(\d+)', reply.headers["ratelimit"])
        assert found is not None
        burst, _, day, wait = map(int, found.groups())
        assert (burst, day) == (100 * QUOTA - number, max(0, QUOTA - number))
        assert 0 < wait <= DAY
        if reply.status == 429:
            assert 0 <= wait - int(reply.headers["retry-after"]) <= 1
            assert reply.headers["content-type"] == "application/problem+json"
            assert reply.json()["type"] == "/problems/quota-exceeded"
    # each of those without a right answer counts as well: guessing is not free
    assert service.ask("GET", "/nowhere", None, {"authorization": "Bearer two"}).status == 404
    assert '"day";r=3' in service.compute(authorization="Bearer two").headers["ratelimit"]
    assert service.ask("GET", "/livez", None, {"authorization": "Bearer one"}).status == 200


def test_address_that_a_client_states_is_not_believed(tmp_path: Path) -> None:
    """Without a trusted proxy (TRUSTED_PROXIES), a client cannot get a quota of its own by a header."""
    with live(tmp_path, QUOTAS=f"day={QUOTA}/{DAY}") as service:
        forged = [service.compute(x_forwarded_for=f"192.0.2.{number}") for number in range(QUOTA + 1)]
        assert [reply.status for reply in forged] == [200] * QUOTA + [429]


def test_address_that_a_trusted_proxy_states_counts(tmp_path: Path) -> None:
    with live(tmp_path, QUOTAS=f"day={QUOTA}/{DAY}", TRUSTED_PROXIES="127.0.0.1") as service:
        stated = [service.compute(x_forwarded_for=f"192.0.2.{number}") for number in range(QUOTA + 1)]
        assert [reply.status for reply in stated] == [200] * (QUOTA + 1)
