"""What is wrong with JSON values by the published schema of their shape: every fault, up to as many as anyone reads.

The validator finds all faults before it hands out the first. Values are cut before it sees them: of a list, one item more
than may be in it; of an object, the fields that the schema knows and some of the others. Its work is then bounded by the
schema, whatever the size of the request, and what is cut away could only repeat what is said of the rest.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from typing import Any, Final

import jsonschema_rs

from service.api.serialization.json_pointer import pointer
from service.api.serialization.schema import components
from service.api.serialization.suggestions import suggestion
from service.errors import Fault
from service.http.problems import MOST_FAULTS

LONGEST_NAME: Final = 60
MOST_ERRORS: Final = 4 * MOST_FAULTS  # errors of the validator, of which several may say the same
DETAILS: Final = {
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


def shortened(name: str) -> str:
    """A name that a client made up, as far as it is repeated to it."""
    return name if len(name) <= LONGEST_NAME else name[:LONGEST_NAME] + "…"


class SchemaFaults:
    """Explains the values that do not fit one shape."""

    def __init__(self, shape: type[Any]) -> None:
        (reference,), named = components([shape])
        described = {**reference, "components": {"schemas": named}}
        self._lengths = _lengths(described)
        self._document: dict[str, Any] = _null_apart(described)
        self._validator = jsonschema_rs.Draft202012Validator(self._document)

    def of(self, values: Any) -> Iterator[Fault]:
        """The faults of JSON values, each once, at most one more than are listed.

        Raises RecursionError or ValueError for values nested too deeply.
        """
        explained = (fault for error in self.errors(values) for fault in self._explained(error))
        return islice(dict.fromkeys(islice(explained, MOST_ERRORS)), MOST_FAULTS + 1)

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

    def _explained(self, error: Any) -> list[Fault]:
        """One JSON Schema error as faults: one for each missing or unknown field, else one for the value."""
        where = pointer(list(error.instance_path))
        *path, keyword = error.schema_path
        schema: Any = self._document
        for step in path:
            schema = schema[step]
        if keyword == "additionalProperties":
            allowed = "fields: " + ", ".join(schema.get("properties", {}))
            return [
                Fault(where + pointer([shortened(field)]), "This field is not known here.", allowed)
                for field in error.kind.unexpected
            ]
        if keyword == "required":
            return [Fault(where + pointer([error.kind.property]), "This field is required and missing.")]
        meant = suggestion(error.instance, schema["enum"]) if keyword == "enum" else ""
        words = DETAILS.get(keyword, "The value does not fit."), schema.get("description"), meant
        detail = " ".join(filter(None, words))
        return [Fault(where, detail, allowed_by(schema))]


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
