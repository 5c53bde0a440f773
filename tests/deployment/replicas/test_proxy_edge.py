"""The proxy's outer edge: a certificate where one is mounted, limits by key and by address, and figures of its own."""

from __future__ import annotations

import http.client
import json
import socket
import ssl
import subprocess
from functools import partial
from http import HTTPStatus
from typing import TYPE_CHECKING

import pytest

from tests.deployment.replicas.stand_ins import proxy_before, stand_in
from tests.support.manifests import COMPOSE_TLS, read
from tests.support.programs import eventually, free_port, status_of

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tests.deployment.replicas.processes import Proxy

LIMIT = 5


@pytest.fixture(name="replica", scope="module")
def one_replica() -> Iterator[int]:
    with stand_in() as port:
        yield port


def refuses_connections(port: int) -> bool:
    """Whether a connection is ended without a byte; the kernel may take it before the proxy resets it."""
    try:
        with socket.create_connection(("127.0.0.1", port), timeout=30) as connection:
            return connection.recv(10) == b""
    except ConnectionResetError:
        return True


def statuses(proxy: Proxy, times: int, **headers: str) -> list[int]:
    """What as many requests on one connection are answered."""
    connection = http.client.HTTPConnection("127.0.0.1", proxy.port, timeout=30)
    found = []
    for _ in range(times):
        connection.request("GET", "/headers", headers=headers)
        answer = connection.getresponse()
        answer.read()
        found.append(answer.status)
    connection.close()
    return found


def test_a_key_is_limited_by_itself(tmp_path: Path, replica: int) -> None:
    with proxy_before(tmp_path, replica, replica, LIMIT_KEY=str(LIMIT)) as proxy:
        assert statuses(proxy, LIMIT + 2, Authorization="Bearer one") == [200] * LIMIT + [429] * 2
        assert statuses(proxy, LIMIT, Authorization="Bearer two") == [200] * LIMIT
        assert statuses(proxy, LIMIT + 2) == [200] * (LIMIT + 2)
        assert "Bearer" not in proxy.words()
        assert proxy.words().count('"status":429') == 2


def test_invented_keys_do_not_get_round_the_limit_by_address(tmp_path: Path, replica: int) -> None:
    # the proxy's own start-up was asked for once or more from this address: health counts as well
    with proxy_before(tmp_path, replica, replica, LIMIT_ADDRESS=str(20)) as proxy:
        found = [status for number in range(30) for status in statuses(proxy, 1, Authorization=f"Bearer {number}")]
        assert found == [200] * found.count(200) + [429] * found.count(429)
        assert 10 <= found.count(200) <= 20


def test_a_refusal_has_the_form_of_a_problem(tmp_path: Path, replica: int) -> None:
    with proxy_before(tmp_path, replica, replica, LIMIT_KEY="0") as proxy:
        connection = http.client.HTTPConnection("127.0.0.1", proxy.port, timeout=30)
        connection.request("GET", "/headers", headers={"Authorization": "Bearer one"})
        answer = connection.getresponse()
        assert (answer.status, answer.headers["content-type"]) == (429, "application/problem+json")
        assert int(answer.headers["retry-after"]) > 0
        assert json.loads(answer.read())["status"] == 429
        connection.close()


def answers(connection: http.client.HTTPConnection) -> bool:
    """Whether a request on a connection, which stays open, is answered; the proxy ends one too many without a byte."""
    try:
        connection.request("GET", "/headers")
        answer = connection.getresponse()
        answer.read()
    except ConnectionError:
        connection.close()
        return False
    return answer.status == HTTPStatus.OK


def test_connections_of_one_address_are_limited(tmp_path: Path, replica: int) -> None:
    with proxy_before(tmp_path, replica, replica, LIMIT_CONNECTIONS=str(LIMIT)) as proxy:
        held = [http.client.HTTPConnection("127.0.0.1", proxy.port, timeout=30) for _ in range(LIMIT)]
        for connection in held:
            # the one by which the proxy was seen to be up may still be counted
            assert eventually(partial(answers, connection))
        assert eventually(lambda: refuses_connections(proxy.port))
        for connection in held:
            assert answers(connection)
            connection.close()


