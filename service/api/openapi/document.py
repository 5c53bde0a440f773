"""The OpenAPI 3.1 description, built from the operations, the catalogue and the kinds of problem."""

from __future__ import annotations

from functools import cache
from typing import Any, Final, Literal

import msgspec

from service import __version__
from service.api.bulk.batch import PATH as BATCH_PATH
from service.api.bulk.batch import Batch, BatchAnswer
from service.api.bulk.tables import table_path
from service.api.catalogue.models import RESOURCES, Resource, name_of
from service.api.models.deprecation import retiring
from service.api.models.operation import Operation
from service.api.openapi import bulk_operations as bulk_contract
from service.api.openapi import get_operations as question_contract
from service.api.openapi.components import finished
from service.api.operations.registry import OPERATIONS
from service.api.serialization import schema as schemas
from service.api.serialization.json import Reader
from service.http.problems import KINDS, Problem, media_types

COMPUTATION_PROBLEMS: Final = {
    "400": "unreadable",
    "405": "method-not-allowed",
    "406": "not-acceptable",
    "413": "too-large",
    "415": "unsupported-media-type",
    "422": "invalid",
}
JSON: Final = "application/json"
TITLE: Final = "Program adjustment"
INTRODUCTION: Final = """Finds the smallest change to a lifting program that takes demand off a sore region and keeps the training effect, in numbers for the
lifter in front of you: computed, sourced, with their uncertainty.

Quantities are `{"value": 100, "unit": "kg"}` with closed lists of units (kg, lb; m, cm, in, ft; deg, rad; s, min); an answer comes in the unit asked about.
Every estimate has a span and says what the span means. Every answer carries its basis (method, sources, assumptions, evidence) and its cautions.
Decoding is strict: unknown fields, text for numbers and values outside their bounds are refused, all faults of a request at once, as problem details (RFC 9457).
Outside a method's published range the answer is a refusal that names the range. The service keeps nothing and logs no content of requests.

What a request costs is told with each operation in units of work (x-cost), each a tenth of a millisecond of processor time, about one short question; everything else costs 1.
Quotas, where the server has any, count these units; a request for which too little is left is refused before anything is computed, and costs 1.

It diagnoses nothing and clears nobody to train. Licensed practice and local rules come first. Red flags end in a referral."""
TAGS: Final = {
    "The main job": "Adjusted prescriptions for a sore region.",
    "Load and repetitions": "What a lifter can lift, from sets that they did.",
    "Volume": "The same work in other sets, loads and days.",
    "Mechanics": "Loads on legs and spine.",
    "Tempo": "Seconds under tension.",
    "Loading the bar": "Plates on each side of a bar.",
    bulk_contract.TAG: "Tables and batches, each question answered alone.",
    "Catalogue": "What stands behind the numbers.",
    "Service": "The service itself and its state.",
}


class Alive(msgspec.Struct, frozen=True):
    """That the process answers."""

    status: Literal["alive"]


class Ready(msgspec.Struct, frozen=True):
    """Whether the service is ready, its version, and where quotas are counted: by this replica, shared with the others, or by this replica because the store is down."""

    status: Literal["ready"]
    version: str
    quotas: Literal["own", "shared", "store_down"]


class Version(msgspec.Struct, frozen=True):
    """The release, and the SHA-256 of the description that it serves."""

    version: str
    description_sha256: str


class Index(msgspec.Struct, frozen=True):
    """Where things are."""

    documentation: str
    description: str
    operations: list[str]
    catalogue: list[str]


@cache
def document() -> dict[str, Any]:
    """The description as JSON-able values."""
    answers: list[Any] = [
        Problem,
        Alive,
        Ready,
        Version,
        Index,
        BatchAnswer,
        *(operation.answer for operation in OPERATIONS),
    ]
    for resource in RESOURCES:
        answers += [resource.entry, resource.list_shape]
    by_shape, named = schemas.described([Batch, *(operation.request for operation in OPERATIONS)], answers)
    paths: dict[str, Any] = {operation.path: _computation(operation, by_shape) for operation in OPERATIONS}
    paths |= {table_path(operation): {"post": bulk_contract.table(operation)} for operation in OPERATIONS}
    paths[BATCH_PATH] = {"post": bulk_contract.batch(by_shape)}
    for resource in RESOURCES:
        paths[f"/v1/{resource.name}"] = {"get": _list(resource, by_shape)}
        paths[f"/v1/{resource.name}/{{id}}"] = {"get": _entry(resource, by_shape)}
    paths["/livez"] = {
        "get": _plain("getLiveness", "Liveness", "Answers 200 while the process runs.", by_shape[Alive], Alive("alive"))
    }
    paths["/version"] = {
        "get": _plain(
            "getVersion",
            "Version",
            "Which release answers, and by which description.",
            by_shape[Version],
            Version(__version__, "0" * 64),
        )
    }
    paths["/readyz"] = {
        "get": _plain(
            "getReadiness",
            "Readiness",
            "Answers 200 once the data are read and checked and a published example is recomputed, 503 once the service was told to stop.",
            by_shape[Ready],
            Ready("ready", __version__, "own"),
            {"503": _problem("stopping")},
        )
    }
    return finished(
        {
            "openapi": "3.1.0",
            "info": {
                "title": TITLE,
                "version": __version__,
                "summary": "Adjust a lifting program around pain, in numbers.",
                "description": INTRODUCTION,
                "contact": {"name": "Whoever runs this server"},
                "license": {"name": "All rights reserved", "identifier": "LicenseRef-All-Rights-Reserved"},
            },
            "servers": [
                {
                    "url": "/",
                    "description": "The server that gave this description, in production or local.",
                    "x-internal": False,
                }
            ],
            "security": [],
            "tags": [{"name": name, "description": text} for name, text in TAGS.items()],
            "paths": paths,
            "components": {"schemas": named, "headers": question_contract.HEADERS},
        }
    )


