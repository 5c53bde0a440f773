"""The description of the language of answers: how it is chosen, and the header field that says it."""

from __future__ import annotations

from typing import Any, Final

from service.api.serialization.language_parameter import LANGUAGE, TAGS
from service.api.spoken import has_sentences

_OK: Final = "200"
HEADERS: Final[dict[str, dict[str, Any]]] = {
    "Content-Language": {
        "description": "The language of the answer's sentences; what has none in it stands in English, as do pictures.",
        "required": True,
        "schema": {"type": "string", "maxLength": 8, "pattern": "^[a-z]{2,3}$"},
    },
}
PARAMETERS: Final[list[dict[str, Any]]] = [
    {
        "name": LANGUAGE,
        "in": "query",
        "required": False,
        "description": (
            "The language of the answer's sentences, for links and cells; outranks the Accept-Language header. "
            "Problems and pictures are in English. Left out: as the header says."
        ),
        "schema": {"type": "string", "enum": list(TAGS)},
    },
    {
        "name": "Accept-Language",
        "in": "header",
        "required": False,
        "description": (
            "The languages that are preferred (RFC 9110), such as es-MX, es;q=0.9, en;q=0.5: the best of those that "
            "GET /v1/messages lists is taken, English where it lists none of them. Left out: English."
        ),
        "schema": {"type": "string"},
    },
]


def with_languages(path: str, operation: dict[str, Any]) -> dict[str, Any]:
    """An operation with what chooses the language of its answer, where it has sentences."""
    if not has_sentences(path):
        return operation
    answer = operation["responses"][_OK]
    headers = answer.get("headers", {}) | {name: {"$ref": f"#/components/headers/{name}"} for name in HEADERS}
    return operation | {
        "parameters": [*operation.get("parameters", []), *PARAMETERS],
        "responses": operation["responses"] | {_OK: answer | {"headers": headers}},
    }
