"""The description of what is read without a question: the catalogue's lists and entries, and the service's state."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, Final

import msgspec

from service import __version__
from service.api.catalogue.markdown import FORMS
from service.api.catalogue.resources import RESOURCES, Resource, name_of
from service.api.evidence.models import PARAMETER, PATH, EvidenceAnswer, evidence
from service.api.models.service_state import Alive, Index, Ready, Version
from service.api.openapi.get_operations import KEPT, NOT_MODIFIED
from service.api.openapi.index import CATALOGUE, INDEX
from service.api.openapi.index import PATH as INDEX_PATH
from service.api.openapi.problem_responses import problem_response, problem_responses
from service.api.openapi.reports import MARKDOWN_CONTENT
from service.api.serialization.query import FORM
from service.knowledge.evidence import QUANTITIES

PROBLEMS: Final = {"400": "unknown-parameter", "404": "not-found", "406": "not-acceptable", "default": "internal"}
EXAMPLE: Final = "tempo"
"""The quantity of the example: one whose evidence does not change with the mechanics."""
AS_MARKDOWN: Final = (
    "The form of the list: markdown to read it in a shell or a chat, grouped by what to do, the most urgent first, each sign "
    "as `id: text`. Left out: json."
)
STATE_PROBLEMS: Final = {"400": "unknown-parameter", "406": "not-acceptable"}


def catalogue_paths(by_shape: dict[Any, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """The paths of the catalogue; by_shape: the schema of each struct."""
    for resource in RESOURCES:
        yield f"/v1/{resource.name}", {"get": _list(resource, by_shape)}
        yield f"/v1/{resource.name}/{{id}}", {"get": _entry(resource, by_shape)}


def evidence_path(by_shape: dict[Any, Any]) -> dict[str, Any]:
    """The path of the evidence; by_shape: the schema of each struct."""
    operation = _catalogue(
        "getEvidence",
        "Evidence behind the numbers",
        "What the service is for and what may rest on its numbers, and of every quantity that an operation answers: its model, assumptions and known limits, "
        "its check against independent mechanics, the published comparisons with the cause of each that disagrees, what nothing published could tell, and how "
        "often its intervals hold. In the terms of ASME V&V 40 (2018). The numbers are written by the tests. As a page for people with `Accept: text/html`.",
        by_shape[EvidenceAnswer],
        msgspec.to_builtins(evidence(EXAMPLE)),
    )
    operation["parameters"] = [
        _one_of(PARAMETER, "One quantity alone, with the comparisons that are about it.", QUANTITIES, EXAMPLE)
    ]
    operation["responses"]["200"]["content"]["text/html"] = {"schema": {"type": "string"}}
    del operation["responses"]["404"]
    return {PATH: {"get": operation}}


def index_path(by_shape: dict[Any, Any]) -> dict[str, Any]:
    """The path of the index; by_shape: the schema of each struct."""
    operation = _catalogue(
        "getIndex",
        "Index",
        "Where things are: every computation by what it does, the catalogue, the pages for people and this description.",
        by_shape[Index],
        {},
    )
    operation["tags"] = ["Service"]
    answer = _answer(
        "The index: what there is to ask, and where.", by_shape[Index], {"index": msgspec.to_builtins(INDEX)}
    )
    operation["responses"]["200"] = answer | {"headers": KEPT}
    del operation["responses"]["404"]
    return {INDEX_PATH: {"get": operation}}


def state_paths(by_shape: dict[Any, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """The paths of the service's state; by_shape: the schema of each struct."""
    yield (
        "/livez",
        _state("getLiveness", "Liveness", "Answers 200 while the process runs.", by_shape, Alive("alive"), {}),
    )
    yield (
        "/version",
        _state(
            "getVersion",
            "Version",
            "Which release answers, and by which description.",
            by_shape,
            Version(__version__, "0" * 64),
            {},
        ),
    )
    yield (
        "/readyz",
        _state(
            "getReadiness",
            "Readiness",
            "Answers 200 once the data are read and checked and a published example is recomputed, 503 once the service was told to stop.",
            by_shape,
            Ready("ready", __version__, "own"),
            {"503": problem_response("stopping")},
        ),
    )


def _list(resource: Resource, by_shape: dict[Any, Any]) -> dict[str, Any]:
    first, cut = next(iter(resource.entries.values())), resource.filter
    operation = _catalogue(
        f"list{resource.singular}s",
        f"{resource.summary}: all" if cut is None else f"{resource.summary}: all, or those of one {cut.parameter}",
        f"Every entry, in the order of the catalogue. {'Takes no parameters.' if cut is None else ''}".strip(),
        by_shape[resource.list_shape],
        {name_of(resource.entry): [msgspec.to_builtins(first)], **_beside(resource)},
    )
    if cut is not None:
        operation["parameters"] = [_one_of(cut.parameter, cut.text, cut.ids, next(iter(cut.ids)))]
    if resource.to_read is not None:
        operation.setdefault("parameters", []).append(_one_of(FORM, AS_MARKDOWN, FORMS, FORMS[0]))
        operation["responses"]["200"]["content"] |= MARKDOWN_CONTENT
    return operation


def _beside(resource: Resource) -> dict[str, Any]:
    """What stands beside the entries of a list, the first two of each."""
    return {field: msgspec.to_builtins(made()[:2]) for field, made in resource.beside.items()}


def _one_of(parameter: str, text: str, values: Iterable[str], example: str) -> dict[str, Any]:
    """A parameter of the query that cuts an answer, and may be left out."""
    return {
        "name": parameter,
        "in": "query",
        "required": False,
        "description": text,
        "schema": {"type": "string", "enum": list(values)},
        "example": example,
    }


def _entry(resource: Resource, by_shape: dict[Any, Any]) -> dict[str, Any]:
    first, entry = next(iter(resource.entries.items()))
    operation = _catalogue(
        f"get{resource.singular}",
        f"{resource.summary}: one",
        "One entry by its id.",
        by_shape[resource.entry],
        msgspec.to_builtins(entry),
    )
    operation["parameters"] = [
        {
            "name": "id",
            "in": "path",
            "required": True,
            "description": "Id of the entry, one of those that the list has.",
            "schema": {"type": "string", "enum": list(resource.entries)},
            "example": first,
        }
    ]
    return operation


def _catalogue(operation_id: str, summary: str, text: str, schema: dict[str, Any], example: Any) -> dict[str, Any]:
    return {
        "operationId": operation_id,
        "tags": [CATALOGUE],
        "summary": summary,
        "description": text,
        "responses": {
            "200": _answer("The catalogue's entry or entries.", schema, {"catalogue": example}) | {"headers": KEPT},
            "304": NOT_MODIFIED,
            **problem_responses(PROBLEMS),
        },
    }


def _state(
    operation_id: str, summary: str, text: str, by_shape: dict[Any, Any], example: Any, refusals: dict[str, Any]
) -> dict[str, Any]:
    return {
        "get": {
            "operationId": operation_id,
            "tags": ["Service"],
            "summary": summary,
            "description": text,
            "responses": {
                "200": _answer(
                    "The answer, with its basis and cautions.",
                    by_shape[type(example)],
                    {"now": msgspec.to_builtins(example)},
                ),
                **problem_responses(STATE_PROBLEMS),
                **refusals,
                "default": problem_response("internal"),
            },
        }
    }


def _answer(text: str, schema: dict[str, Any], examples: dict[str, Any]) -> dict[str, Any]:
    shown = {name: {"value": value} for name, value in examples.items()}
    return {"description": text, "content": {"application/json": {"schema": schema, "examples": shown}}}
