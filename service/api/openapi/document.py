"""The OpenAPI 3.1 description, built from the operations, the catalogue and the kinds of problem.

Plain values and not the objects of litestar.openapi.spec: these leave nulls out of examples, write defaults such as
`deprecated: false`, know no extensions such as x-cost, and made the one module in which they were tried longer (75 lines
for 65).
"""

from __future__ import annotations

from functools import cache
from typing import Any, Final

import msgspec

from service import __version__
from service.api.bulk.batch import PATH as BATCH_PATH
from service.api.bulk.batch import Batch, BatchAnswer
from service.api.bulk.tables import table_path
from service.api.catalogue.resources import RESOURCES
from service.api.evidence.models import EvidenceAnswer
from service.api.models.deprecation import retiring
from service.api.models.operation import Operation
from service.api.models.service_state import Alive, Index, Ready, Version
from service.api.openapi.bulk_operations import HOW_WRITTEN, batch, table
from service.api.openapi.bulk_operations import TAG as BULK_TAG
from service.api.openapi.components import finished
from service.api.openapi.get_operations import HEADERS, get_operation
from service.api.openapi.index import CATALOGUE, NAME
from service.api.openapi.pictures import PICTURE_HEADERS
from service.api.openapi.post_operations import post_operation
from service.api.openapi.resource_operations import catalogue_paths, evidence_path, index_path, state_paths
from service.api.operations.registry import OPERATIONS
from service.api.serialization import schema as schemas
from service.http.problems import Problem

INTRODUCTION: Final = """Finds the smallest change to a lifting program that takes demand off a sore region and keeps the training effect, in numbers for the
lifter in front of you: computed, sourced, with their uncertainty.

Quantities are `{"value": 100, "unit": "kg"}` with closed lists of units (kg, lb; m, cm, in, ft; deg, rad; s, min); an answer comes in the unit asked about.
Every estimate has a span and says what the span means. Every answer carries its basis (method, sources, assumptions, evidence) and its cautions.
How far each quantity was checked, where it disagrees with what is published and what may rest on it: `GET /v1/evidence`.
Whoever needs a part of an answer names its fields: `?fields=decision,options.prescription`.
Sentences come in English, or in the language that `Accept-Language` or `language` prefers of those that `GET /v1/messages` lists; what tells to stop has English beside it where no professional has reviewed the language.
Problems, pictures, what a span means (`interval`) and quotations of studies are in English.
Decoding is strict: unknown fields, text for numbers and values outside their bounds are refused, all faults of a request at once, as problem details (RFC 9457).
Outside a method's published range the answer is a refusal that names the range. The service keeps nothing and logs no content of requests.

What a request costs is told with each operation in units of work (x-cost), each a tenth of a millisecond of processor time, about one short question; everything else costs 1.
Quotas, where the server has any, count these units; a request for which too little is left is refused before anything is computed, and costs 1.

It diagnoses nothing and clears nobody to train. Licensed practice and local rules come first. Red flags end in a referral."""
TAGS: Final = {
    "The main job": "Adjusted prescriptions for a sore region.",
    "Week": "All lifts of a week together: what they ask of each region and give each muscle, and other weeks instead.",
    "Load and repetitions": "What a lifter can lift, from sets that they did.",
    "Volume": "The same work in other sets, loads and days.",
    "Mechanics": "Loads on legs and spine.",
    "Tempo": "Seconds under tension.",
    "Loading the bar": "Plates on each side of a bar.",
    BULK_TAG: f"Tables and batches, each question answered alone. How tables are written: {HOW_WRITTEN}",
    CATALOGUE: "What stands behind the numbers.",
    "Service": "The service itself and its state.",
}


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
        EvidenceAnswer,
        *(operation.answer for operation in OPERATIONS),
    ]
    for resource in RESOURCES:
        answers += [resource.entry, resource.list_shape]
    by_shape, named = schemas.described([Batch, *(operation.request for operation in OPERATIONS)], answers)
    paths: dict[str, Any] = {operation.path: _computation(operation, by_shape) for operation in OPERATIONS}
    paths |= {table_path(operation): {"post": table(operation)} for operation in OPERATIONS}
    paths[BATCH_PATH] = {"post": batch(by_shape)}
    paths |= dict(catalogue_paths(by_shape))
    paths |= evidence_path(by_shape)
    paths |= index_path(by_shape)
    paths |= dict(state_paths(by_shape))
    return finished(
        {
            "openapi": "3.1.0",
            "info": {
                "title": NAME,
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
            "components": {"schemas": named, "headers": HEADERS | PICTURE_HEADERS},
        }
    )


def _computation(operation: Operation, by_shape: dict[Any, Any]) -> dict[str, Any]:
    """The two ways to ask an operation."""
    methods = {
        "get": get_operation(operation, by_shape[operation.answer]),
        "post": post_operation(operation, by_shape),
    }
    return methods if operation.retirement is None else retiring(methods)


@cache
def rendered() -> bytes:
    """The description as the bytes that are checked in and served."""
    return msgspec.json.format(msgspec.json.encode(document()), indent=2) + b"\n"
