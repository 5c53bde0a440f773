"""Who is let through where keys are required, and what is exempt, on a bare application."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Final

import pytest

from service.http.middleware.api_keys import Key, KeyRing, hashed
from service.http.middleware.authentication import Authentication
from service.http.middleware.rate_limit_store import MemoryCounters, Policy
from service.http.middleware.rate_limiting import RateLimiting
from service.http.types import ASGIApp
from tests.support.asgi import application, request, results

RING: Final = KeyRing({"gym": Key(hashed(b"good")), "old": Key(hashed(b"over"), date(2001, 1, 1))})
TWO: Final = (Policy("burst", 2, 86_400),)
EXEMPT: Final = frozenset({"/livez"})


def bearer(key: bytes) -> tuple[bytes, bytes]:
    return b"authorization", b"Bearer " + key


def access(ring: KeyRing, policies: tuple[Policy, ...] = ()) -> ASGIApp:
    limited = RateLimiting(application, policies, MemoryCounters(), b"secret", EXEMPT) if policies else application
    return Authentication(limited, ring, EXEMPT, frozenset({"/docs"}))


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
    replies = results(access(RING), [request(*headers)])[0]
    assert replies["status"] == status
    if status == 401:
        assert dict(replies["headers"])[b"www-authenticate"].startswith(b"Bearer")  # RFC 6750 §3
    for _, value in headers:
        assert value.split()[-1] not in replies["body"]


def test_health_and_preflight_need_no_key() -> None:
    replies = results(access(RING, TWO), [request(path="/livez"), request(method="OPTIONS")] * 3)
    assert {one["status"] for one in replies} == {200}


def test_open_paths_need_no_key_and_are_counted() -> None:
    replies = results(access(RING, TWO), [request(path="/docs")] * 3)
    assert [one["status"] for one in replies] == [200, 200, 429]


def test_keys_that_cannot_be_read_are_our_fault_and_not_the_clients(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    path.write_text(f'[gym]\nsha256 = "{hashed(b"good")}"\n', encoding="utf-8")
    ring = KeyRing({"own": Key(hashed(b"own"))}, path)
    path.unlink()
    replies = results(access(ring), [request(bearer(key)) for key in (b"good", b"wrong", b"own")] + [request()])
    assert [one["status"] for one in replies] == [503, 503, 200, 401]
    assert int(dict(replies[0]["headers"])[b"retry-after"]) > 0
    assert b"/problems/keys-unavailable" in replies[0]["body"]


def test_quota_follows_the_key_and_not_the_address() -> None:
    scopes = [request(bearer(b"good"), client=f"192.0.2.{number}") for number in range(3)]
    assert [one["status"] for one in results(access(RING, TWO), scopes)] == [200, 200, 429]
    assert scopes[0]["client_name"] == "gym"
