"""The page served, with its scripts, its style and what its search looks through: GET /docs. As one text: GET /docs.md."""

from __future__ import annotations

from typing import Final

from litestar import MediaType, Response, Router, route
from litestar.handlers import HTTPRouteHandler

from service.api.docs.as_text import documentation
from service.api.docs.page import FILES, POLICY, page
from service.api.docs.search_index import search_index
from service.api.replies import GET_AND_HEAD, REVALIDATED, reply

PATH: Final = "/docs"
TEXT_PATH: Final = "/docs.md"
INDEX: Final = "search.json"
# what is made once takes a second, in which the event loop goes on


@route("/", http_method=GET_AND_HEAD, sync_to_thread=True)
def docs_page() -> Response[bytes]:
    """The page with the guide, the reference, and forms to try every operation."""
    return reply(page(), REVALIDATED, MediaType.HTML, {"content-security-policy": POLICY})


@route(f"/{INDEX}", http_method=GET_AND_HEAD, sync_to_thread=True)
def docs_index() -> Response[bytes]:
    """What can be searched for on the page."""
    return reply(search_index(), REVALIDATED)


@route(TEXT_PATH, http_method=GET_AND_HEAD, sync_to_thread=True)
def docs_text() -> Response[bytes]:
    """The whole documentation as Markdown."""
    return reply(documentation(), REVALIDATED, "text/markdown")


def _file(name: str) -> HTTPRouteHandler:
    body, media_type = FILES[name]

    @route(f"/{name}", http_method=GET_AND_HEAD)
    async def docs_file() -> Response[bytes]:
        return reply(body, REVALIDATED, media_type)

    return docs_file


DOCS: Final = Router(PATH, route_handlers=[docs_page, docs_index, *map(_file, FILES)])
DOCS_PATHS: Final = (PATH, TEXT_PATH, *(f"{PATH}/{name}" for name in (INDEX, *FILES)))
"""Everything that belongs to the page, and the text."""
