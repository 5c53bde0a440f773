"""What the GET resources have in common: how they answer, for how long that may be kept, and what they take."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any, Final

from litestar import Request, Response
from litestar.enums import HttpMethod

from service.api.serialization.suggestions import near, question
from service.http.negotiation import accepts_json
from service.http.problems import HttpProblem
from service.http.responses import SECURITY_HEADERS

GET_AND_HEAD: Final = [HttpMethod.GET, HttpMethod.HEAD]
HEADERS: Final = {name.decode(): value.decode() for name, value in SECURITY_HEADERS}
# the catalogue changes with a release; pages, script and description have to be of one release, so they are asked again
FOR_AN_HOUR: Final = "public, max-age=3600"
REVALIDATED: Final = "public, no-cache"
NO_STORE: Final = "no-store"
BY_ACCEPT: Final = {"vary": "accept"}


def reply(
    body: bytes, cache: str, media_type: str = "application/json", headers: dict[str, str] | None = None
) -> Response[bytes]:
    """Bytes as an answer with the usual headers; cache: its Cache-Control."""
    return Response(body, media_type=media_type, headers={**HEADERS, "cache-control": cache, **(headers or {})})


def check_plain_request(request: Request[Any, Any, Any]) -> None:
    """Called before a resource that takes no query parameter and is JSON alone. Raises HttpProblem (400, 406)."""
    if request.query_params:
        name = next(iter(request.query_params))
        raise HttpProblem("unknown-parameter", f"No query parameter is taken here; {name[:40]!r} is not known.")
    _check_accept(request)


def check_chosen_request(request: Request[Any, Any, Any], choices: Mapping[str, Collection[str]]) -> None:
    """Called before a list whose query chooses among stated values. Raises HttpProblem (400, 406)."""
    check_choices(request, choices)
    _check_accept(request)


def check_choices(request: Request[Any, Any, Any], choices: Mapping[str, Collection[str]]) -> None:
    """Check the query of what is cut or written by parameters with stated values. Raises HttpProblem (400).

    Args:
        request: what is asked
        choices: the values of each parameter, which is taken once or not at all
    """
    for name in request.query_params:
        if name not in choices:
            taken = f"parameter{'s' if len(choices) > 1 else ''} {' and '.join(map(repr, choices))}"
            verb = "are" if len(choices) > 1 else "is"
            detail = f"Only the query {taken} {verb} taken here; {name[:40]!r} is not known."
            raise HttpProblem("unknown-parameter", detail)
    for parameter, values in choices.items():
        stated = request.query_params.getall(parameter, [])
        if len(stated) > 1:
            raise HttpProblem("unknown-parameter", f"The query parameter {parameter!r} is given more than once.")
        if stated and stated[0] not in values:
            meant = near(stated[0], values)
            detail = f"{parameter!r} can be one of: {', '.join(values)}. {question(meant)}".rstrip()
            raise HttpProblem("unknown-parameter", detail, did_you_mean=meant)


def _check_accept(request: Request[Any, Any, Any]) -> None:
    accept = accept_of(request)
    if accept and not accepts_json(accept):
        raise HttpProblem("not-acceptable", "The answer can be given as application/json.")


def accept_of(request: Request[Any, Any, Any]) -> bytes:
    """The Accept header, several of them as one list."""
    return ",".join(request.headers.getall("accept", [])).encode("latin-1")
