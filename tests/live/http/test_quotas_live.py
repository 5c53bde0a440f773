"""Quotas of one live service: each client's own, of work, told in every answer and refused with what a client needs.

The window is a day, so that none ends while a test runs but for one at midnight (UTC), for which a test waits.
"""

from __future__ import annotations

import json
import re
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from service.api.models.operation import COST_OF_PIXELS
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from service.http.middleware.api_keys import hashed
from tests.support.live import BODIES, JSON, Live, Reply, live

QUOTA = 5
DAY = 86_400


@pytest.fixture(autouse=True)
def _no_midnight() -> None:
    if DAY - time.time() % DAY < 60:
        time.sleep(61)


@pytest.fixture
def service(tmp_path: Path) -> Iterator[Live]:
    keys = ",".join(f"{name}={hashed(name.encode())}" for name in ("one", "two"))
    with live(tmp_path, API_KEYS=keys, QUOTAS=f"burst={100 * QUOTA}/{DAY},day={QUOTA}/{DAY}") as found:
        yield found


def test_quota(service: Live) -> None:
    replies = [service.compute(authorization="Bearer one") for _ in range(QUOTA + 2)]
    assert [reply.status for reply in replies] == [200] * QUOTA + [429] * 2
    for number, reply in enumerate(replies, 1):
        # draft-ietf-httpapi-ratelimit-headers-10 §3, §4
        assert reply.headers["ratelimit-policy"] == (
            f'"burst";q={100 * QUOTA};w={DAY};qu="work", "day";q={QUOTA};w={DAY};qu="work"'
        )
        found = re.fullmatch(r'"burst";r=(\d+);t=(\d+), "day";r=(\d+);t=(\d+)', reply.headers["ratelimit"])
        assert found is not None
        burst, _, day, wait = map(int, found.groups())
        counted = min(number, QUOTA)  # what one policy refuses, none counts
        assert (burst, day) == (100 * QUOTA - counted, QUOTA - counted)
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


def left(reply: Reply) -> int:
    """Units of work that the answer says are left."""
    found = re.match(r'"day";r=(\d+);', reply.headers["ratelimit"])
    assert found is not None
    return int(found[1])


def batch(service: Live, *names: str) -> Reply:
    items = [{"operation": name, "body": BODIES[f"/v1/{name}"]} for name in names]
    return service.ask("POST", "/v1/batch", json.dumps({"requests": items}).encode(), JSON)


def test_work_counts_and_not_requests(tmp_path: Path) -> None:
    """Each as its cost is published, in every form; what is refused costs the unit with which it came."""
    cost = {one.name: one.charged(Reader(one.request).fit(one.examples[0].request)) for one in OPERATIONS}
    picture = next(operation.picture_cost for operation in OPERATIONS if operation.name == "adjustments")
    path = "/v1/adjustments"
    question = json.dumps(BODIES[path]).encode()
    table = b"load,reps,target_reps\r\n" + b"100kg,5,8\r\n" * 7
    total = 10_000
    with live(tmp_path, QUOTAS=f"day={total}/{DAY}") as service:
        found = [
            (service.compute(), 1),
            (service.ask("POST", path, question, JSON), cost["adjustments"]),
            (service.ask("POST", path + "/", question, JSON), cost["adjustments"]),
            (service.ask("POST", f"{path}?as=svg", question, JSON), picture),
            (service.ask("POST", f"{path}?as=png", question, JSON), picture + COST_OF_PIXELS),
            (service.ask("POST", f"{path}?as=png&scale=2", question, JSON), picture + 2 * COST_OF_PIXELS),
            (service.ask("GET", "/v1/joint-demand?" + joint_demand()), cost["joint-demand"]),
            (service.ask("POST", "/v1/tables/load-for-reps", table, {"content-type": "text/csv"}), 7),
            (
                batch(service, "tempo", "adjustments", "session-review"),
                1 + cost["adjustments"] + cost["session-review"],
            ),
        ]
        assert [reply.status for reply, _ in found] == [200] * len(found)
        spent = 0
        for reply, units in found:
            spent += units
            assert left(reply) == total - spent
        assert service.ask("POST", path, b"{}", JSON).status == 422
        assert left(service.compute()) == total - spent - 2


def test_what_does_not_fit_is_refused_whole_and_leaves_the_rest_for_smaller_requests(tmp_path: Path) -> None:
    with live(tmp_path, QUOTAS=f"day=100/{DAY}") as service:
        assert left(batch(service, *["tempo"] * 60)) == 40
        refused = batch(service, *["tempo"] * 60)
        assert (refused.status, refused.json()["type"]) == (429, "/problems/quota-exceeded")
        assert left(refused) == 39
        assert int(refused.headers["retry-after"]) > 0
        assert left(batch(service, *["tempo"] * 39)) == 0


def test_what_no_quota_ever_allows_is_too_large_and_not_too_early(tmp_path: Path) -> None:
    with live(tmp_path, QUOTAS=f"day=20/{DAY}") as service:
        for reply, parts in ((batch(service, *["tempo"] * 41), 3), (batch(service, "adjustments"), 3)):
            assert (reply.status, reply.json()["type"]) == (413, "/problems/too-large")
            assert f" {parts} parts" in reply.json()["detail"]
            assert "retry-after" not in reply.headers
        assert left(service.compute()) == 17


def joint_demand() -> str:
    operation = next(operation for operation in OPERATIONS if operation.name == "joint-demand")
    reader: Reader[Any] = Reader(operation.request)
    return QueryForm(operation, reader).query(reader.fit(operation.examples[0].request))
