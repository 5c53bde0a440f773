"""From bytes to a validated struct, strictly; and when that fails, every fault of the request at once.

The fast path is one pass of the struct's own decoder. Only when it refuses is the body read again and held against the
published JSON Schema, so that the client gets all faults, each with a JSON Pointer and what would be allowed.
"""

from __future__ import annotations

import json
from functools import cached_property
from typing import Any, Final, Generic, TypeVar

import jsonschema_rs
import msgspec

from service.api import schemas
from service.refusals import Fault, Refusal

Shape = TypeVar("Shape")
MOST_FAULTS: Final = 50
NOT_READABLE: Final = (
    "The body is not readable JSON: nested too deeply, not UTF-8, or with a number of too many digits."
)


class Unreadable(Exception):
    """The body is not JSON that can be read: not text in UTF-8, malformed, too deep, or with a name repeated."""


def pointer(path: list[str | int]) -> str:
    """A JSON Pointer (RFC 6901) from the steps of a path."""
    return "".join("/" + str(step).replace("~", "~0").replace("/", "~1") for step in path)


def _no_repeats(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise Unreadable(f'The name "{twice[:40]}" is given more than once in one object.')
    return found


_READER = json.JSONDecoder(object_pairs_hook=_no_repeats)


class Reader(Generic[Shape]):
    """Reads bodies of one request shape."""

    def __init__(self, shape: type[Shape]) -> None:
        self.shape = shape
        self._decoder = msgspec.json.Decoder(shape)

    @cached_property
    def _schema(self) -> _Schema:
        """The shape's JSON Schema, made when the first fault is to be explained."""
        (reference,), named = schemas.components([self.shape])
        document = {**reference, "components": {"schemas": named}}
        return _Schema(document, jsonschema_rs.Draft202012Validator(document))

    def read(self, body: bytes) -> Shape:
        """The request in the body. Raises Unreadable for bytes that are no JSON, Refusal for JSON that does not fit."""
        try:
            request = self._decoder.decode(body)
            check_repeats(body)
        except msgspec.ValidationError as error:
            raise Refusal(tuple(self._faults(_values(body), str(error)))) from None
        except msgspec.DecodeError as error:
            raise Unreadable(f"The body is not readable JSON: {error}.") from None
        except (RecursionError, ValueError):
            raise Unreadable(NOT_READABLE) from None
        return request

    def fit(self, values: Any) -> Shape:
        """The request that JSON values make, as strictly as from bytes. Raises Refusal if they do not fit."""
        try:
            return msgspec.convert(values, self.shape)
        except msgspec.ValidationError as error:
            raise Refusal(tuple(self._faults(values, str(error)))) from None

    def _faults(self, values: Any, first: str) -> list[Fault]:
        schema = self._schema
        try:
            errors = list(schema.validator.iter_errors(values))
        except (RecursionError, ValueError):
            raise Unreadable(NOT_READABLE) from None
        found = [fault for error in errors for fault in _explained(error, schema.document)]
        unique = list(dict.fromkeys(found))[:MOST_FAULTS]
        return unique or [fault_told(first)]


def check_repeats(text: bytes) -> None:
    """Refuse readable JSON in which an object has a name twice, of which decoders silently keep the last.

    Reading and writing it again loses a repeated name and its colon. An escaped colon could stand in for the lost one:
    text with escapes is read slowly, pair by pair.
    """
    if b"\\" in text or text.count(b":") != msgspec.json.encode(msgspec.json.decode(text)).count(b":"):
        _READER.decode(text.decode())


def _values(body: bytes) -> Any:
    try:
        return _READER.decode(body.decode())
    except (RecursionError, ValueError):
        raise Unreadable(NOT_READABLE) from None


class _Schema(msgspec.Struct, frozen=True):
    """A request's JSON Schema: the document, for looking up what an error stood in, and its validator."""

    document: dict[str, Any]
    validator: Any


PLAIN: Final = {
    "type": "The value is of the wrong type.",
    "enum": "The value is not one of those known here.",
    "maximum": "The value is too large.",
    "minimum": "The value is too small.",
    "minItems": "There are too few items.",
    "maxItems": "There are too many items.",
    "minLength": "The text is too short.",
    "maxLength": "The text is too long.",
    "pattern": "The text does not have the form asked for.",
    "multipleOf": "The value is not a multiple of what is asked for.",
}


def _explained(error: Any, document: dict[str, Any]) -> list[Fault]:
    """One JSON Schema error as faults: one for each missing or unknown field, else one for the value."""
    where = pointer(list(error.instance_path))
    *path, keyword = error.schema_path
    schema: Any = document
    for step in path:
        schema = schema[step]
    if keyword == "additionalProperties":
        allowed = "fields: " + ", ".join(schema.get("properties", {}))
        return [
            Fault(where + pointer([field]), "This field is not known here.", allowed) for field in error.kind.unexpected
        ]
    if keyword == "required":
        return [Fault(where + pointer([error.kind.property]), "This field is required and missing.")]
    detail = " ".join(filter(None, (PLAIN.get(keyword, "The value does not fit."), schema.get("description"))))
    return [Fault(where, detail, allowed_by(schema))]


def allowed_by(schema: dict[str, Any]) -> str | None:
    """What the schema of the value would accept, in words."""
    if "enum" in schema:
        return "one of: " + ", ".join(str(value) for value in schema["enum"])
    parts = []
    kind = schema.get("type")
    low, high = schema.get("minimum"), schema.get("maximum")
    if low is not None and high is not None:
        parts.append(f"{'a whole number ' if kind == 'integer' else ''}{low:g} to {high:g}")
    elif kind:
        parts.append(str(kind))
    if "minItems" in schema or "maxItems" in schema:
        parts.append(f"{schema.get('minItems', 0)} to {schema.get('maxItems', 'any number of')} items")
    if "pattern" in schema:
        parts.append(f"text that matches {schema['pattern']}")
    return ", ".join(parts) or None


def fault_told(message: str) -> Fault:
    """A fault from the decoder's own words, where the schema sees none: "text - at `$.set.reps`"."""
    text, _, path = message.partition(" - at `$")
    steps = path.rstrip("`").replace("[", ".").replace("]", "").split(".")[1:]
    return Fault(pointer([step for step in steps if step]), f"{text}.")
