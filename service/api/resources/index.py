"""Where things are: GET /v1, and GET / for whoever knows the address alone."""

from __future__ import annotations

from typing import Any, Final

import msgspec
from litestar import Request, Response, route

from service.api.openapi.index import INDEX, PATH
from service.api.replies import (
    BY_ACCEPT,
    GET_AND_HEAD,
    HEADERS,
    REVALIDATED,
    accept_of,
    check_plain_request,
    reply,
)
from service.http.media_types import HTML, JSON
from service.http.negotiation import quality

LINKS: Final = '</openapi.json>; rel="service-desc", </docs>; rel="service-doc", </readyz>; rel="status"'
ENCODED: Final = msgspec.json.encode(INDEX)


@route("/", http_method=GET_AND_HEAD)
async def root(request: Request[Any, Any, Any]) -> Response[bytes]:
    """The page for a browser, which would rather have HTML than JSON, else the index."""
    accept = accept_of(request)
    if quality(accept, HTML) > quality(accept, JSON):
        headers = {**HEADERS, **BY_ACCEPT, "location": "/docs", "cache-control": REVALIDATED}
        return Response(b"", status_code=303, headers=headers)
    return reply(ENCODED, REVALIDATED, headers={**BY_ACCEPT, "link": LINKS})


@route(PATH, http_method=GET_AND_HEAD, before_request=check_plain_request)
async def index() -> Response[bytes]:
    """The index."""
    return reply(ENCODED, REVALIDATED, headers={"link": LINKS})
