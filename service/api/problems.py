"""Everything that is not an answer: problem details (RFC 9457), in one shape from every layer."""

from __future__ import annotations

from typing import Any, Final

import msgspec
from msgspec import UNSET, UnsetType

from service.refusals import Fault, Refusal

MEDIA_TYPE: Final = "application/problem+json"


class ProblemFault(msgspec.Struct, frozen=True, omit_defaults=True):
    """One thing wrong with a request: where (JSON Pointer, or the parameter's name after a question mark), what, and what would be allowed."""

    pointer: str
    detail: str
    allowed: str | UnsetType = UNSET


class Problem(msgspec.Struct, frozen=True, kw_only=True):
    """Problem details (RFC 9457). `type` leads to a page that explains it; `errors` lists every fault found."""

    type: str
    title: str
    status: int
    detail: str
    errors: list[ProblemFault] | UnsetType = UNSET


class Kind(msgspec.Struct, frozen=True):
    """A kind of problem: its last path step under /problems, title, status, and what it means."""

    id: str
    title: str
    status: int
    meaning: str


KINDS: Final = {
    kind.id: kind
    for kind in (
        Kind(
            "unreadable",
            "The request cannot be read",
            400,
            "The body is not JSON in UTF-8, is nested too deeply, or names a field twice in one object.",
        ),
        Kind(
            "unknown-parameter",
            "A query parameter is not known or not valid",
            400,
            "The operation does not take this query parameter, it is repeated, or its value does not fit.",
        ),
        Kind(
            "not-found",
            "There is nothing at this address",
            404,
            "The path or the id in it does not exist. The description at /openapi.json lists every path.",
        ),
        Kind(
            "method-not-allowed",
            "This method is not supported here",
            405,
            "The Allow header lists the methods of this path.",
        ),
        Kind(
            "not-acceptable",
            "None of the media types asked for can be given",
            406,
            "The Accept header excludes every representation there is; `detail` lists them.",
        ),
        Kind("too-large", "The request is too large", 413, "The body is larger than the service takes."),
        Kind(
            "unsupported-media-type",
            "The body is of another media type",
            415,
            "Send application/json. The Accept header of the answer says what is taken.",
        ),
        Kind(
            "invalid",
            "The request does not fit",
            422,
            "Readable, but a value is missing, unknown, outside its bounds, or outside the range in which the method is published. `errors` lists every fault.",
        ),
        Kind(
            "internal",
            "The service failed",
            500,
            "A fault of the service, not of the request. It is logged, without the request's content.",
        ),
    )
}


class HttpProblem(Exception):
    """A problem on its way out; `headers` go with it."""

    def __init__(
        self, kind: str, detail: str, headers: dict[str, str] | None = None, faults: tuple[Fault, ...] = ()
    ) -> None:
        super().__init__(detail)
        self.kind = KINDS[kind]
        self.headers = headers or {}
        self.body = problem(self.kind, detail, faults)


def problem(kind: Kind, detail: str, faults: tuple[Fault, ...] = ()) -> bytes:
    """The problem as bytes."""
    return msgspec.json.encode(
        Problem(
            type=f"/problems/{kind.id}",
            title=kind.title,
            status=kind.status,
            detail=detail,
            errors=[ProblemFault(fault.pointer, fault.detail, fault.allowed or UNSET) for fault in faults] or UNSET,
        )
    )


def from_refusal(refusal: Refusal) -> HttpProblem:
    """A refusal of the pure functions, as an HTTP answer."""
    count = len(refusal.faults)
    detail = refusal.faults[0].detail if count == 1 else f"{count} faults; each is listed in errors."
    return HttpProblem("invalid", detail, faults=refusal.faults)


def media_types(kind: str) -> dict[str, Any]:
    """OpenAPI content of a problem answer."""
    return {
        MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}, "examples": {kind: {"value": _example(kind)}}}
    }


def _example(kind: str) -> dict[str, Any]:
    found = KINDS[kind]
    faults: tuple[Fault, ...] = ()
    detail = found.meaning
    if kind == "invalid":
        detail = "The value is too large."
        faults = (Fault("/set/reps_in_reserve", "The value is too large.", "0 to 4"),)
    value: dict[str, Any] = msgspec.json.decode(problem(found, detail, faults))
    return value
