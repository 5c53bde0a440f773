"""Lists of header fields as ASGI has them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

Fields: TypeAlias = list[tuple[bytes, bytes]]


def value_of(fields: Iterable[tuple[bytes, bytes]], name: bytes) -> bytes:
    """The value of a field by its name in lower case; several of one name as one list; empty where it is not there."""
    found = [value for key, value in fields if key == name]
    return found[0] if len(found) == 1 else b",".join(found)


def without(fields: Iterable[tuple[bytes, bytes]], *names: bytes) -> Fields:
    """The fields but those of these names."""
    return [(key, value) for key, value in fields if key not in names]


def varying(fields: Fields, *names: bytes) -> Fields:
    """The fields with these request headers added to Vary."""
    known = [part.strip() for part in value_of(fields, b"vary").split(b",") if part.strip()]
    known += [name for name in names if name not in known]
    return [*without(fields, b"vary"), (b"vary", b", ".join(known))]
