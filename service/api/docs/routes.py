"""The page served, with its script and style: GET /docs."""

from __future__ import annotations

from typing import Final

from litestar import MediaType, Response, Router, route

from service.api.docs.page import POLICY, SCRIPT, STYLE, page
from service.api.replies import GET_AND_HEAD, REVALIDATED, reply


@route("/", http_method=GET_AND_HEAD)
async def docs_page() -> Response[bytes]:
    """The page on which every operation can be tried."""
    return reply(page(), REVALIDATED, MediaType.HTML, {"content-security-policy": POLICY})


@route("/page.js", http_method=GET_AND_HEAD)
async def docs_script() -> Response[bytes]:
    """The script of the page."""
    return reply(SCRIPT, REVALIDATED, "text/javascript")


@route("/page.css", http_method=GET_AND_HEAD)
async def docs_style() -> Response[bytes]:
    """The style of the page."""
    return reply(STYLE, REVALIDATED, "text/css")


DOCS: Final = Router("/docs", route_handlers=[docs_page, docs_script, docs_style])