@cache
def rendered() -> bytes:
    """The description as the bytes that are checked in and served."""
    return msgspec.json.format(msgspec.json.encode(document()), indent=2) + b"\n"


def _answer(schema: dict[str, Any], examples: dict[str, Any], text: str) -> dict[str, Any]:
    content: dict[str, Any] = {"schema": schema}
    if examples:
        content["examples"] = examples
    return {"description": text, "content": {JSON: content}}


def _with_picture(answer: dict[str, Any], operation: Operation) -> dict[str, Any]:
    if operation.picture is not None:
        answer["content"]["image/svg+xml"] = {"schema": {"type": "string", "contentMediaType": "image/svg+xml"}}
    return answer


def _form_parameters(operation: Operation) -> list[dict[str, Any]]:
    """The query parameter `as`, which outranks Accept where an operation has more than one form."""
    forms = ["json", "svg"] if operation.picture is not None else ["json"]
    return [
        {
            "name": "as",
            "in": "query",
            "required": False,
            "description": "Form of the answer; outranks the Accept header.",
            "schema": {"type": "string", "enum": forms, "default": "json"},
        }
    ]


def _problem(kind: str) -> dict[str, Any]:
    return {"description": KINDS[kind].meaning, "content": media_types(kind)}


def _computation(operation: Operation, by_shape: dict[Any, Any]) -> dict[str, Any]:
    reader: Reader[Any] = Reader(operation.request)
    asked, answered = {}, {}
    for example in operation.examples:
        answer = operation.compute(reader.read(msgspec.json.encode(example.request)))
        asked[example.name] = {"summary": example.summary, "value": example.request}
        answered[example.name] = {"summary": example.summary, "value": msgspec.json.decode(msgspec.json.encode(answer))}
    found = {
        "get": question_contract.asked(operation, by_shape[operation.answer]),
        "post": {
            "operationId": operation.operation_id,
            "tags": [operation.tag],
            "summary": operation.summary,
            "description": f"{operation.description} {operation.cost_told}",
            **operation.costs,
            "parameters": _form_parameters(operation),
            "requestBody": {
                "required": True,
                "content": {JSON: {"schema": by_shape[operation.request], "examples": asked}},
            },
            "responses": {
                "200": _with_picture(
                    _answer(by_shape[operation.answer], answered, "The answer, with its basis and cautions."), operation
                ),
                **{status: _problem(kind) for status, kind in COMPUTATION_PROBLEMS.items()},
                "default": _problem("internal"),
            },
        },
    }
    return found if operation.retirement is None else retiring(found)


def _catalogue(operation_id: str, summary: str, text: str, schema: dict[str, Any], example: Any) -> dict[str, Any]:
    return {
        "operationId": operation_id,
        "tags": ["Catalogue"],
        "summary": summary,
        "description": text,
        "responses": {
            "200": _answer(schema, {"catalogue": {"value": example}}, "The catalogue's entry or entries.")
            | {"headers": question_contract.KEPT},
            "304": question_contract.NOT_MODIFIED,
            **{
                status: _problem(kind)
                for status, kind in (("400", "unknown-parameter"), ("404", "not-found"), ("406", "not-acceptable"))
            },
            "default": _problem("internal"),
        },
    }


def _list(resource: Resource, by_shape: dict[Any, Any]) -> dict[str, Any]:
    first = next(iter(resource.entries.values()))
    example = {name_of(resource.entry): [msgspec.to_builtins(first)]}
    return _catalogue(
        f"list{resource.singular}s",
        f"{resource.summary}: all",
        "Every entry, in the order of the catalogue. Takes no parameters.",
        by_shape[resource.list_shape],
        example,
    )


def _entry(resource: Resource, by_shape: dict[Any, Any]) -> dict[str, Any]:
    first = next(iter(resource.entries))
    example = msgspec.to_builtins(resource.entries[first])
    found = _catalogue(
        f"get{resource.singular}", f"{resource.summary}: one", "One entry by its id.", by_shape[resource.entry], example
    )
    found["parameters"] = [
        {
            "name": "id",
            "in": "path",
            "required": True,
            "description": "Id of the entry, one of those that the list has.",
            "schema": {"type": "string", "enum": list(resource.entries)},
            "example": first,
        }
    ]
    return found


def _plain(
    operation_id: str,
    summary: str,
    text: str,
    schema: dict[str, Any],
    example: Any,
    refusals: dict[str, Any] | None = None,
) -> dict[str, Any]:
    return {
        "operationId": operation_id,
        "tags": ["Service"],
        "summary": summary,
        "description": text,
        "responses": {
            "200": _answer(
                schema, {"now": {"value": msgspec.to_builtins(example)}}, "The answer, with its basis and cautions."
            ),
            "400": _problem("unknown-parameter"),
            "406": _problem("not-acceptable"),
            **(refusals or {}),
            "default": _problem("internal"),
        },
    }
