"""The description of reports for people: their parameter and media types."""

from __future__ import annotations

from typing import Any, Final

from service.api.models.operation import Operation
from service.api.models.report import AUDIENCES
from service.api.serialization.report_parameters import FOR, WRITTEN

MARKDOWN_CONTENT: Final = {"text/markdown": {"schema": {"type": "string", "contentMediaType": "text/markdown"}}}
_CONTENT: Final = {
    "text/html": {"schema": {"type": "string", "contentMediaType": "text/html"}},
    **MARKDOWN_CONTENT,
}


def report_content(operation: Operation) -> dict[str, Any]:
    """The media types of its report; none where it has no report."""
    return _CONTENT if operation.report else {}


def report_forms(operation: Operation) -> list[str]:
    """The forms of its report, as `as` names them."""
    return list(WRITTEN) if operation.report else []


def report_parameters(operation: Operation) -> list[dict[str, Any]]:
    """The parameter of its report; none where it has no report."""
    if not operation.report:
        return []
    return [
        {
            "name": FOR,
            "in": "query",
            "required": False,
            "description": (
                "For whom as=html or as=markdown is written: for a practitioner with numbers and basis, or for the lifter: "
                "what to do, why, what to watch and when to stop. Left out: for a practitioner."
            ),
            "schema": {"type": "string", "enum": list(AUDIENCES)},
        }
    ]
