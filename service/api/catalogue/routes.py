"""The catalogue served: GET /v1/{resource} and GET /v1/{resource}/{id}, encoded once."""

from __future__ import annotations

from typing import Final

import msgspec
from litestar import Response, Router, route
from litestar.params import FromPath

from service.api.catalogue.models import RESOURCES, Resource, name_of
from service.api.replies import FOR_AN_HOUR, GET_AND_HEAD, check_plain_request, reply
from service.http.problems import HttpProblem


def _router(resource: Resource) -> Router:
    everything = msgspec.json.encode({name_of(resource.entry): list(resource.entries.values())})
    by_id = {key: msgspec.json.encode(entry) for key, entry in resource.entries.items()}

    @route("/", http_method=GET_AND_HEAD)
    async def listing() -> Response[bytes]:
        return reply(everything, FOR_AN_HOUR)

    @route("/{entry_id:str}", http_method=GET_AND_HEAD)
    async def entry(entry_id: FromPath[str]) -> Response[bytes]:
        if entry_id not in by_id:
            raise HttpProblem(
                "not-found", f"No entry of {resource.name} has this id; GET /v1/{resource.name} lists them."
            )
        return reply(by_id[entry_id], FOR_AN_HOUR)

    return Router(f"/{resource.name}", route_handlers=[listing, entry])


CATALOGUE: Final = Router("/v1", before_request=check_plain_request, route_handlers=list(map(_router, RESOURCES)))
