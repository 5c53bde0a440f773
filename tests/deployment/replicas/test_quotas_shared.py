"""Quotas that two replicas share through a real store, and what becomes of them when the store is away.

The window is a day, so that none ends while a test runs but for one at midnight (UTC), for which a test waits.
"""

from __future__ import annotations

import json
import threading
import time
from collections import Counter
from functools import partial
from typing import TYPE_CHECKING

import pytest

from tests.deployment.replicas.deployment import Deployment, deployed
from tests.deployment.replicas.load import ask
from tests.support.live import Live
from tests.support.programs import wait_for

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

QUOTA = 40
DAY = 86_400
QUESTION = "/v1/session-split"
BODY = b'{"weekly_sets": {"low": 10, "high": 12}, "days": 2}'


@pytest.fixture
def deployment(tmp_path: Path) -> Iterator[Deployment]:
    if DAY - time.time() % DAY < 60:
        time.sleep(61)
    with deployed(tmp_path, QUOTAS=f"day={QUOTA}/{DAY}") as found:
        yield found


def statuses(ports: list[int], times: int, path: str = QUESTION, body: bytes = BODY) -> Counter[int]:
    """What as many requests of one client are answered, spread over the ports and asked by several threads at once."""
    found: Counter[int] = Counter()

    def client(number: int) -> None:
        for turn in range(number, times, 4):
            found[ask(ports[turn % len(ports)], path, body)[0]] += 1

    threads = [threading.Thread(target=client, args=(number,)) for number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return found


def counted_where(replica: Live) -> str:
    status, _, body = ask(replica.port, "/readyz", None)
    assert status == 200
    return str(json.loads(body)["quotas"])


def shares_again(replica: Live) -> bool:
    return ask(replica.port, QUESTION, BODY)[0] == 200 and counted_where(replica) == "shared"


def says_so(replica: Live) -> bool:
    return "quota store down" in replica.words()


def test_quota_holds_across_replicas(deployment: Deployment) -> None:
    both = [replica.port for replica in deployment.replicas]
    assert statuses(both, QUOTA + 20) == {200: QUOTA, 429: 20}
    assert [counted_where(replica) for replica in deployment.replicas] == ["shared", "shared"]
    for port in (*both, deployment.proxy.port):
        status, headers, _ = ask(port, QUESTION, BODY)
        assert status == 429
        assert headers["ratelimit"].startswith('"day";r=0;t=')
        assert 0 < int(headers["retry-after"]) <= DAY


def test_work_is_shared_across_replicas_and_counted_whole_or_not_at_all(deployment: Deployment) -> None:
    """Batches of seven questions by several clients at once: five fit into 40 units, whichever replica they reach."""
    both = [replica.port for replica in deployment.replicas]
    items = b",".join([b'{"operation": "session-split", "body": %b}' % BODY] * 7)
    batch = b'{"requests": [%b]}' % items
    assert statuses(both, 5, "/v1/batch", batch) == {200: 5}
    assert ask(both[1], "/v1/batch", batch)[0] == 429
    status, headers, _ = ask(both[0], QUESTION, BODY)
    assert status == 200
    assert headers["ratelimit"].startswith(f'"day";r={QUOTA - 5 * 7 - 2};t=')
    assert 'qu="work"' in headers["ratelimit-policy"]
    too_large = b'{"requests": [%b]}' % b",".join([items] * 6)
    assert ask(both[1], "/v1/batch", too_large)[0] == 413
    assert statuses(both, 10) == {200: 2, 429: 8}


def test_quota_holds_behind_the_proxy(deployment: Deployment) -> None:
    assert statuses([deployment.proxy.port], QUOTA + 20) == {200: QUOTA, 429: 20}


def test_without_the_store_each_replica_counts_alone_and_says_so(deployment: Deployment) -> None:
    """Fail open, bounded: each replica counts the whole quota for itself; with the store back they share it again."""
    first, second = deployment.replicas
    assert statuses([first.port, second.port], 10) == {200: 10}
    deployment.store.kill()
    for replica in deployment.replicas:
        assert statuses([replica.port], QUOTA + 5) == {200: QUOTA, 429: 5}
        assert counted_where(replica) == "store_down"
        wait_for(f"{replica.label} says so", partial(says_so, replica))

    deployment.store.start()
    for replica in deployment.replicas:
        wait_for(f"{replica.label} counts in the store again", partial(shares_again, replica))
    found = statuses([first.port, second.port], QUOTA + 20)
    assert 0 < found[200] < QUOTA
    assert found[200] + found[429] == QUOTA + 20


def test_store_that_keeps_silent_costs_a_moment(deployment: Deployment) -> None:
    """A store that takes connections and never answers is given up quickly, and then left alone for a while."""
    deployment.store.process.send_signal(19)  # SIGSTOP: the kernel still takes connections for it
    try:
        began = time.monotonic()
        assert statuses([deployment.replicas[0].port], 20) == {200: 20}
        assert time.monotonic() - began < 10  # 20 times the wait for a store that is asked each time would be more
        assert counted_where(deployment.replicas[0]) == "store_down"
    finally:
        deployment.store.process.send_signal(18)  # SIGCONT
