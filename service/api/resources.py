"""The GET resources: catalogue, description, its page, readiness, and the index at the root."""

from __future__ import annotations

from typing import Any, Final

import msgspec
from litestar import MediaType, Request, Response, Router, route
from litestar.enums import HttpMethod
from litestar.handlers import HTTPRouteHandler
from litestar.params import FromPath

from service import __version__
from service.api import docs
from service.api.catalogue import RESOURCES, Resource, name_of
from service.api.contract import Index, Ready, document, rendered
from service.api.endpoint import SECURITY_HEADERS, accepts_json
from service.api.operations import OPERATIONS
from service.api.problems import KINDS, HttpProblem
from service.ready import check

GET_AND_HEAD: Final = [HttpMethod.GET, HttpMethod.HEAD]
HEADERS: Final = {name.decode(): value.decode() for name, value in SECURITY_HEADERS}


def reply(body: bytes, media_type: str = "application/json", headers: dict[str, str] | None = None) -> Response[bytes]:
    """Bytes as an answer with the usual headers."""
    return Response(body, media_type=media_type, headers={**HEADERS, **(headers or {})})


def check_asked(request: Request[Any, Any, Any]) -> None:
    """Refuse query parameters, of which the resources take none, and a client that does not take JSON."""
    if request.query_params:
        name = next(iter(request.query_params))
        raise HttpProblem("unknown-parameter", f"No query parameter is taken here; {name[:40]!r} is not known.")
    accept = ",".join(request.headers.getall("accept", []))
    if accept and not accepts_json(accept.encode("latin-1")):
        raise HttpProblem("not-acceptable", "The answer can be given as application/json.")


def _catalogue(resource: Resource) -> Router:
    everything = msgspec.json.encode({name_of(resource.entry): list(resource.entries.values())})
    single = {key: msgspec.json.encode(entry) for key, entry in resource.entries.items()}

    @route("/", http_method=GET_AND_HEAD)
    async def listing(request: Request[Any, Any, Any]) -> Response[bytes]:
        check_asked(request)
        return reply(everything)

    @route("/{entry_id:str}", http_method=GET_AND_HEAD)
    async def entry(request: Request[Any, Any, Any], entry_id: FromPath[str]) -> Response[bytes]:
        check_asked(request)
        if entry_id not in single:
            raise HttpProblem(
                "not-found", f"No entry of {resource.name} has this id; GET /v1/{resource.name} lists them."
            )
        return reply(single[entry_id])

    return Router(f"/v1/{resource.name}", route_handlers=[listing, entry])


@route("/openapi.json", http_method=GET_AND_HEAD)
async def description(request: Request[Any, Any, Any]) -> Response[bytes]:
    """The OpenAPI description, the same bytes as are checked in."""
    check_asked(request)
    return reply(rendered())


@route("/docs", http_method=GET_AND_HEAD)
async def docs_page() -> Response[bytes]:
    """The page on which every operation can be tried."""
    return reply(docs.page(document()), MediaType.HTML, {"content-security-policy": docs.POLICY})


@route("/docs/page.js", http_method=GET_AND_HEAD)
async def docs_script() -> Response[bytes]:
    """The script of the page."""
    return reply(docs.SCRIPT, "text/javascript")


@route("/docs/page.css", http_method=GET_AND_HEAD)
async def docs_style() -> Response[bytes]:
    """The style of the page."""
    return reply(docs.STYLE, "text/css")


@route("/", http_method=GET_AND_HEAD)
async def index() -> Response[bytes]:
    """Where things are."""
    found = Index(
        "/docs",
        "/openapi.json",
        [operation.path for operation in OPERATIONS],
        [f"/v1/{resource.name}" for resource in RESOURCES],
    )
    return reply(msgspec.json.encode(found))


@route("/readyz", http_method=GET_AND_HEAD)
async def ready() -> Response[bytes]:
    """Readiness: a published example is recomputed."""
    check()
    return reply(msgspec.json.encode(Ready("ready", __version__)), headers={"cache-control": "no-store"})


@route("/problems/{kind:str}", http_method=GET_AND_HEAD)
async def problem_page(kind: FromPath[str]) -> Response[bytes]:
    """What a kind of problem means: where its `type` leads."""
    found = KINDS.get(kind)
    if found is None:
        raise HttpProblem("not-found", "No kind of problem has this name.")
    return reply(f"{found.title} ({found.status})\n\n{found.meaning}\n".encode(), "text/plain")


HANDLERS: Final[tuple[Router | HTTPRouteHandler, ...]] = (
    *(_catalogue(resource) for resource in RESOURCES),
    description,
    docs_page,
    docs_script,
    docs_style,
    index,
    ready,
    problem_page,
)
