"""The description of the parameter that chooses fields of an answer."""

from __future__ import annotations

from typing import Any

from service.api.models.operation import Operation
from service.api.serialization.answer_fields import DESCRIPTION, FIELDS, AnswerFields


def fields_parameter(operation: Operation) -> dict[str, Any]:
    """The parameter of an operation's questions."""
    names = AnswerFields(operation.answer).names
    return {
        "name": FIELDS,
        "in": "query",
        "required": False,
        "style": "form",
        "explode": False,
        "description": f"{DESCRIPTION} Separated by commas, such as {names[0]},basis.sources; for answers in JSON alone.",
        "schema": {
            "type": "array",
            "items": {"type": "string", "enum": list(names)},
            "minItems": 1,
            "maxItems": len(names),
        },
    }
