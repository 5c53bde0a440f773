"""The description of questions in a body: POST /v1/{operation} with JSON."""

from __future__ import annotations

from typing import Any, Final

import msgspec

from service.api.models.operation import Operation
from service.api.openapi.fields_parameter import fields_parameter
from service.api.openapi.problem_responses import problem_responses
from service.api.serialization.json import Reader

JSON: Final = "application/json"
PICTURE: Final = {"image/svg+xml": {"schema": {"type": "string", "contentMediaType": "image/svg+xml"}}}
PROBLEMS: Final = {
    "400": "unreadable",
    "405": "method-not-allowed",
    "406": "not-acceptable",
    "413": "too-large",
    "415": "unsupported-media-type",
    "422": "invalid",
    "default": "internal",
}


def post_operation(operation: Operation, by_shape: dict[Any, Any]) -> dict[str, Any]:
    """The POST form of an operation; by_shape: the schema of each struct."""
    reader: Reader[Any] = Reader(operation.request)
    requests, answers = {}, {}
    for example in operation.examples:
        answer = operation.compute(reader.read(msgspec.json.encode(example.request)))
        requests[example.name] = {"summary": example.summary, "value": example.request}
        answers[example.name] = {"summary": example.summary, "value": msgspec.json.decode(msgspec.json.encode(answer))}
    return {
        "operationId": operation.operation_id,
        "tags": [operation.tag],
        "summary": operation.summary,
        "description": f"{operation.description} {operation.cost_sentence}",
        **operation.costs,
        "parameters": [
            {
                "name": "as",
                "in": "query",
                "required": False,
                "description": "Form of the answer; outranks the Accept header.",
                "schema": {
                    "type": "string",
                    "enum": ["json", "svg"] if operation.picture else ["json"],
                    "default": "json",
                },
            },
            fields_parameter(operation),
        ],
        "requestBody": {
            "required": True,
            "content": {JSON: {"schema": by_shape[operation.request], "examples": requests}},
        },
        "responses": {
            "200": {
                "description": "The answer, with its basis and cautions.",
                "content": {JSON: {"schema": by_shape[operation.answer], "examples": answers}}
                | (PICTURE if operation.picture else {}),
            },
            **problem_responses(PROBLEMS),
        },
    }
