"""What is wrong with JSON values by the published schema of their shape: every fault, up to as many as anyone reads.

The validator finds all faults before it hands out the first. Values are cut before it sees them: of a list, one item more
than may be in it; of an object, the fields that the schema knows and some of the others. Its work is then bounded by the
schema, whatever the size of the request, and what is cut away could only repeat what is said of the rest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice
from typing import Any, Final

import jsonschema_rs
import msgspec

from service.api.serialization.field_words import fault_words
from service.api.serialization.json_pointer import pointer
from service.api.serialization.quantity_bounds import number_in_unit
from service.api.serialization.request_fields import RequestField, RequestFields
from service.api.serialization.schema import components
from service.api.serialization.suggestions import near, question
from service.errors import Fault
from service.http.problems import MOST_FAULTS

LONGEST_NAME: Final = 60
QUANTITY: Final = {"value", "unit"}
MOST_ERRORS: Final = 4 * MOST_FAULTS  # errors of the validator, of which several may say the same


def shortened(name: str) -> str:
    """A name that a client made up, as far as it is repeated to it."""
    return name if len(name) <= LONGEST_NAME else name[:LONGEST_NAME] + "…"


class SchemaFaults:
    """Explains the values that do not fit one shape."""

    def __init__(self, shape: type[Any], examples: Sequence[Any] = ()) -> None:
        """examples: JSON values of this shape, parts of which are shown as what would be accepted."""
        (reference,), named = components([shape])
        described = {**reference, "components": {"schemas": named}}
        self.fields: Final = RequestFields(described, examples)
        self._lengths = _lengths(described)
        self._document: dict[str, Any] = _null_apart(described)
        self._validator = jsonschema_rs.Draft202012Validator(self._document)

    def of(self, values: Any) -> Iterator[Fault]:
        """The faults of JSON values, each once, at most one more than are listed.

        Raises RecursionError or ValueError for values nested too deeply.
        """
        explained = (fault for error in self.errors(values) for fault in self._explained(error, values))
        each_once = {(fault.pointer, fault.detail): fault for fault in islice(explained, MOST_ERRORS)}
        return islice(each_once.values(), MOST_FAULTS + 1)

    def errors(self, values: Any) -> list[Any]:
        """What the validator says of the values, once they are cut."""
        return list(self._validator.iter_errors(self._cut(values, 0)))

    def _cut(self, value: Any, most: int) -> Any:
        """A value without what could only repeat faults; most: items that it may have, if it is a list."""
        if isinstance(value, list):
            return [self._cut(item, 0) for item in value[: most + 1]]
        if isinstance(value, dict):
            known = [name for name in value if name in self._lengths]
            unknown = islice((name for name in value if name not in self._lengths), MOST_FAULTS + 1)
            return {name: self._cut(value[name], self._lengths.get(name, 0)) for name in (*known, *unknown)}
        return value

    def _explained(self, error: Any, values: Any) -> list[Fault]:
        """One JSON Schema error of values as faults: one for each missing or unknown field, else one for the value."""
        where = pointer(list(error.instance_path))
        *path, keyword = error.schema_path
        schema: Any = self._document
        for step in path:
            schema = schema[step]
        if keyword == "additionalProperties":
            return [self._unknown(field, error, schema) for field in error.kind.unexpected]
        if keyword == "required":
            steps = (*error.instance_path, error.kind.property)
            return [self._missing(pointer(steps), self._field(steps, values))]
        return [self._misfit(where, keyword, error.instance, self._field(error.instance_path, values))]

    def _field(self, steps: Sequence[str | int], values: Any) -> RequestField:
        """The field to which steps lead; the number of a quantity as that quantity and the unit sent with it have it."""
        field, around = self.fields.at(steps), steps[:-1]
        quantity = self.fields.at(around)
        if not steps or steps[-1] != "value" or {*quantity.schema.get("properties", ())} != QUANTITY:
            return field
        for step in around:
            values = values[step]
        sent, units = values.get("unit"), self.fields.at((*around, "unit")).schema["enum"]
        return number_in_unit(field, quantity, sent if sent in units else None)

    def _unknown(self, name: str, error: Any, schema: dict[str, Any]) -> Fault:
        """A field that is not known; error: at the object that has it; schema: of the object."""
        where, known = tuple(error.instance_path), list(schema.get("properties", {}))
        meant, words = near(name, known), ""
        if not meant and len(name) <= LONGEST_NAME:
            missing = [each for each in schema.get("required", ()) if each not in error.instance]
            meant = self.fields.missing_alike(name, where, missing)
        if meant:
            words = question(meant)
        elif len(name) <= LONGEST_NAME and (meant := tuple(map(pointer, self.fields.elsewhere(name, where)))):
            words = f"It belongs at {' or '.join(meant)}."
        detail = f"This field is not known here. {words}".rstrip()
        allowed = "fields: " + ", ".join(known)
        return Fault(pointer((*where, shortened(name))), detail, allowed, did_you_mean=meant)

    def _missing(self, where: str, field: RequestField) -> Fault:
        detail = f"This field is required and missing. {field.description}".rstrip()
        return Fault(where, detail, field.allowed, field.example, of_json="allowed")

    def _misfit(self, where: str, keyword: str, value: Any, field: RequestField) -> Fault:
        meant = near(value, field.schema.get("enum", ()))
        words = fault_words(keyword, value, field), field.description, question(meant)
        return Fault(
            where,
            " ".join(filter(None, words)),
            field.allowed,
            msgspec.json.encode(meant[0]) if meant else field.example,
            meant,
            of_json="all" if keyword in ("type", "anyOf") else "none",
        )


def _null_apart(schema: Any) -> Any:
    """The schema with what may be null said so that a fault inside it is reported where it is, and not of all of it."""
    if isinstance(schema, list):
        return [_null_apart(part) for part in schema]
    if not isinstance(schema, dict):
        return schema
    parts = {name: _null_apart(part) for name, part in schema.items()}
    kinds = [kind for kind in parts.get("anyOf", ()) if kind != {"type": "null"}]
    if len(kinds) == 1:
        del parts["anyOf"]
        words = {key: parts[key] for key in ("description",) if key in parts}
        return parts | {"if": {"type": "null"}, "else": words | kinds[0]}
    return parts


def _lengths(document: dict[str, Any]) -> dict[str, int]:
    """Each name that a schema knows, with the most items that a list of this name may have anywhere, 0 for what is no list."""
    lengths: dict[str, int] = {}
    unread: list[Any] = [document]
    while unread:
        part = unread.pop()
        if isinstance(part, list):
            unread += part
        elif isinstance(part, dict):
            for name, inner in part.get("properties", {}).items():
                most = max(kind.get("maxItems", 0) for kind in (inner, *inner.get("anyOf", ())))
                lengths[name] = max(most, lengths.get(name, 0))
            unread += part.values()
    return lengths
