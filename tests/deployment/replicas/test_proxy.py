"""What the proxy passes on, keeps to itself and repeats, against stand-ins that show what they were sent."""

from __future__ import annotations

import http.client
import json
import re
import socket
from contextlib import ExitStack
from typing import TYPE_CHECKING

import pytest

from tests.deployment.replicas.load import ask
from tests.deployment.replicas.stand_ins import StandIn, proxy_before, stand_in
from tests.support.programs import wait_for

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tests.deployment.replicas.deployment import Deployment
    from tests.deployment.replicas.processes import Proxy

OF_EACH_ANSWER = {"date", "x-request-id", "connection", "keep-alive"}
LARGEST = 65_536  # [bytes] MAX_BODY where nothing else is set


@pytest.fixture(name="proxy")
def proxy_before_stand_ins(tmp_path: Path) -> Iterator[Proxy]:
    StandIn.seen.clear()
    with stand_in() as first, stand_in() as second, proxy_before(tmp_path, first, second) as proxy:
        yield proxy


def test_a_request_that_cannot_be_sent_goes_whole_to_the_other_replica(tmp_path: Path) -> None:
    StandIn.seen.clear()
    with stand_in() as second, ExitStack() as until_it_ends:
        first = until_it_ends.enter_context(stand_in())
        with proxy_before(tmp_path, first, second) as proxy:
            until_it_ends.close()
            answers = [ask(proxy.port, "/any", b"x" * LARGEST) for _ in range(4)]
            assert [(status, json.loads(body)) for status, _, body in answers] == [(200, {"length": LARGEST})] * 4
            assert StandIn.seen == [("/any", LARGEST)] * 4
            assert re.search(r'"server":"replica-2","retries":"\+?[1-9]', proxy.words()), "none was tried on the first"


@pytest.mark.parametrize("before", [0, 1, 2], ids="{} before it on the connection".format)
@pytest.mark.parametrize("length", [0, LARGEST, 5 * LARGEST], ids="{} bytes".format)
def test_a_request_that_got_no_answer_is_not_sent_again(proxy: Proxy, before: int, length: int) -> None:
    """HAProxy would close silently where requests came before on the connection, upon which many clients ask again."""
    connection = http.client.HTTPConnection("127.0.0.1", proxy.port, timeout=30)
    for _ in range(before):
        connection.request("POST", "/any", b"x" * length)
        assert json.loads(connection.getresponse().read()) == {"length": length}
    connection.request("POST", "/silent", b"x" * length)
    answer = connection.getresponse()
    assert (answer.status, answer.headers["content-type"]) == (502, "application/problem+json")
    assert json.loads(answer.read())["status"] == 502
    connection.close()
    assert StandIn.seen == [("/any", length)] * before + [("/silent", length)]


def test_a_busy_answer_is_passed_on_and_not_asked_for_twice(proxy: Proxy) -> None:
    status, headers, _ = ask(proxy.port, "/busy", b"{}")
    assert (status, headers["retry-after"]) == (503, "7")
    assert len(StandIn.seen) == 1


def test_the_client_cannot_choose_the_address_that_it_is_known_by(proxy: Proxy) -> None:
    connection = http.client.HTTPConnection("127.0.0.1", proxy.port, timeout=30)
    connection.request("GET", "/headers", headers={"X-Forwarded-For": "192.0.2.1", "X-Request-Id": "mine"})
    shown = json.loads(connection.getresponse().read())
    connection.close()
    assert [value for name, value in shown if name == "x-forwarded-for"] == ["127.0.0.1"]
    assert [value for name, value in shown if name == "x-request-id"] == ["mine"]


def test_a_request_that_is_never_finished_reaches_no_replica(proxy: Proxy) -> None:
    with socket.create_connection(("127.0.0.1", proxy.port), timeout=60) as connection:
        connection.sendall(b"POST /any HTTP/1.1\r\nHost: proxy\r\nContent-Length: 100\r\n\r\nbegun")
        assert connection.recv(200).startswith(b"HTTP/1.1 408 ")
    assert StandIn.seen == []


def test_every_header_of_an_answer_arrives(deployment: Deployment) -> None:
    status, direct, body = ask(deployment.replicas[0].port)
    through = ask(deployment.proxy.port)
    assert (status, body) == (through[0], through[2])
    assert set(direct) - OF_EACH_ANSWER <= set(through[1])
    assert {name: through[1][name] for name in set(direct) - OF_EACH_ANSWER} == {
        name: value for name, value in direct.items() if name not in OF_EACH_ANSWER
    }
    assert "x-request-id" in through[1]


def test_the_log_holds_nothing_of_what_was_asked(deployment: Deployment) -> None:
    before = len(deployment.proxy.words())
    status, headers, _ = ask(deployment.proxy.port, "/v1/sources/kneehurts?pain=kneehurts", None)
    assert status >= 400
    name = headers["x-request-id"]
    wait_for("the request is in the log", lambda: f'{name}"' in deployment.proxy.words())
    written = deployment.proxy.words()[before:]
    assert "kneehurts" not in written
    line = next(line for line in written.splitlines() if name in line)
    assert "127.0.0.1" not in line
    assert json.loads(line)["status"] == status
