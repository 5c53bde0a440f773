"""Who is let through: keys, quotas, and what is exempt, on a bare application."""

from __future__ import annotations

import asyncio
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from service.http.headers import ANSWER_HEADERS
from service.http.middleware.api_keys import Key, KeyRing, hashed
from service.http.middleware.authentication import Authentication
from service.http.middleware.rate_limit_store import MemoryCounters, Policy
from service.http.middleware.rate_limiting import RateLimiting
from service.http.types import ASGIApp

RING = KeyRing({"gym": Key(hashed(b"good")), "old": Key(hashed(b"over"), date(2001, 1, 1))})
TWO = (Policy("burst", 2, 86_400),)
EXEMPT = frozenset({"/livez"})


def asked(
    *headers: tuple[bytes, bytes], path: str = "/v1/tempo", client: str = "192.0.2.1", method: str = "POST"
) -> dict[str, Any]:
    return {
        "type": "http",
        "path": path,
        "method": method,
        "headers": list(headers),
        "query_string": b"",
        "client": (client, 4711),
    }


def bearer(key: bytes) -> tuple[bytes, bytes]:
    return b"authorization", b"Bearer " + key


def results(access: ASGIApp, scopes: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The first message sent for each scope."""

    async def run() -> list[dict[str, Any]]:
        found = []
        for scope in scopes:
            sent: list[dict[str, Any]] = []

            async def send(message: dict[str, Any], sent: list[dict[str, Any]] = sent) -> None:
                sent.append(message)

            await access(scope, None, send)
            found.append({**sent[0], "body": sent[1]["body"]})
        return found

    return asyncio.run(run())


async def application(_: Any, __: Any, send: Any) -> None:  # noqa: ANN401
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": b"ok"})


def access(ring: KeyRing | None = None, policies: tuple[Policy, ...] = ()) -> ASGIApp:
    limited = RateLimiting(application, policies, MemoryCounters(), b"secret", EXEMPT) if policies else application
    return Authentication(limited, ring, EXEMPT, frozenset({"/docs"})) if ring is not None else limited


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ((), 401),
        ((bearer(b"good"),), 200),
        (((b"authorization", b"bearer good"),), 200),  # the scheme's case does not matter (RFC 9110 §11.1)
        ((bearer(b"wrong"),), 401),
        (((b"authorization", b"Basic Z29vZA=="),), 401),
        ((bearer(b"over"),), 403),
    ],
)
def test_keys(headers: tuple[tuple[bytes, bytes], ...], status: int) -> None:
    found = results(access(RING), [asked(*headers)])[0]
    assert found["status"] == status
    if status == 401:
        assert dict(found["headers"])[b"www-authenticate"].startswith(b"Bearer")  # RFC 6750 §3
    for _, value in headers:
        assert value.split()[-1] not in found["body"]


def test_health_and_preflight_need_no_key() -> None:
    found = results(access(RING, TWO), [asked(path="/livez"), asked(method="OPTIONS")] * 3)
    assert {one["status"] for one in found} == {200}


def test_open_paths_need_no_key_and_are_counted() -> None:
    found = results(access(RING, TWO), [asked(path="/docs")] * 3)
    assert [one["status"] for one in found] == [200, 200, 429]


def test_quota_is_each_clients_own_and_the_refusal_says_when_to_come_back() -> None:
    scopes = [asked(client=client) for client in ("192.0.2.1", "192.0.2.1", "192.0.2.2", "192.0.2.1")]
    found = results(access(None, TWO), scopes)
    assert [one["status"] for one in found] == [200, 200, 200, 429]
    refused = dict(found[3]["headers"])
    assert 0 < int(refused[b"retry-after"]) <= 86_400
    assert refused[b"ratelimit"].startswith(b'"burst";r=0;t=')
    assert refused[b"ratelimit-policy"] == b'"burst";q=2;w=86400;qu="work"'
    assert b"quota-exceeded" in found[3]["body"]
    assert b"192.0.2" not in found[3]["body"]
    assert dict(scopes[0][ANSWER_HEADERS])[b"ratelimit"].startswith(b'"burst";r=1;t=')


@pytest.mark.parametrize(
    ("clients", "statuses"),
    [
        (("2001:db8::1", "2001:db8::ffff:0:0:2", "2001:0db8:0000:0000:1::"), [200, 200, 429]),  # one /64
        (("2001:db8::1", "2001:db8:0:1::1", "2001:db8:0:ffff::1"), [200, 200, 200]),
        (("192.0.2.1", "::ffff:192.0.2.1", "::ffff:c000:201"), [200, 200, 429]),  # RFC 4291 §2.5.5.2
        (("::ffff:192.0.2.1", "::ffff:192.0.2.2", "::ffff:192.0.2.3"), [200, 200, 200]),
        (("fe80::1%eth0", "fe80::2%eth0", "fe80::3"), [200, 200, 429]),
        (("192.0.2.1", "192.0.2.2", "192.0.3.1"), [200, 200, 200]),
        (("", "no:address", "none"), [200, 200, 200]),
    ],
)
def test_addresses_of_one_client(clients: tuple[str, ...], statuses: list[int]) -> None:
    assert [one["status"] for one in results(access(None, TWO), [asked(client=one) for one in clients])] == statuses


def test_keys_that_cannot_be_read_are_our_fault_and_not_the_clients(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    path.write_text(f'[gym]\nsha256 = "{hashed(b"good")}"\n', encoding="utf-8")
    ring = KeyRing({"own": Key(hashed(b"own"))}, path)
    path.unlink()
    found = results(access(ring), [asked(bearer(key)) for key in (b"good", b"wrong", b"own")] + [asked()])
    assert [one["status"] for one in found] == [503, 503, 200, 401]
    assert int(dict(found[0]["headers"])[b"retry-after"]) > 0
    assert b"/problems/keys-unavailable" in found[0]["body"]


def test_quota_follows_the_key_and_not_the_address() -> None:
    scopes = [asked(bearer(b"good"), client=f"192.0.2.{number}") for number in range(3)]
    assert [one["status"] for one in results(access(RING, TWO), scopes)] == [200, 200, 429]
    assert scopes[0]["client_name"] == "gym"
