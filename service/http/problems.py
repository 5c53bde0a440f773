"""Everything that is not an answer: problem details (RFC 9457), in one shape from every layer."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Any, Final

import msgspec
from msgspec import UNSET, Meta, UnsetType

from service.http.cells import no_formula

OF_QUESTION: Final = frozenset({400, 406, 413, 414, 422})
RETRY_AFTER: Final = 1
"""When to ask again where too much is asked at once [s]."""
_LONGEST_LIST: Final = 200  # characters of what is allowed in a cell
MOST_FAULTS: Final = 50  # listed in one problem
MOST_TEXT: Final = 20_000  # bytes of them, after which no other is begun


class ProblemFault(msgspec.Struct, frozen=True, omit_defaults=True):
    """One thing wrong with a request: where, what, and what would be allowed.

    Attributes:
        pointer: JSON Pointer (RFC 6901) to the value in the JSON form of the request; empty for the request as a whole.
        parameter: Name of the query parameter or of the column of a table. Left out for a body in JSON.
        detail: What is wrong, in a sentence. Left out where pointer and `allowed` say it.
        allowed: What would be accepted there. Left out where that cannot be said in a few words.
        example: A value that would be accepted there; of a query parameter or a cell its text. Left out where there is
            none.
        did_you_mean: What was probably meant: values, names of fields, or a JSON Pointer where the field belongs
            elsewhere. Left out where nothing is near.
    """

    pointer: Annotated[str, Meta(extra_json_schema={"format": "json-pointer"})]
    parameter: str | UnsetType = UNSET
    detail: str = ""
    allowed: str | UnsetType = UNSET
    example: Any = UNSET
    did_you_mean: tuple[str, ...] | UnsetType = UNSET


class Problem(msgspec.Struct, frozen=True, kw_only=True):
    """Problem details (RFC 9457): every answer that is no success has this shape.

    Attributes:
        type: Address of a page that explains this kind of problem, relative to the server; the last step names the
            kind.
        title: The kind of problem in a few words, always the same for it.
        status: The HTTP status of the answer.
        detail: What is wrong with this request, in a sentence.
        errors: The faults of the request, up to 50 of them. Left out where the problem is not about its values.
        did_you_mean: Paths, ids or values that were probably meant. Left out where nothing is near, and where `errors`
            has it for each fault.
    """

    type: Annotated[str, Meta(extra_json_schema={"format": "uri-reference"})]
    title: str
    status: int
    detail: str
    errors: list[ProblemFault] | UnsetType = UNSET
    did_you_mean: tuple[str, ...] | UnsetType = UNSET


class Kind(msgspec.Struct, frozen=True):
    """A kind of problem: its last path step under /problems, title, status, what it means, and what to do about it."""

    id: str
    title: str
    status: int
    meaning: str
    remedy: str


KINDS: Final = {
    kind.id: kind
    for kind in (
        Kind(
            "unreadable",
            "The request cannot be read",
            400,
            "The body is not what its media type says, or not in UTF-8; or JSON is nested too deeply, or names a field twice in one object; or Host is missing, doubled or not valid.",
            "Send what the media type says, in UTF-8: `detail` and `errors` say where reading stopped, with a whole question as an example. Write JSON with a library instead of by hand.",
        ),
        Kind(
            "unknown-parameter",
            "A query parameter is not known or not valid",
            400,
            "The operation does not take this query parameter, it is repeated, or its value does not fit.",
            "Compare the names with those of the operation; `did_you_mean` has the nearest. State each once.",
        ),
        Kind(
            "not-found",
            "There is nothing at this address",
            404,
            "The path or the id in it does not exist. The description at /openapi.json lists every path.",
            "Take the paths from /openapi.json and ids from the lists of the catalogue; `did_you_mean` has the nearest.",
        ),
        Kind(
            "method-not-allowed",
            "This method is not supported here",
            405,
            "The Allow header lists the methods of this path.",
            "Ask with a method of the Allow header; a question with a body goes by POST.",
        ),
        Kind(
            "not-acceptable",
            "None of the media types asked for can be given",
            406,
            "The Accept header excludes every representation there is; `detail` lists them.",
            "Ask for a media type that `detail` lists, or leave Accept out; `as` outranks it.",
        ),
        Kind(
            "too-large",
            "The request is too large",
            413,
            "The body is larger than the service takes, or its questions cost more work together than one request, or the client's whole quota, may; `detail` says in how many parts they fit.",
            "Send fewer rows or questions at once, in as many parts as `detail` says.",
        ),
        Kind(
            "uri-too-long",
            "The address is too long",
            414,
            "Path and query together may have 2048 characters. Longer questions go into the body of a POST request.",
            "Send the question in the body of a POST request, which has the same fields.",
        ),
        Kind(
            "unsupported-media-type",
            "The body is of another media type or coding",
            415,
            "The Accept header of the answer says which media type is taken, or Accept-Encoding which content coding.",
            "State the media type in Content-Type, application/json for a question and text/csv for a table, and leave the body uncompressed.",
        ),
        Kind(
            "invalid",
            "The request does not fit",
            422,
            "Readable, but a value is missing, unknown, outside its bounds, or outside the range in which the method is published. `errors` lists every fault.",
            "Go through `errors`: `pointer` or `parameter` says where, `allowed` and `example` what would be taken there, and `did_you_mean` what was probably meant. The same request will be refused again.",
        ),
        Kind(
            "key-required",
            "An API key is required",
            401,
            "This service asks for an API key, sent as a bearer token in the Authorization header; none came, or one that it does not know.",
            "Get a key from whoever runs the service and send it as `Authorization: Bearer KEY`.",
        ),
        Kind(
            "keys-unavailable",
            "API keys cannot be checked",
            503,
            "A fault of the service: it could not read its API keys for longer than it goes on with those read last. Retry-After says when to come back; the key may still be good.",
            "Ask again after the seconds of Retry-After; nothing is wrong with the question.",
        ),
        Kind(
            "key-expired",
            "The API key has run out",
            403,
            "The API key is known, but its last day has passed.",
            "Ask whoever runs the service for a new key.",
        ),
        Kind(
            "too-slow",
            "The request did not come in time",
            408,
            "The request was not complete within the time that the service allows for it.",
            "Send the whole request at once; over a slow line send smaller tables.",
        ),
        Kind(
            "quota-exceeded",
            "The quota is used up",
            429,
            "Of the work that the client may ask for in this window of time, less is left than this request costs; nothing was computed. RateLimit-Policy lists the quotas, RateLimit what is left of them, Retry-After when to come back.",
            "Wait for the seconds of Retry-After; RateLimit says what is left. Batches and tables save requests and no work: x-cost is what counts.",
        ),
        Kind(
            "overloaded",
            "Too many requests at once",
            503,
            "The service is answering as many requests as it can, or too many for this answer to be ready in time. Retry-After says when to come back.",
            "Ask again after the seconds of Retry-After, and fewer at a time.",
        ),
        Kind(
            "stopping",
            "The service is about to stop",
            503,
            "The service was told to stop: it answers what it is sent for a few seconds more, and new requests belong elsewhere.",
            "Ask again; a load balancer sends it to another instance.",
        ),
        Kind(
            "internal",
            "The service failed",
            500,
            "A fault of the service, not of the request. It is logged, without the request's content.",
            "Ask again once; if it stays, tell whoever runs the service when it was and what was asked.",
        ),
    )
}


class HttpProblem(Exception):
    """A problem on its way out; `headers` go with it."""

    def __init__(
        self,
        kind: str,
        detail: str,
        headers: dict[str, str] | None = None,
        faults: tuple[ProblemFault, ...] = (),
        did_you_mean: tuple[str, ...] = (),
    ) -> None:
        super().__init__(detail)
        self.kind = KINDS[kind]
        self.detail = detail
        self.headers = headers or {}
        self.faults = faults
        self.did_you_mean = did_you_mean

    @property
    def problem(self) -> Problem:
        """The problem as its shape."""
        return Problem(
            type=f"/problems/{self.kind.id}",
            title=self.kind.title,
            status=self.kind.status,
            detail=self.detail,
            errors=list(self.faults) or UNSET,
            did_you_mean=self.did_you_mean or UNSET,
        )

    @property
    def body(self) -> bytes:
        """The problem as bytes."""
        return msgspec.json.encode(self.problem)

    @property
    def of_question(self) -> bool:
        """Whether the question is at fault, so that the same one will never be answered."""
        return self.kind.status in OF_QUESTION

    @property
    def brief(self) -> HttpProblem:
        """The same with its first fault alone and without what is allowed, for where many problems stand together."""
        first = tuple(ProblemFault(fault.pointer, fault.parameter, fault.detail) for fault in self.faults[:1])
        return HttpProblem(self.kind.id, _placed(first[0]) if first else self.detail, self.headers, first)

    @property
    def line(self) -> str:
        """The problem as one readable line, for a cell or a page of plain text."""
        return no_formula("; ".join(map(_line, self.faults)) or self.detail)


def _placed(fault: ProblemFault) -> str:
    """What is wrong, and where."""
    where = fault.pointer if isinstance(fault.parameter, UnsetType) else fault.parameter
    return f"{where}: {fault.detail}" if where else fault.detail


def _line(fault: ProblemFault) -> str:
    """A fault in a cell; what is near, which its detail names, stands for the whole list of what is allowed."""
    if fault.did_you_mean:
        return _placed(fault)
    allowed = "" if isinstance(fault.allowed, UnsetType) else f" Allowed: {_in_a_cell(fault.allowed)}"
    example = f" Example: {fault.example}" if isinstance(fault.example, str) else ""
    return f"{_placed(fault)}{allowed}{example}"


def _in_a_cell(allowed: str) -> str:
    """What is allowed; of a long list the beginning."""
    if len(allowed) <= _LONGEST_LIST:
        return allowed
    values = allowed[:_LONGEST_LIST].rpartition(", ")[0]
    return f"{values} … and {allowed.count(', ') - values.count(', ')} more"


def overloaded(detail: str, headers: dict[str, str] | None = None) -> HttpProblem:
    """Too much is asked at once, and soon it may not be."""
    return HttpProblem("overloaded", detail, (headers or {}) | {"retry-after": str(RETRY_AFTER)})


def invalid(faults: Iterable[ProblemFault]) -> HttpProblem:
    """A request that can be read and does not fit, with its faults; no more are drawn than are listed."""
    listed: list[ProblemFault] = []
    size = 0
    for fault in faults:
        if len(listed) == MOST_FAULTS or size > MOST_TEXT:
            detail = f"More than {len(listed)} faults; the first are listed in errors."
            break
        listed.append(fault)
        size += len(msgspec.json.encode(fault))
    else:
        detail = _placed(listed[0]) if len(listed) == 1 else f"{len(listed)} faults; each is listed in errors."
    return HttpProblem("invalid", detail, faults=tuple(listed))
