"""A request that ends the process that serves it ends one replica, and never reaches the other."""

from __future__ import annotations

import http.client
import sys
from typing import TYPE_CHECKING

import pytest

from tests.deployment.replicas.deployment import Deployment, deployed
from tests.deployment.replicas.ended_by_request import ANSWERING, MARK, SEEN
from tests.deployment.replicas.load import BODY, JSON, PATH, ask
from tests.support.live import Live
from tests.support.programs import wait_for

if TYPE_CHECKING:
    from collections.abc import Iterator

LARGE = b" " * 1_000_000
"""More than the proxy holds in its buffer."""


class Fragile(Live):
    """The service with a request that ends it."""

    def command(self) -> list[str]:
        return [sys.executable, "-m", "tests.deployment.replicas.ended_by_request"]


@pytest.fixture(scope="module")
def deployment(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Deployment]:
    with deployed(tmp_path_factory.mktemp("fragile"), Fragile) as found:
        yield found


def ended(deployment: Deployment) -> list[Live]:
    return [replica for replica in deployment.replicas if replica.process.poll() is not None]


@pytest.fixture
def fragile(deployment: Deployment) -> Iterator[Deployment]:
    """The deployment, whose ended replica is started again after the test."""
    yield deployment
    for replica in ended(deployment):
        replica.start()
    wait_for("the proxy sends requests to both again", lambda: deployment.proxy.replicas_up() == 2)


def seen(deployment: Deployment) -> int:
    return sum(replica.words().count(SEEN) for replica in deployment.replicas)


@pytest.mark.parametrize(
    ("mark", "before", "body"),
    [
        pytest.param("in hand", 0, BODY, id="first of its connection"),
        pytest.param("in hand", 2, BODY, id="third of its connection"),
        pytest.param("in hand", 0, LARGE, id="large"),
        pytest.param(ANSWERING, 2, BODY, id="half answered"),
    ],
)
def test_one_replica_is_left(fragile: Deployment, mark: str, before: int, body: bytes) -> None:
    already = seen(fragile)
    connection = http.client.HTTPConnection("127.0.0.1", fragile.proxy.port, timeout=60)
    for _ in range(before):
        connection.request("POST", PATH, BODY, JSON)
        assert connection.getresponse().read()
    connection.request("POST", PATH, body, JSON | {MARK: mark})
    answer = connection.getresponse()
    if mark == ANSWERING:
        with pytest.raises(http.client.IncompleteRead):
            answer.read()
    else:
        assert answer.status == 502
    connection.close()
    assert seen(fragile) == already + 1
    wait_for("a replica has ended", lambda: ended(fragile) != [])
    assert [replica.process.returncode for replica in ended(fragile)] == [-9]
    assert ask(fragile.proxy.port)[0] == 200
