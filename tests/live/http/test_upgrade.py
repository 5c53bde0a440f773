"""Requests that offer another protocol, as several clients do with every first request, are answered as they are.

RFC 9110 §7.8: a server may ignore the offer, and then answers as if it had not been made.
"""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterator
from typing import Final

import pytest

from tests.support.connections import head_of, raw
from tests.support.live import BODY, PATH, Live, live

OFFER: Final = b"connection: Upgrade, HTTP2-Settings\r\nupgrade: h2c\r\nhttp2-settings: AAEAAEAAAAIAAAABAAMAAABk\r\n"
HEAD: Final = f"POST {PATH} HTTP/1.1\r\nhost: a\r\ncontent-type: application/json\r\n".encode()
LENGTH: Final = b"content-length: %d\r\n\r\n" % len(BODY)
LAST: Final = b"GET /livez HTTP/1.1\r\nhost: a\r\nconnection: close\r\n\r\n"


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    with live(tmp_path_factory.mktemp("service"), HEAD_SECONDS="2", REQUEST_SECONDS="4") as found:
        yield found


@pytest.mark.parametrize(
    "pieces",
    [
        (HEAD + OFFER + LENGTH + BODY + LAST,),
        (HEAD + OFFER + LENGTH, BODY, LAST),
        (HEAD + OFFER + LENGTH + BODY[:20], BODY[20:] + LAST),
        (HEAD, OFFER[:30], OFFER[30:], LENGTH[:-1], LENGTH[-1:] + BODY, LAST),
        (HEAD + OFFER + b"transfer-encoding: chunked\r\n\r\n%x\r\n" % len(BODY), BODY, b"\r\n0\r\n\r\n" + LAST),
        (HEAD + OFFER.replace(b", HTTP2-Settings", b"\r\nconnection: HTTP2-Settings, keep-alive") + LENGTH, BODY, LAST),
    ],
    ids=["one packet", "three packets", "body parted", "head parted", "chunks", "options in two fields"],
)
def test_body_and_the_next_request_are_read(service: Live, pieces: tuple[bytes, ...]) -> None:
    answer = raw(service.port, *pieces, pause=0.05 if len(pieces) > 1 else 0)
    status, headers, body = head_of(answer)
    assert (status, headers["content-type"]) == (200, "application/json")
    assert "connection" not in headers  # kept for more
    assert "upgrade" not in headers
    assert b'"estimated_max"' in body
    assert answer.count(b"HTTP/1.1 200 OK") == 2
    assert answer.endswith(b'{"status":"alive"}')


def test_offers_one_after_the_other(service: Live) -> None:
    """As many as fit into one packet: each is answered, in order."""
    one = b"GET /livez HTTP/1.1\r\nhost: a\r\n" + OFFER + b"\r\n"
    assert raw(service.port, one * 1_500 + LAST).count(b"HTTP/1.1 200 OK") == 1_501


def test_what_is_refused_without_an_offer_is_refused_with_one(service: Live) -> None:
    post = b"POST /v1/tempo HTTP/1.1\r\n" + OFFER
    assert head_of(raw(service.port, post + b"content-length: 2\r\n\r\n{}"))[0] == 400  # no Host
    both = b"host: a\r\ncontent-length: 2\r\ntransfer-encoding: chunked\r\n\r\n0\r\n\r\n"
    answer = raw(service.port, post + both + LAST)
    assert (head_of(answer)[0], answer.count(b"HTTP/1.1 ")) == (400, 1)
    assert head_of(raw(service.port, post + b"host: a\r\nx: " + b"a" * 20_000 + b"\r\n\r\n"))[0] == 431
    folded = b"host: a\r\nx: a\r\n connection: close\r\ncontent-length: 2\r\n\r\n{}"
    assert head_of(raw(service.port, post + folded))[0] in (400, 415)
    assert head_of(raw(service.port, HEAD + OFFER + LENGTH, BODY[:9]))[0] == 408


def test_curl_that_offers_http_2(service: Live) -> None:
    command = ["curl", "--silent", "--show-error", "--http2", "--max-time", "20", "--data-binary", "@-"]
    command += ["--header", "content-type: application/json", "--write-out", "\n%{http_code} %{http_version}"]
    command.append(f"http://127.0.0.1:{service.port}{PATH}")
    done = subprocess.run(command, input=BODY, capture_output=True, check=False)  # noqa: S603 - fixed arguments
    assert (done.returncode, done.stderr) == (0, b"")
    body, _, code = done.stdout.rpartition(b"\n")
    assert code == b"200 1.1"
    assert "estimated_max" in json.loads(body)
