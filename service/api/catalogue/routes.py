"""The catalogue served: GET /v1/{resource} and GET /v1/{resource}/{id}, encoded once."""

from __future__ import annotations

from typing import Any, Final

import msgspec
from litestar import Request, Response, Router, route
from litestar.params import FromPath

from service.api.catalogue.models import RESOURCES, Resource, name_of
from service.api.replies import FOR_AN_HOUR, GET_AND_HEAD, check_filtered_request, check_plain_request, reply
from service.api.serialization.suggestions import near, question
from service.http.problems import HttpProblem


def _router(resource: Resource) -> Router:
    name, cut = name_of(resource.entry), resource.filter
    everything = msgspec.json.encode({name: list(resource.entries.values())})
    parts = {
        value: msgspec.json.encode({name: [resource.entries[key] for key in ids]})
        for value, ids in (cut.ids if cut else {}).items()
    }
    by_id = {key: msgspec.json.encode(entry) for key, entry in resource.entries.items()}

    def check_list_request(request: Request[Any, Any, Any]) -> None:
        if cut is None:
            check_plain_request(request)
        else:
            check_filtered_request(request, cut.parameter, cut.ids)

    @route("/", http_method=GET_AND_HEAD, before_request=check_list_request)
    async def listing(request: Request[Any, Any, Any]) -> Response[bytes]:
        return reply(
            parts[request.query_params[cut.parameter]] if cut and request.query_params else everything, FOR_AN_HOUR
        )

    @route("/{entry_id:str}", http_method=GET_AND_HEAD)
    async def entry(entry_id: FromPath[str]) -> Response[bytes]:
        if entry_id not in by_id:
            words = f"No entry of {resource.name} has this id; GET /v1/{resource.name} lists them."
            meant = near(entry_id, by_id)
            raise HttpProblem("not-found", f"{words} {question(meant)}".rstrip(), did_you_mean=meant)
        return reply(by_id[entry_id], FOR_AN_HOUR)

    return Router(f"/{resource.name}", route_handlers=[listing, entry])


CATALOGUE: Final = Router("/v1", before_request=check_plain_request, route_handlers=list(map(_router, RESOURCES)))
