"""Every layer of a live service that can answer says the same to a browser: how the answer may be used."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from typing import Final, TypeAlias

import pytest

from service.http.middleware.api_keys import hashed
from tests.live.http.requests import SECURITY, WITHHELD
from tests.support.connections import connected, head_of, raw
from tests.support.live import BODY, JSON, PATH, Live, live

KEY: Final = {"authorization": "Bearer key"}
Answer: TypeAlias = tuple[int, dict[str, str]]


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    keys = ",".join(f"{name}={hashed(name.encode())}" for name in ("key", "few"))
    settings = {"HEAD_SECONDS": "1", "REQUEST_SECONDS": "2", "MOST_AT_ONCE": "2", "QUOTAS": "day=100/86400"}
    with live(tmp_path_factory.mktemp("service"), API_KEYS=keys, ALLOWED_ORIGINS="*", **settings) as found:
        yield found


def asked(method: str, path: str, body: bytes | None = None, **headers: str) -> Callable[[Live], Answer]:
    named = {name.replace("_", "-"): value for name, value in headers.items()}

    def answer(service: Live) -> Answer:
        reply = service.ask(method, path, body, KEY | (JSON if body else {}) | named)
        return reply.status, reply.headers

    return answer


def sent(*pieces: bytes) -> Callable[[Live], Answer]:
    return lambda service: head_of(raw(service.port, *pieces))[:2]


def beyond_quota(service: Live) -> Answer:
    few = {"authorization": "Bearer few"}
    return next(
        (reply.status, reply.headers)
        for reply in (service.ask("GET", "/v1/signs", None, few) for _ in range(102))
        if reply.status == 429
    )


def shed(service: Live) -> Answer:
    with ExitStack() as stack:
        for _ in range(2):
            connection = stack.enter_context(connected(service.port))
            connection.sendall(WITHHELD.replace(b"host: a", b"host: a\r\nauthorization: Bearer key"))
            assert connection.recv(100).startswith(b"HTTP/1.1 100 ")
        return asked("POST", PATH, BODY)(service)


def not_modified(service: Live) -> Answer:
    tag = service.ask("GET", "/v1/signs", None, KEY).headers["etag"]
    return asked("GET", "/v1/signs", if_none_match=tag)(service)


ANSWERS: Final[dict[str, tuple[int, Callable[[Live], Answer]]]] = {
    "computation": (200, asked("POST", PATH, BODY)),
    "compressed": (
        200,
        asked("POST", "/v1/batch", b'{"requests":[{"operation":"tempo","body":{}}]}', accept_encoding="gzip"),
    ),
    "picture": (200, asked("POST", PATH + "?as=svg", BODY)),
    "catalogue": (200, asked("GET", "/v1/signs")),
    "head": (200, asked("HEAD", "/v1/signs")),
    "not_modified": (304, not_modified),
    "description": (200, asked("GET", "/openapi.json")),
    "page": (200, asked("GET", "/docs")),
    "root_of_a_browser": (303, asked("GET", "/", accept="text/html")),
    "explanation": (200, asked("GET", "/problems/invalid")),
    "health": (200, asked("GET", "/readyz")),
    "options": (204, asked("OPTIONS", PATH)),
    "preflight": (204, asked("OPTIONS", PATH, origin="https://a.example", access_control_request_method="POST")),
    "unreadable": (400, asked("POST", PATH, b"{")),
    "no_key": (401, asked("POST", PATH, BODY, authorization="none")),
    "nowhere": (404, asked("GET", "/nowhere")),
    "method": (405, asked("PUT", PATH)),
    "method_of_a_resource": (405, asked("PUT", "/v1/signs")),
    "form": (406, asked("GET", "/v1/signs", accept="image/png")),
    "slow_body": (
        408,
        sent(
            WITHHELD.replace(b"host: a", b"host: a\r\nauthorization: Bearer key").replace(
                b"expect: 100-continue\r\n", b""
            )
        ),
    ),
    "large_body": (413, asked("POST", PATH, b" " * 70_000)),
    "address": (414, asked("GET", PATH + "?" + "a" * 3000)),
    "media_type": (415, asked("POST", PATH, BODY, content_type="text/plain")),
    "invalid": (422, asked("POST", PATH, b"{}")),
    "quota": (429, beyond_quota),
    "shed": (503, shed),
    "no_http": (400, sent(b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03")),
    "bad_chunk": (400, sent(b"POST /docs HTTP/1.1\r\nhost: a\r\ntransfer-encoding: chunked\r\n\r\nxyz\r\n")),
    "slow_head": (408, sent(b"GET / HT")),
    "huge_head": (431, sent(b"GET / HTTP/1.1\r\nx: " + b"a" * 20_000 + b"\r\n\r\n")),
}


@pytest.mark.parametrize("name", ANSWERS)
def test_security_headers(service: Live, name: str) -> None:
    expected, answer = ANSWERS[name]
    status, headers = answer(service)
    assert status == expected
    assert {field: headers.get(field) for field in SECURITY} == SECURITY
    assert "default-src 'none'" in headers["content-security-policy"]
    assert "frame-ancestors 'none'" in headers["content-security-policy"]
    assert "cache-control" in headers or status == 303  # which nobody keeps unless told to (RFC 9111 §3)
    assert "server" not in headers
    if status >= 400:
        assert headers["content-type"] == "application/problem+json"
