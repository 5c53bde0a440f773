"""What the service says about itself: its state, its release, and where things are."""

from __future__ import annotations

from typing import Final, Literal

import msgspec

from service.http.middleware.rate_limit_store import Mode

HEALTH_PATHS: Final = frozenset({"/livez", "/readyz", "/version"})
"""Asked by whoever watches over the process: never shed, refused or counted."""


class Alive(msgspec.Struct, frozen=True):
    """That the process answers."""

    status: Literal["alive"]


class Ready(msgspec.Struct, frozen=True):
    """Whether the service is ready, its version, and where quotas are counted: by this replica, shared with the others, or by this replica because the store is down."""

    status: Literal["ready"]
    version: str
    quotas: Mode


class Version(msgspec.Struct, frozen=True):
    """The release, and the SHA-256 of the description that it serves."""

    version: str
    description_sha256: str


class Index(msgspec.Struct, frozen=True):
    """Where things are."""

    documentation: str
    description: str
    operations: list[str]
    catalogue: list[str]
