"""What is wrong with a JSON value in a sentence that its sender can act on; the value itself is never repeated."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Final

from service.api.serialization.request_fields import RequestField

DETAILS: Final = {
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
KINDS: Final[dict[type[Any], str]] = {
    bool: "true or false",
    int: "a number",
    float: "a number",
    str: "a text",
    list: "a list",
    dict: "an object",
}
NUMBER: Final = re.compile(r"\s*[+-]?\d+(?:[.,]\d+)?\s*")
RANGE: Final = re.compile(r"\s*\d+\s*(?:-|–|to)\s*\d+\s*")
QUANTITY: Final = re.compile(r"\s*[+-]?\d+(?:[.,]\d+)?\s*[^\W\d_]+\.?\s*")
LONGEST_READ: Final = 60  # characters of a text that is looked at
NUMBERS: Final = ("integer", "number")
ALONE: Final = "In JSON a number stands without quotation marks."
WITHOUT_UNIT: Final = "A number alone belongs here, without a unit."
FORM_OF_RANGE: Final = "In JSON a range is an object with low and high."
FORM_OF_QUANTITY: Final = "In JSON a quantity is an object with value and unit."


def fault_words(keyword: str, value: object, field: RequestField) -> str:
    """What is wrong with a value, by the JSON Schema keyword that it does not keep."""
    if value is None:
        return _of_null(field)
    if keyword not in ("type", "anyOf"):
        return DETAILS.get(keyword, "The value does not fit.")
    hint = _hint(value, field.schema)
    if keyword == "type" and type(value) in (int, float) and field.schema.get("type") == "integer":
        return "The number is not a whole one."
    return f"This is {KINDS[type(value)]}, which is not taken here. {hint}".rstrip()


def _of_null(field: RequestField) -> str:
    return "This may not be null." if field.required else "This may not be null: leave the field out instead."


def _hint(value: object, schema: dict[str, Any]) -> str:
    """What to write instead, where that is plain from the kind of value and of field."""
    return next((words for holds, words in _hints(value, schema) if holds), "")


def _hints(value: object, schema: dict[str, Any]) -> Iterator[tuple[bool, str]]:
    """Whether each hint is about this value in this field, the most telling first."""
    kind, names = schema.get("type"), set(schema.get("properties", ()))
    text = value[:LONGEST_READ] if isinstance(value, str) else ""
    number = isinstance(value, int | float) and not isinstance(value, bool)
    takes_range, takes_number = names == {"low", "high"}, kind in NUMBERS or "anyOf" in schema
    a_range = RANGE.fullmatch(text) is not None
    yield names == {"value", "unit"} and number, f"A number alone has no unit. {FORM_OF_QUANTITY}"
    yield names == {"value", "unit"}, FORM_OF_QUANTITY
    yield takes_range and number, f"{FORM_OF_RANGE} For one number both are the same."
    yield takes_range or ("anyOf" in schema and a_range), FORM_OF_RANGE
    yield takes_number and NUMBER.fullmatch(text) is not None, ALONE
    yield takes_number and a_range, "One number belongs here, not a range."
    yield takes_number and QUANTITY.fullmatch(text) is not None, WITHOUT_UNIT
    yield takes_number and isinstance(value, dict) and set(value) == {"value", "unit"}, WITHOUT_UNIT
    yield kind == "boolean", "Write true or false, without quotation marks."
    yield text.lstrip()[:1] in {"{", "["}, "It looks like JSON inside of a text: it was encoded twice."
    yield kind == "array", "A list stands in square brackets, even of one item."
    yield kind == "object" and isinstance(value, list), "One object belongs here, not a list."
