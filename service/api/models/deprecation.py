"""How an operation is taken out of service in time: what its answers say from the day that its end is announced.

The promise: within /v1 nothing is taken away that was released. Where something must go, it is marked deprecated, with
what to use instead, and goes on working until its sunset, half a year later at the earliest.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from email.utils import format_datetime
from typing import Any, Final

import msgspec

NOTICE: Final = timedelta(days=182)
# OpenAPI header objects, for the answers of an operation that retires.
DESCRIBED: Final[dict[str, dict[str, Any]]] = {
    "Deprecation": {
        "description": "Since when the operation is deprecated, in seconds since 1970 (RFC 9745).",
        "required": True,
        "schema": {"type": "string", "maxLength": 20, "pattern": "^@[0-9]+$"},
    },
    "Sunset": {
        "description": "When the operation goes (RFC 8594).",
        "required": True,
        "schema": {"type": "string", "maxLength": 29, "pattern": " GMT$"},
    },
}


class Retirement(msgspec.Struct, frozen=True):
    """When an operation was declared deprecated, when it goes, and the address of what to use instead."""

    deprecated: datetime
    sunset: datetime
    instead: str

    def __post_init__(self) -> None:
        """Raises ValueError for times without a zone, and for too short a notice."""
        if self.deprecated.tzinfo is None or self.sunset.tzinfo is None:
            raise ValueError("The times of a retirement need their zone.")
        if self.sunset - self.deprecated < NOTICE:
            raise ValueError(f"Clients get {NOTICE.days} days' notice at least.")

    @property
    def fields(self) -> tuple[tuple[bytes, bytes], ...]:
        """The header fields that go with every answer (RFC 9745, RFC 8594, RFC 8288)."""
        return (
            (b"deprecation", b"@%d" % int(self.deprecated.timestamp())),
            (b"sunset", format_datetime(self.sunset.astimezone(UTC), usegmt=True).encode()),
            (b"link", f'<{self.instead}>; rel="deprecation"'.encode()),
        )


def retiring(path: dict[str, Any]) -> dict[str, Any]:
    """The methods of a path, described as those of an operation that retires."""
    return {method: _marked(described) for method, described in path.items()}


def _marked(described: dict[str, Any]) -> dict[str, Any]:
    answer = described["responses"]["200"]
    marked = answer | {"headers": answer.get("headers", {}) | DESCRIBED}
    return described | {"deprecated": True, "responses": described["responses"] | {"200": marked}}
