"""The description of questions in a body: POST /v1/{operation} with JSON."""

from __future__ import annotations

from typing import Any, Final

import msgspec

from service.api.models.operation import Operation
from service.api.openapi.fields_parameter import fields_parameter
from service.api.openapi.pictures import picture_content, picture_forms, picture_headers, picture_parameters
from service.api.openapi.problem_responses import problem_responses
from service.api.openapi.reports import report_content, report_forms, report_parameters
from service.api.serialization.json import Reader

JSON: Final = "application/json"
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
                    "enum": ["json", *picture_forms(operation), *report_forms(operation)],
                    "default": "json",
                },
            },
            fields_parameter(operation),
            *picture_parameters(operation),
            *report_parameters(operation),
        ],
        "requestBody": {
            "required": True,
            "content": {JSON: {"schema": by_shape[operation.request], "examples": requests}},
        },
        "responses": {
            "200": {
                "description": "The answer, with its basis and cautions.",
                **({"headers": headers} if (headers := picture_headers(operation)) else {}),
                "content": {JSON: {"schema": by_shape[operation.answer], "examples": answers}}
                | picture_content(operation)
                | report_content(operation),
            },
            **problem_responses(PROBLEMS),
        },
    }
