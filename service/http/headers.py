"""Lists of header fields as ASGI has them: pairs of name, in lower case, and value."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, TypeAlias

Field: TypeAlias = tuple[bytes, bytes]
Headers: TypeAlias = tuple[Field, ...]

VARY_ACCEPT: Final[Headers] = ((b"vary", b"accept"),)
ANSWER_HEADERS: Final = "answer_headers"
"""Where a layer leaves, in the scope, header fields that the outermost layer sends with the answer."""


def value_of(fields: Iterable[Field], name: bytes) -> bytes:
    """The value of a field by its name; several of one name as one list; empty where it is not there."""
    values = [value for key, value in fields if key == name]
    return values[0] if len(values) == 1 else b",".join(values)


def without(fields: Iterable[Field], *names: bytes) -> list[Field]:
    """The fields but those of these names."""
    return [(key, value) for key, value in fields if key not in names]


def varying(fields: list[Field], *names: bytes) -> list[Field]:
    """The fields with these request headers added to Vary."""
    known = [part.strip() for part in value_of(fields, b"vary").split(b",") if part.strip()]
    known += [name for name in names if name not in known]
    return [*without(fields, b"vary"), (b"vary", b", ".join(known))]
