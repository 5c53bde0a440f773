"""The evidence served, to programs as JSON and to people as a page: GET /v1/evidence."""

from __future__ import annotations

from functools import cache
from typing import Any, Final

import msgspec
from litestar import Request, Response, route

from service.api.evidence.models import PARAMETER, PATH, evidence
from service.api.evidence.page import POLICY, page
from service.api.replies import BY_ACCEPT, FOR_AN_HOUR, GET_AND_HEAD, check_choices, reply
from service.http.media_types import HTML, JSON
from service.http.negotiation import negotiated
from service.knowledge.evidence import QUANTITIES

FORMS: Final = (JSON, HTML)


def _check(request: Request[Any, Any, Any]) -> None:
    check_choices(request, {PARAMETER: QUANTITIES})


@route(PATH, http_method=GET_AND_HEAD, before_request=_check)
async def evidence_of_quantities(request: Request[Any, Any, Any]) -> Response[bytes]:
    """The form that Accept prefers, JSON where it has no preference; of all quantities or of one."""
    form = negotiated({"headers": request.scope["headers"]}, FORMS)
    quantity = request.query_params.get(PARAMETER)
    if form == HTML:
        return reply(page(quantity), FOR_AN_HOUR, HTML.decode(), {**BY_ACCEPT, "content-security-policy": POLICY})
    return reply(_encoded(quantity), FOR_AN_HOUR, headers=BY_ACCEPT)


@cache
def _encoded(quantity: str | None) -> bytes:
    return msgspec.json.encode(evidence(quantity))
