"""The description of questions asked by their address: GET /v1/{operation} with flat query parameters."""

from __future__ import annotations

from typing import Any, Final

import msgspec

from service.api.models.operation import Operation
from service.api.openapi.fields_parameter import fields_parameter
from service.api.openapi.pictures import picture_content, picture_forms, picture_headers, picture_parameters
from service.api.openapi.problem_responses import problem_response, problem_responses
from service.api.openapi.reports import report_content, report_forms, report_parameters
from service.api.routes import ENCODER
from service.api.serialization.columns import columns_of
from service.api.serialization.csv import csv_text, selected_text
from service.api.serialization.flattening import Leaf
from service.api.serialization.json import Reader
from service.api.serialization.query import ERRORS, FORM, IN_CELLS, MOST_CHARACTERS, SELECT, QueryForm

PROBLEMS: Final = {"400": "unreadable", "406": "not-acceptable", "413": "too-large", "414": "uri-too-long"}
NUMBERS: Final = ("number", "integer", "boolean")
HEADERS: Final = {
    "ETag": {
        "description": "Strong entity tag of these bytes and this release; send it back in If-None-Match.",
        "required": True,
        "schema": {"type": "string", "maxLength": 40, "pattern": '^"[0-9a-f]{24}"$'},
    },
    "Cache-Control": {
        "description": "Who may keep the answer, and how long.",
        "required": True,
        "schema": {"type": "string", "maxLength": 60},
    },
}
KEPT: Final = {name: {"$ref": f"#/components/headers/{name}"} for name in HEADERS}
NOT_MODIFIED: Final = {
    "description": "Not changed since the answer with the entity tag in If-None-Match.",
    "headers": KEPT,
}


def get_operation(operation: Operation, answer: dict[str, Any]) -> dict[str, Any]:
    """The GET form of an operation; `answer`: the schema of its answer."""
    form = QueryForm(operation, Reader(operation.request))
    return {
        "operationId": f"ask{operation.title}",
        "tags": [operation.tag],
        "summary": f"{operation.summary}, by address",
        "description": (
            f"The same question as POST {operation.path}, with the same answer, as a link or in a cell's formula: {operation.description} "
            f"Path and query together have at most {MOST_CHARACTERS} characters. The names follow from the JSON form: "
            "steps joined by underscores; a list of objects takes a list for each field, separated by commas, an entry left empty where the field is left out. "
            f"{operation.cost_sentence}"
        ),
        **operation.costs,
        "parameters": [
            *parameters(operation, form),
            *_form_parameters(operation),
            fields_parameter(operation),
            *picture_parameters(operation),
            *report_parameters(operation),
        ],
        "responses": {
            "200": _answer(operation, answer),
            "304": NOT_MODIFIED,
            **problem_responses(PROBLEMS),
            "422": problem_response(
                "invalid", line="target_reps: The value is too large. Allowed: a whole number 1 to 100"
            ),
            "default": problem_response(
                "internal", line="The computation failed; the fault is ours and has been logged."
            ),
        },
    }


def parameters(operation: Operation, form: QueryForm) -> list[dict[str, Any]]:
    """The parameters of a question, those of the operation's first example with its values."""
    example = form.flat.to_texts(Reader(operation.request).fit(operation.examples[0].request))
    return [_parameter(leaf, example.get(leaf.name)) for leaf in form.flat.leaves.values()]


def _parameter(leaf: Leaf, example: str | None) -> dict[str, Any]:
    sentences = [leaf.description] if leaf.description else []
    if leaf.item is None and leaf.text_form.description:
        sentences.append(f"Written as {leaf.text_form.description}.")
    where = leaf.pointer
    if leaf.item is not None:
        sentences.append("One entry for each object of the list, separated by commas.")
        where = f"{where.replace('*', '0')}, {where.replace('*', '1')}, and so on"
    parameter: dict[str, Any] = {
        "name": leaf.name,
        "in": "query",
        "required": leaf.required,
        "description": " ".join([*sentences, f"In the JSON form: {where}."]),
        "schema": leaf.schema,
    }
    if example is not None:
        parameter["example"] = leaf.text_form.read(example) if leaf.schema["type"] in NUMBERS else example
    return parameter


def _form_parameters(operation: Operation) -> list[dict[str, Any]]:
    forms = ["json", "csv", "text", *picture_forms(operation), *report_forms(operation)]
    return [
        {
            "name": FORM,
            "in": "query",
            "required": False,
            "description": "Form of the answer; outranks the Accept header. text is one bare cell, chosen by select.",
            "schema": {"type": "string", "enum": forms, "default": "json"},
        },
        {
            "name": SELECT,
            "in": "query",
            "required": False,
            "description": "JSON Pointer (RFC 6901) into the answer: the cell of as=text, a prescription as the parameters that ask about it; with as=csv the object or list that becomes the table. Where the training stops, an empty part is refused with what to do.",
            "schema": {"type": "string", "maxLength": 200, "pattern": "^(?:/(?:[^~/]|~[01])*)*$"},
        },
        {
            "name": ERRORS,
            "in": "query",
            "required": False,
            "description": "With `text`, a question that cannot be answered is answered with status 200, and the cell says why in one line, for programs that show nothing "
            "of a problem; of as=csv in a column error. Limits, keys and faults of the service keep their status. With as=csv or as=text.",
            "schema": {"type": "string", "enum": [IN_CELLS]},
        },
    ]


def _answer(operation: Operation, schema: dict[str, Any]) -> dict[str, Any]:
    example = operation.examples[0]
    answer = operation.compute(Reader(operation.request).fit(example.request))
    cell = next(name for name in columns_of(operation.answer).names if "*" not in name)
    value = msgspec.json.decode(ENCODER.encode(answer))
    content: dict[str, Any] = {
        "application/json": {
            "schema": schema,
            "examples": {example.name: {"summary": example.summary, "value": value}},
        },
        "text/csv": {
            "schema": {"type": "string"},
            "examples": {"selected": {"summary": "With select=/basis.", "value": csv_text(answer, "/basis")}},
        },
        "text/plain": {
            "schema": {"type": "string"},
            "examples": {"cell": {"value": selected_text(answer, cell)}},
        },
    }
    return {
        "description": "The answer, with its basis and cautions.",
        "headers": KEPT | picture_headers(operation),
        "content": content | picture_content(operation) | report_content(operation),
    }
