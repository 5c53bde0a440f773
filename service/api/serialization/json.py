"""From bytes to a validated struct, strictly; and when that fails, every fault of the request at once.

The fast path is one pass of the struct's own decoder. Only when it refuses is the body read again and held against the
published JSON Schema, so that the client gets all faults, each with a JSON Pointer and what would be allowed.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import Any, Final, Generic, TypeVar

import msgspec

from service.api.serialization.field_faults import SchemaFaults, shortened
from service.api.serialization.json_pointer import pointer
from service.api.serialization.unreadable import NOT_READABLE, Unreadable, unreadable
from service.errors import Fault, Refusal

Shape = TypeVar("Shape")
LONGEST_MESSAGE: Final = 200  # of the decoder, which repeats names and texts of the request


def without_repeats(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object from its names and values. Raises Unreadable for a name that is there twice."""
    values: dict[str, Any] = {}
    for name, value in pairs:
        if name in values:
            raise Unreadable(f'The name "{name[:40]}" is given more than once in one object.')
        values[name] = value
    return values


_READER = json.JSONDecoder(object_pairs_hook=without_repeats)


class Reader(Generic[Shape]):
    """Reads bodies of one request shape."""

    def __init__(self, shape: type[Shape], examples: Sequence[Any] = ()) -> None:
        """examples: JSON values of this shape, shown as what would be accepted."""
        self.shape = shape
        self.examples: Final = examples
        self._decoder = msgspec.json.Decoder(shape)

    @cached_property
    def _schema(self) -> SchemaFaults:
        """What explains faults, made when the first is to be explained."""
        return SchemaFaults(self.shape, self.examples)

    def example_at(self, steps: Iterable[str | int] = ()) -> bytes | None:
        """JSON of a value that the request takes where these steps lead, by default of a whole request; None where none is short."""
        return self._schema.fields.at(steps).example

    def read(self, body: bytes, *, brief: bool = False) -> Shape:
        """The request in the body; brief: only the first fault is looked for.

        Raises Unreadable for bytes that are not JSON, Refusal for JSON that does not fit.
        """
        try:
            request = self._decoder.decode(body)
            check_repeats(body)
        except msgspec.ValidationError as error:
            raise Refusal(
                (fault_from_message(str(error)),) if brief else self._faults(_values(body), str(error))
            ) from None
        except msgspec.DecodeError as error:
            raise unreadable(body, str(error)) from None
        except (RecursionError, ValueError):
            raise Unreadable(NOT_READABLE) from None
        return request

    def fit(self, values: Any, *, brief: bool = False) -> Shape:
        """The request that JSON values make, as strictly as from bytes. Raises Refusal if they do not fit."""
        try:
            return msgspec.convert(values, self.shape)
        except msgspec.ValidationError as error:
            raise Refusal((fault_from_message(str(error)),) if brief else self._faults(values, str(error))) from None

    def _faults(self, values: Any, first: str) -> tuple[Fault, ...]:
        try:
            return tuple(self._schema.of(values)) or (fault_from_message(first),)
        except (RecursionError, ValueError):
            raise Unreadable(NOT_READABLE) from None


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
    except json.JSONDecodeError as error:
        raise unreadable(body, f"{error.msg} (character {error.pos})") from None
    except (RecursionError, ValueError):
        raise Unreadable(NOT_READABLE) from None


def fault_from_message(message: str) -> Fault:
    """A fault from the decoder's own words, where the schema sees none: "text - at `$.set.reps`"."""
    text, _, path = message.partition(" - at `$")
    steps = path.rstrip("`").replace("[", ".").replace("]", "").split(".")[1:]
    return Fault(pointer([shortened(step) for step in steps if step]), f"{text[:LONGEST_MESSAGE]}.")
