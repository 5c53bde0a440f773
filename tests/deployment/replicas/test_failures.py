"""Parts of the deployment fail or are renewed while requests flow: no request is lost but those that a replica died on.

Only counts decide; how long anything takes is not looked at.
"""

from __future__ import annotations

import http.client
import json
import re
import socket
from typing import TYPE_CHECKING

import pytest

from tests.deployment.replicas.load import BODY, CLIENTS, PATH, Load, ask
from tests.support.programs import status_of, wait_for

if TYPE_CHECKING:
    from tests.deployment.replicas.deployment import Deployment
    from tests.deployment.replicas.processes import Proxy
    from tests.support.live import Live

STRETCH = 150
"""Requests answered between one event and the next: enough that both replicas have many in hand."""


def answers_again(replica: Live) -> None:
    """Wait until the proxy sends requests to it again."""
    before = replica.answered(PATH)
    wait_for(f"{replica.label} is asked again", lambda: replica.answered(PATH) > before)


def sent_again(proxy: Proxy) -> int:
    """How many requests the proxy has sent more than once."""
    return len(re.findall(r'"retries":"\+?[1-9]', proxy.words()))


@pytest.mark.parametrize("number", [0, 1], ids=["first", "second"])
def test_a_killed_replica_costs_what_it_had_in_hand(deployment: Deployment, number: int) -> None:
    replica = deployment.replicas[number]
    before = sent_again(deployment.proxy)
    with Load(deployment.proxy.port) as load:
        answers_again(replica)
        load.go_on(STRETCH)
        replica.kill()
        load.go_on(STRETCH)
        replica.start()
        answers_again(replica)
        load.go_on(STRETCH)
    assert [failure for failure in load.failures if not failure.startswith("502: ")] == []
    assert 0 < len(load.failures + load.cut_short) <= CLIENTS, "each client has one request at a time"
    assert sent_again(deployment.proxy) > before, "what could not be sent to it went to the other one"


def test_a_rolling_restart_costs_no_request(deployment: Deployment) -> None:
    with Load(deployment.proxy.port) as load:
        for replica in deployment.replicas:
            load.go_on(STRETCH)
            assert replica.stop() == 0, replica.words()[-2000:]
            replica.start()
            answers_again(replica)
        load.go_on(STRETCH)
    assert load.failures == load.cut_short == []


def test_the_store_may_end_and_come_back(deployment: Deployment) -> None:
    with Load(deployment.proxy.port) as load:
        load.go_on(STRETCH)
        deployment.store.kill()
        load.go_on(STRETCH)
        deployment.store.start()
        load.go_on(STRETCH)
    assert load.failures == load.cut_short == []


def test_a_replica_finishes_what_it_has_in_hand(deployment: Deployment) -> None:
    replica = deployment.replicas[0]
    head = f"POST {PATH} HTTP/1.1\r\nHost: replica\r\nContent-Type: application/json\r\nExpect: 100-continue\r\n"
    with socket.create_connection(("127.0.0.1", replica.port), timeout=30) as connection:
        connection.sendall(f"{head}Content-Length: {len(BODY)}\r\n\r\n".encode())
        assert connection.recv(100).startswith(b"HTTP/1.1 100 ")  # it is in hand
        replica.process.terminate()
        wait_for("no new request is taken", lambda: status_of(replica.port, "/readyz") is None)
        connection.sendall(BODY)
        answer = http.client.HTTPResponse(connection)
        answer.begin()
        assert answer.status == 200
        assert json.loads(answer.read())["decision"] == "adjust"
    assert replica.process.wait(timeout=30) == 0
    replica.start()


def test_without_any_replica_the_proxy_says_so(deployment: Deployment) -> None:
    for replica in deployment.replicas:
        replica.kill()
    try:
        status, headers, body = ask(deployment.proxy.port)
        assert (status, headers["content-type"]) == (503, "application/problem+json")
        assert int(headers["retry-after"]) > 0
        assert json.loads(body)["status"] == 503
        wait_for("the proxy is not healthy", lambda: status_of(deployment.proxy.port, "/proxy-health") == 503)
    finally:
        for replica in deployment.replicas:
            replica.start()
    wait_for("the proxy is healthy again", deployment.proxy.ready)
