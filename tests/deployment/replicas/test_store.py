"""The store's users as they are deployed: strangers get nothing, and the replicas what they need alone."""

from __future__ import annotations

import socket
from typing import TYPE_CHECKING

import pytest

from tests.deployment.replicas.processes import Store

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    found = Store(tmp_path_factory.mktemp("store"))
    try:
        found.start()
        yield found
    finally:
        found.kill()


@pytest.fixture
def connection(store: Store) -> Iterator[socket.socket]:
    with socket.create_connection(("127.0.0.1", store.port), timeout=30) as found:
        yield found


@pytest.mark.parametrize("command", ["GET quota:any", "PING", "AUTH default any", "AUTH quotas any"])
def test_a_stranger_gets_nothing(store: Store, connection: socket.socket, command: str) -> None:
    assert store.asked(connection, command).startswith(("-NOAUTH", "-WRONGPASS"))


@pytest.mark.parametrize("command", ["KEYS *", "FLUSHALL", "CONFIG GET maxmemory", "ACL LIST", "SET other 1"])
def test_the_replicas_touch_nothing_but_quotas(store: Store, connection: socket.socket, command: str) -> None:
    assert store.asked(connection, f"AUTH quotas {store.password}") == "+OK"
    assert store.asked(connection, "SET quota:any 1") == "+OK"
    assert store.asked(connection, command).startswith("-NOPERM")
