"""The description of pictures: their parameters, media types and header field."""

from __future__ import annotations

from typing import Any, Final

from service.api.models.operation import Operation
from service.api.serialization.picture_parameters import LARGEST_SCALE, MOST_PAGES, PAGE, SCALE
from service.api.serialization.query import DRAWN

PICTURE_HEADERS: Final = {
    "Pages": {
        "description": "How many pages the picture has, where the answer is one; each is asked for with page.",
        "required": False,
        "schema": {"type": "integer", "minimum": 1, "maximum": MOST_PAGES},
    }
}
_REFERRED: Final = {name: {"$ref": f"#/components/headers/{name}"} for name in PICTURE_HEADERS}
_CONTENT: Final = {
    "image/svg+xml": {"schema": {"type": "string", "contentMediaType": "image/svg+xml"}},
    "image/png": {"schema": {"type": "string", "format": "binary"}},
}


def picture_content(operation: Operation) -> dict[str, Any]:
    """The media types of its picture; none where it has no picture."""
    return _CONTENT if operation.picture else {}


def picture_headers(operation: Operation) -> dict[str, Any]:
    """The header field of its picture; none where it has no picture."""
    return _REFERRED if operation.picture else {}


def picture_forms(operation: Operation) -> list[str]:
    """The forms of its picture, as `as` names them."""
    return list(DRAWN) if operation.picture else []


def picture_parameters(operation: Operation) -> list[dict[str, Any]]:
    """The parameters of its picture; none where it has no picture."""
    described = (
        (
            PAGE,
            MOST_PAGES,
            "Which page of the picture, from 1 on; the header field Pages says how many there are. Left out: the first.",
        ),
        (
            SCALE,
            LARGEST_SCALE,
            "Pixels of as=png for each pixel of as=svg, across and down: 2 for fine screens. Left out: 1.",
        ),
    )
    return [
        {
            "name": name,
            "in": "query",
            "required": False,
            "description": description,
            "schema": {"type": "integer", "minimum": 1, "maximum": most},
        }
        for name, most, description in (described if operation.picture else ())
    ]
