"""JSON Schemas of the request and answer shapes, as published in the OpenAPI description and used to explain faults.

msgspec derives them from the structs; here they only get what JSON tells apart and a float bound does not: a number that
must be a multiple of one is an integer.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import msgspec

REFERENCE = "#/components/schemas/{name}"


def components(types: Iterable[Any]) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """The schema of each type (a reference) and all named schemas behind them."""
    references, named = msgspec.json.schema_components(list(types), ref_template=REFERENCE)
    return list(references), {name: _tidy(schema) for name, schema in sorted(named.items())}


def _tidy(schema: Any) -> Any:
    if isinstance(schema, list):
        return [_tidy(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    tidy = {key: _tidy(value) for key, value in schema.items()}
    if tidy.get("multipleOf") == 1:
        del tidy["multipleOf"]
        tidy["type"] = "integer"
    return tidy
