"""The description of what can answer before an operation is reached: keys, quotas and limits (service/http/middleware)."""

from __future__ import annotations

from typing import Any, Final

from service.api.models.service_state import HEALTH_PATHS
from service.api.openapi.problem_responses import problem_response

KEY: Final = "key"
# Without an answer here, a key is optional: whether one is asked for is up to whoever runs the server.
SECURITY: Final[list[dict[str, list[str]]]] = [{}, {KEY: []}]
SCHEMES: Final = {
    KEY: {
        "type": "http",
        "scheme": "bearer",
        "description": "An API key (RFC 6750), where the server asks for one. Whoever runs it gives them out.",
    }
}
PROBLEMS: Final = {
    "401": ("key-required",),
    "403": ("key-expired",),
    "408": ("too-slow",),
    "429": ("quota-exceeded",),
    "503": ("overloaded", "keys-unavailable"),
}
SOON: Final = frozenset({"429", "503"})
HEADERS: Final[dict[str, dict[str, Any]]] = {
    "Access-Control-Allow-Origin": {
        "description": "Given to pages of other origins that the settings let in; without such settings, to none.",
        "required": False,
        "schema": {"type": "string", "maxLength": 300, "pattern": r"^\S+$"},
    },
    "RateLimit-Policy": {
        "description": 'The quotas, where the server has any: name, q units in w seconds; qu says of what, always "work" (x-cost of each operation).',
        "required": False,
        "schema": {"type": "string", "maxLength": 300, "pattern": '^"'},
    },
    "RateLimit": {
        "description": "What is left of each quota, where the server has any: r units of work for t seconds.",
        "required": False,
        "schema": {"type": "string", "maxLength": 300, "pattern": '^"'},
    },
    "Retry-After": {
        "description": "In how many seconds to try again.",
        "required": True,
        "schema": {"type": "integer", "minimum": 0, "maximum": 31_622_400},
    },
}
ON_ALL: Final = ("Access-Control-Allow-Origin", "RateLimit-Policy", "RateLimit")


def with_middleware_responses(path: str, operation: dict[str, Any]) -> dict[str, Any]:
    """An operation with the answers and header fields of what stands before it. Health stands before it itself."""
    if path in HEALTH_PATHS:
        return operation | {"security": [], "responses": _with_headers(operation["responses"], ON_ALL[:1])}
    before = {status: problem_response(*kinds) for status, kinds in PROBLEMS.items()}
    responses = _with_headers(before | operation["responses"], ON_ALL)
    for status in SOON:
        responses[status]["headers"] |= _references("Retry-After")
    return operation | {"responses": responses}


def _with_headers(responses: dict[str, Any], names: tuple[str, ...]) -> dict[str, Any]:
    return {
        status: response | {"headers": response.get("headers", {}) | _references(*names)}
        for status, response in responses.items()
    }


def _references(*names: str) -> dict[str, Any]:
    return {name: {"$ref": f"#/components/headers/{name}"} for name in names}
