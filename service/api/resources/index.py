"""Where things are: GET /."""

from __future__ import annotations

from typing import Any, Final

import msgspec
from litestar import Request, Response, route

from service.api.catalogue.models import RESOURCES
from service.api.evidence.models import PATH as EVIDENCE
from service.api.models.service_state import Index
from service.api.operations.registry import OPERATIONS
from service.api.replies import BY_ACCEPT, GET_AND_HEAD, HEADERS, REVALIDATED, accept_of, reply
from service.http.media_types import HTML, JSON
from service.http.negotiation import quality

LINKS: Final = '</openapi.json>; rel="service-desc", </docs>; rel="service-doc", </readyz>; rel="status"'
INDEX: Final = msgspec.json.encode(
    Index(
        "/docs",
        "/openapi.json",
        [operation.path for operation in OPERATIONS],
        [*(f"/v1/{resource.name}" for resource in RESOURCES), EVIDENCE],
    )
)


@route("/", http_method=GET_AND_HEAD)
async def index(request: Request[Any, Any, Any]) -> Response[bytes]:
    """The page for a browser, which would rather have HTML than JSON, else a short index."""
    accept = accept_of(request)
    if quality(accept, HTML) > quality(accept, JSON):
        headers = {**HEADERS, **BY_ACCEPT, "location": "/docs", "cache-control": REVALIDATED}
        return Response(b"", status_code=303, headers=headers)
    return reply(INDEX, REVALIDATED, headers={**BY_ACCEPT, "link": LINKS})
