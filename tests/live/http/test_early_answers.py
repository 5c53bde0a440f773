"""A request refused before its body has come: the client sees the answer, though it sends on without reading."""

from __future__ import annotations

import http.client
import subprocess
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Final

import pytest

from service.http.middleware.api_keys import hashed
from service.http.server.protocol import DRAINED
from tests.support.connections import connected, head_of, until_closed
from tests.support.live import PATH, Live, live

SIZE: Final = 8 * 1024 * 1024  # more than the buffers of the system on both sides
LARGE: Final = b" " * SIZE
HEAD_SECONDS: Final = 2.0
JSON: Final = {"content-type": "application/json"}
KEYS: Final = {name: {"authorization": f"Bearer {name}"} for name in ("key", "few")}
REFUSED: Final[dict[str, tuple[int, str, dict[str, str]]]] = {
    "too large": (413, PATH, JSON | KEYS["key"]),
    "too large, many at once": (413, "/v1/batch", JSON | KEYS["key"]),
    "no key": (401, PATH, JSON),
    "media type": (415, PATH, KEYS["key"] | {"content-type": "text/plain"}),
    "nowhere": (404, "/nowhere", JSON | KEYS["key"]),
    "method": (405, "/v1/signs", JSON | KEYS["key"]),
    "quota": (429, PATH, JSON | KEYS["few"]),
    "host": (400, PATH, JSON | KEYS["key"] | {"host": "a b"}),
    "head": (431, PATH, {f"x-{number}": "a" * 990 for number in range(20)}),
}
each_refusal: Final = pytest.mark.parametrize("name", REFUSED)


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    keys = ",".join(f"{name}={hashed(name.encode())}" for name in KEYS)
    settings = {"HEAD_SECONDS": f"{HEAD_SECONDS}", "REQUEST_SECONDS": "20", "QUOTAS": "day=100/86400"}
    with live(tmp_path_factory.mktemp("service"), API_KEYS=keys, **settings) as found:
        for _ in range(101):
            found.ask("GET", "/v1/signs", None, KEYS["few"])
        yield found


def head(path: str, headers: dict[str, str], size: int = SIZE) -> bytes:
    named = {"host": "a", "content-length": str(size)} | headers
    lines = [f"POST {path} HTTP/1.1", *(f"{name}: {value}" for name, value in named.items())]
    return "\r\n".join([*lines, "", ""]).encode()


@each_refusal
@pytest.mark.parametrize("connection", ["keep-alive", "close"])
def test_bytes_sent_without_reading(service: Live, name: str, connection: str) -> None:
    status, path, headers = REFUSED[name]
    with connected(service.port) as client:
        client.sendall(head(path, headers | {"connection": connection}))
        client.sendall(LARGE)
        answer = b""
        while b"\r\n\r\n" not in answer or len(answer.partition(b"\r\n\r\n")[2]) < int(
            head_of(answer)[1]["content-length"]
        ):
            part = client.recv(65_536)
            assert part, "closed without an answer"
            answer += part
        found, fields, _ = head_of(answer)
        assert found == status
        assert fields["content-type"] == "application/problem+json"
        if fields.get("connection") == "close":
            assert until_closed(client) == b""
        else:  # kept, and what was sent is no part of the next request
            client.sendall(b"GET /livez HTTP/1.1\r\nhost: a\r\nconnection: close\r\n\r\n")
            assert head_of(until_closed(client))[0] == 200


@each_refusal
@pytest.mark.parametrize("connection", ["keep-alive", "close"])
def test_python_client(service: Live, name: str, connection: str) -> None:
    status, path, headers = REFUSED[name]
    client = http.client.HTTPConnection("127.0.0.1", service.port, timeout=30)
    try:
        client.request("POST", path, LARGE, headers | {"connection": connection})
        answer = client.getresponse()
        assert (answer.status, bool(answer.read())) == (status, True)
    finally:
        client.close()


@pytest.mark.parametrize("name", ["too large", "no key", "host"])
def test_curl(service: Live, tmp_path: Path, name: str) -> None:
    status, path, headers = REFUSED[name]
    body = tmp_path / "body"
    body.write_bytes(LARGE)
    command = ["curl", "--silent", "--show-error", "--max-time", "30", "--write-out", "%{http_code}"]
    command += ["--output", str(tmp_path / "answer"), "--data-binary", f"@{body}"]
    for field, value in ({"connection": "close", "expect": ""} | headers).items():
        command += ["--header", f"{field}: {value}"]
    command.append(f"http://127.0.0.1:{service.port}{path}")
    done = subprocess.run(command, capture_output=True, check=False)  # noqa: S603 - fixed arguments
    assert (done.returncode, done.stdout, done.stderr) == (0, str(status).encode(), b"")


@pytest.mark.parametrize("connection", ["keep-alive", "close"])
def test_not_more_than_a_limit_is_taken(service: Live, connection: str) -> None:
    """An endless body after its refusal is cut off; what was sent and not taken lies in buffers of the system."""
    sent = 0
    with connected(service.port) as client:
        client.sendall(head(PATH, JSON | {"connection": connection}, 1 << 40))
        with suppress(ConnectionError):
            while sent < 8 * DRAINED:
                client.sendall(LARGE[:65_536])
                sent += 65_536
    assert DRAINED <= sent < 3 * DRAINED


@pytest.mark.parametrize("connection", ["keep-alive", "close"])
def test_nor_for_longer_than_a_limit(service: Live, connection: str) -> None:
    with connected(service.port) as client:
        client.sendall(head(PATH, JSON | {"connection": connection}, 1 << 40))
        began = time.monotonic()
        with suppress(ConnectionError):
            while time.monotonic() - began < 10 * HEAD_SECONDS:
                client.sendall(b" ")
                time.sleep(0.05)
            pytest.fail("taken for ever")
