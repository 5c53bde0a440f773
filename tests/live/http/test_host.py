"""Every request names its host, once and readably (RFC 9112 §3.2); only HTTP/1.0 may leave it out."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.support.connections import head_of, raw
from tests.support.live import Live, live


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    with live(tmp_path_factory.mktemp("service")) as found:
        yield found


@pytest.mark.parametrize(
    ("version", "fields", "status"),
    [
        ("1.1", [], 400),
        ("1.0", [], 200),
        ("1.1", [b"a", b"b"], 400),
        ("1.1", [b"a", b"a"], 400),
        ("1.0", [b"a", b"a"], 400),
        ("1.1", [b"a b"], 400),
        ("1.1", [b"a, b"], 400),
        ("1.1", [b"a/b"], 400),
        ("1.1", [b"u@a"], 400),
        ("1.1", [b"a:80:80"], 400),
        ("1.1", [b"a:http"], 400),
        ("1.1", [b"::1"], 400),
        ("1.1", [b"[::1"], 400),
        ("1.1", [b"a%2"], 400),
        ("1.1", [b"\xc3\xa4"], 400),
        ("1.0", [b"a b"], 400),
        ("1.1", [b""], 200),  # where the address has no authority
        ("1.1", [b"a"], 200),
        ("1.1", [b"A-1.example.org.:8080"], 200),
        ("1.1", [b"a_b"], 200),
        ("1.1", [b"a:"], 200),
        ("1.1", [b"%c3%a4.example"], 200),
        ("1.1", [b"192.0.2.1:80"], 200),
        ("1.1", [b"[2001:db8::1]:80"], 200),
        ("1.1", [b"[v1.a]"], 200),
    ],
)
def test_host(service: Live, version: str, fields: list[bytes], status: int) -> None:
    lines = [f"GET /livez HTTP/{version}".encode(), *(b"host: " + field for field in fields), b"connection: close"]
    found, headers, body = head_of(raw(service.port, b"\r\n".join(lines) + b"\r\n\r\n"))
    assert found == status
    if status == 400:
        assert headers["content-type"] == "application/problem+json"
        assert (headers["connection"], b'"detail":"Host: ' in body) == ("close", True)


def test_address_with_a_host_of_its_own_needs_the_field_too(service: Live) -> None:
    address = b"GET http://a/livez HTTP/1.1\r\nconnection: close\r\n"
    assert head_of(raw(service.port, address + b"\r\n"))[0] == 400
    assert head_of(raw(service.port, address + b"host: a\r\n\r\n"))[0] == 200
