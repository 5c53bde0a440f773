"""The whole deployment: a store, two replicas that share it, a proxy before them."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

import msgspec

from tests.deployment.replicas.processes import Proxy, Store
from tests.support.live import Live

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


class Deployment(msgspec.Struct, frozen=True):
    """What runs; requests go to the proxy's port."""

    store: Store
    replicas: tuple[Live, Live]
    proxy: Proxy


@contextmanager
def deployed(folder: Path, kind: type[Live] = Live, **environment: str) -> Iterator[Deployment]:
    """A deployment whose replicas share the store and have these settings beside; logs lie in the folder."""
    store = Store(folder)
    shared = {
        "REDIS_URL": store.address,
        "QUOTA_SECRET": "the same for both",
        "TRUSTED_PROXIES": "127.0.0.1",
        "DRAIN_SECONDS": "5",
    }
    settings = shared | environment
    replicas = (kind(folder, "replica-1", settings), kind(folder, "replica-2", settings))
    proxy = Proxy(folder, *(replica.port for replica in replicas))
    everything = (store, *replicas, proxy)
    try:
        for process in everything:
            process.start()
        yield Deployment(store, replicas, proxy)
    finally:
        for process in everything:
            process.kill()
