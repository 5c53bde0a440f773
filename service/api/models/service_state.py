"""What the service says about itself: its state, its release, and where things are."""

from __future__ import annotations

from typing import Final, Literal

import msgspec

from service.http.middleware.rate_limit_store import Mode

HEALTH_PATHS: Final = frozenset({"/livez", "/readyz", "/version"})
"""Asked by whoever watches over the process: never shed, refused or counted."""


class Alive(msgspec.Struct, frozen=True):
    """That the process answers.

    Attributes:
        status: Always `alive`.
    """

    status: Literal["alive"]


class Ready(msgspec.Struct, frozen=True):
    """Whether the service is ready, its version, and where quotas are counted.

    Attributes:
        status: Always `ready`; a service that is not answers 503.
        version: Release of the service, such as 0.9.0.
        quotas: Where quotas are counted.
    """

    status: Literal["ready"]
    version: str
    quotas: Mode


class Version(msgspec.Struct, frozen=True):
    """The release, and the description that it serves.

    Attributes:
        version: Release of the service, such as 0.9.0.
        description_sha256: SHA-256 of the bytes of /openapi.json, in hexadecimal digits.
    """

    version: str
    description_sha256: str


class Index(msgspec.Struct, frozen=True):
    """Where things are.

    Attributes:
        documentation: Path of the page for people.
        description: Path of this description.
        operations: Paths of the computations.
        catalogue: Paths of what stands behind the numbers.
    """

    documentation: str
    description: str
    operations: list[str]
    catalogue: list[str]
