"""The GET resources: catalogue, description, its page, readiness, and the index at the root."""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from typing import Any, Final

import msgspec
from litestar import MediaType, Request, Response, Router, route
from litestar.datastructures import State
from litestar.enums import HttpMethod
from litestar.handlers import HTTPRouteHandler
from litestar.params import FromPath

from service import __version__
from service.api.catalogue.models import RESOURCES, Resource, name_of
from service.api.docs import page as docs
from service.api.openapi.document import Alive, Index, Ready, Version, rendered
from service.api.operations.registry import OPERATIONS
from service.http.exchange import JSON, SECURITY_HEADERS, accepts_json, quality
from service.http.problems import KINDS, HttpProblem
from service.selfcheck import STOPPING, check

GET_AND_HEAD: Final = [HttpMethod.GET, HttpMethod.HEAD]
HEADERS: Final = {name.decode(): value.decode() for name, value in SECURITY_HEADERS}
# the catalogue changes with a release; pages, script and description have to be of one release, so they are asked again
FOR_AN_HOUR: Final = "public, max-age=3600"
ASKED_AGAIN: Final = "public, no-cache"
NOT_KEPT: Final = "no-store"
HTML: Final = b"text/html"
BY_ACCEPT: Final = {"vary": "accept"}
LINKS: Final = '</openapi.json>; rel="service-desc", </docs>; rel="service-doc", </readyz>; rel="status"'


def reply(
    body: bytes, cache: str, media_type: str = "application/json", headers: dict[str, str] | None = None
) -> Response[bytes]:
    """Bytes as an answer with the usual headers; cache: who may keep it, and how long."""
    return Response(body, media_type=media_type, headers={**HEADERS, "cache-control": cache, **(headers or {})})


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
        return reply(everything, FOR_AN_HOUR)

    @route("/{entry_id:str}", http_method=GET_AND_HEAD)
    async def entry(request: Request[Any, Any, Any], entry_id: FromPath[str]) -> Response[bytes]:
        check_asked(request)
        if entry_id not in single:
            raise HttpProblem(
                "not-found", f"No entry of {resource.name} has this id; GET /v1/{resource.name} lists them."
            )
        return reply(single[entry_id], FOR_AN_HOUR)

    return Router(f"/v1/{resource.name}", route_handlers=[listing, entry])


@route("/openapi.json", http_method=GET_AND_HEAD)
async def description(request: Request[Any, Any, Any]) -> Response[bytes]:
    """The OpenAPI description, the same bytes as are checked in."""
    check_asked(request)
    return reply(rendered(), ASKED_AGAIN)


@route("/docs", http_method=GET_AND_HEAD)
async def docs_page() -> Response[bytes]:
    """The page on which every operation can be tried."""
    return reply(docs.page(), ASKED_AGAIN, MediaType.HTML, {"content-security-policy": docs.POLICY})


@route("/docs/page.js", http_method=GET_AND_HEAD)
async def docs_script() -> Response[bytes]:
    """The script of the page."""
    return reply(docs.SCRIPT, ASKED_AGAIN, "text/javascript")


@route("/docs/page.css", http_method=GET_AND_HEAD)
async def docs_style() -> Response[bytes]:
    """The style of the page."""
    return reply(docs.STYLE, ASKED_AGAIN, "text/css")


@route("/", http_method=GET_AND_HEAD)
async def index(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Where things are: the page for a browser, which would rather have HTML than JSON, else a short index."""
    accept = ",".join(request.headers.getall("accept", [])).encode("latin-1")
    if quality(accept, HTML) > quality(accept, JSON):
        return Response(
            b"", status_code=303, headers={**HEADERS, **BY_ACCEPT, "location": "/docs", "cache-control": ASKED_AGAIN}
        )
    found = Index(
        "/docs",
        "/openapi.json",
        [operation.path for operation in OPERATIONS],
        [f"/v1/{resource.name}" for resource in RESOURCES],
    )
    return reply(msgspec.json.encode(found), ASKED_AGAIN, headers={**BY_ACCEPT, "link": LINKS})


@route("/livez", http_method=GET_AND_HEAD)
async def live(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Liveness: the process answers; nothing else is touched."""
    check_asked(request)
    return reply(msgspec.json.encode(Alive("alive")), NOT_KEPT)


@route("/readyz", http_method=GET_AND_HEAD)
async def ready(request: Request[Any, Any, Any], state: State) -> Response[bytes]:
    """Readiness: a published example is recomputed. A quota store that is down is told and does not make it unready."""
    check_asked(request)
    if STOPPING.is_set():
        raise HttpProblem("stopping", "The service was told to stop; send new requests elsewhere.")
    check()
    return reply(msgspec.json.encode(Ready("ready", __version__, state.counters.standing)), NOT_KEPT)


@route("/version", http_method=GET_AND_HEAD)
async def version(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Which release answers, and by which description."""
    check_asked(request)
    return reply(msgspec.json.encode(Version(__version__, _checksum())), NOT_KEPT)


@cache
def _checksum() -> str:
    return sha256(rendered()).hexdigest()


@route("/problems/{kind:str}", http_method=GET_AND_HEAD)
async def problem_page(kind: FromPath[str]) -> Response[bytes]:
    """What a kind of problem means: where its `type` leads."""
    found = KINDS.get(kind)
    if found is None:
        raise HttpProblem("not-found", "No kind of problem has this name.")
    return reply(f"{found.title} ({found.status})\n\n{found.meaning}\n".encode(), FOR_AN_HOUR, "text/plain")


HANDLERS: Final[tuple[Router | HTTPRouteHandler, ...]] = (
    *(_catalogue(resource) for resource in RESOURCES),
    description,
    docs_page,
    docs_script,
    docs_style,
    index,
    live,
    ready,
    version,
    problem_page,
)