@pytest.fixture(scope="module")
def certificate(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A certificate for localhost that is its own authority, with its key, in one file as HAProxy takes them."""
    folder = tmp_path_factory.mktemp("certificate")
    key, cert = folder / "key.pem", folder / "cert.pem"
    made = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "1", "-subj", "/CN=localhost"]
    names = ["-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1"]
    subprocess.run([*made, *names, "-keyout", str(key), "-out", str(cert)], check=True, capture_output=True)
    both = folder / "certificate"
    both.write_bytes(cert.read_bytes() + key.read_bytes())
    return both


@pytest.fixture
def secured(tmp_path: Path, replica: int, certificate: Path) -> Iterator[Proxy]:
    """With the words of deploy/compose.tls.yaml, but for the address and the file."""
    words = read(COMPOSE_TLS)["services"]["proxy"]["environment"]["PROXY_BIND"]
    port = free_port()
    for deployed, here in {"/run/secrets/certificate": str(certificate), ":8080": f"127.0.0.1:{port}"}.items():
        assert words.count(deployed) == 1
        words = words.replace(deployed, here)
    with proxy_before(tmp_path, replica, replica, PROXY_BIND=words) as proxy:
        proxy.port = port
        yield proxy


def trusting(certificate: Path) -> ssl.SSLContext:
    return ssl.create_default_context(cafile=str(certificate))


def test_answers_come_under_the_certificate(secured: Proxy, certificate: Path) -> None:
    connection = http.client.HTTPSConnection("localhost", secured.port, timeout=30, context=trusting(certificate))
    connection.request("POST", "/any", b"x" * 1000)
    answer = connection.getresponse()
    assert (answer.status, json.loads(answer.read())) == (200, {"length": 1000})
    assert answer.headers["strict-transport-security"] == "max-age=31536000"
    connection.close()
    assert status_of(secured.port, "/any") in {None, 400}, "and not without it"


@pytest.mark.parametrize(
    ("version", "offered", "chosen"),
    [(ssl.TLSVersion.TLSv1_3, "h2", "h2"), (ssl.TLSVersion.TLSv1_2, "http/1.1", "http/1.1")],
)
def test_present_versions_are_spoken(
    secured: Proxy, certificate: Path, version: ssl.TLSVersion, offered: str, chosen: str
) -> None:
    context = trusting(certificate)
    context.minimum_version = context.maximum_version = version
    context.set_alpn_protocols([offered])
    with (
        socket.create_connection(("127.0.0.1", secured.port), timeout=30) as plain,
        context.wrap_socket(plain, server_hostname="localhost") as connection,
    ):
        assert connection.selected_alpn_protocol() == chosen


def test_versions_that_are_given_up_are_refused(secured: Proxy) -> None:
    asked = ["openssl", "s_client", "-connect", f"127.0.0.1:{secured.port}", "-tls1_1", "-cipher", "ALL:@SECLEVEL=0"]
    done = subprocess.run(asked, input=b"", capture_output=True, check=False, timeout=30)
    assert done.returncode != 0
    assert b"alert protocol version" in done.stderr


def test_it_counts_what_it_passes_on(tmp_path: Path, replica: int) -> None:
    with proxy_before(tmp_path, replica, replica) as proxy:
        before = proxy.figure('haproxy_frontend_http_responses_total{proxy="api",code="2xx"}')
        statuses(proxy, 3)
        assert proxy.figure('haproxy_frontend_http_responses_total{proxy="api",code="2xx"}') == before + 3
        assert proxy.figure('haproxy_backend_active_servers{proxy="replicas"}') == 2
        assert status_of(proxy.figures, "/") == 404


def test_each_request_is_logged_once(tmp_path: Path, replica: int) -> None:
    with proxy_before(tmp_path, replica, replica) as proxy:
        statuses(proxy, 3)
        proxy.stop()
        assert proxy.words().count('"event":"proxied"') == 3
