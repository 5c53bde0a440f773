"""The description served: GET /openapi.json."""

from __future__ import annotations

from litestar import Response, route

from service.api.openapi.document import rendered
from service.api.replies import GET_AND_HEAD, REVALIDATED, check_plain_request, reply


@route("/openapi.json", http_method=GET_AND_HEAD, before_request=check_plain_request)
async def description() -> Response[bytes]:
    """The OpenAPI description, the same bytes as are checked in."""
    return reply(rendered(), REVALIDATED)
