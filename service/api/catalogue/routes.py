"""The catalogue served: GET /v1/{resource} and GET /v1/{resource}/{id}, encoded once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import msgspec
from litestar import Request, Response, Router, route
from litestar.params import FromPath

from service.api.catalogue.markdown import FORMS
from service.api.catalogue.resources import RESOURCES, Resource, name_of
from service.api.replies import FOR_AN_HOUR, GET_AND_HEAD, check_chosen_request, check_plain_request, reply
from service.api.serialization.language_parameter import LANGUAGE, ONLY_LANGUAGE
from service.api.serialization.query import FORM
from service.api.serialization.suggestions import near, question
from service.http.media_types import JSON, MARKDOWN
from service.http.problems import HttpProblem
from service.knowledge.languages import ENGLISH, LANGUAGES
from service.messages import speaking, spoken_language

JSON_FORM, MARKDOWN_FORM = FORMS
MEDIA_TYPES: Final = {JSON_FORM: JSON.decode(), MARKDOWN_FORM: MARKDOWN.decode()}


class Encoded(msgspec.Struct, frozen=True):
    """What is sent of a list of the catalogue in one language.

    Attributes:
        lists: the list by what cuts it, empty where nothing does, and by its form
        by_id: each entry
    """

    lists: Mapping[tuple[str, str], bytes]
    by_id: Mapping[str, bytes]


def _encoded(resource: Resource) -> Encoded:
    """In the language that is spoken."""
    name, entries, cut = name_of(resource.entry), resource.said(), resource.filter
    beside = {field: made() for field, made in resource.beside.items()}
    lists = {}
    for value, ids in {"": entries, **(cut.ids if cut else {})}.items():
        listed = [entries[key] for key in ids]
        lists[value, JSON_FORM] = msgspec.json.encode({name: listed, **beside})
        if resource.to_read:
            lists[value, MARKDOWN_FORM] = resource.to_read(listed).encode()
    return Encoded(lists, {key: msgspec.json.encode(entry) for key, entry in entries.items()})


def _router(resource: Resource) -> Router:
    cut, choices = resource.filter, resource.choices
    encoded: dict[str, Encoded] = {}
    for tag in LANGUAGES:
        with speaking(tag):
            encoded[tag] = _encoded(resource) if resource.spoken or not encoded else encoded[ENGLISH.tag]

    def check_entry_request(request: Request[Any, Any, Any]) -> None:
        if resource.spoken and LANGUAGE in request.query_params:
            raise HttpProblem("unknown-parameter", f"Of the query {ONLY_LANGUAGE}.")
        check_plain_request(request)

    def check_list_request(request: Request[Any, Any, Any]) -> None:
        if not choices or LANGUAGE in request.query_params:
            check_entry_request(request)
        else:
            check_chosen_request(request, choices)

    @route("/", http_method=GET_AND_HEAD, before_request=check_list_request)
    async def listing(request: Request[Any, Any, Any]) -> Response[bytes]:
        query, lists = request.query_params, encoded[spoken_language()].lists
        form = query.get(FORM, JSON_FORM)
        chosen = lists[query.get(cut.parameter, "") if cut else "", form]
        return reply(chosen, FOR_AN_HOUR, MEDIA_TYPES[form])

    @route("/{entry_id:str}", http_method=GET_AND_HEAD, before_request=check_entry_request)
    async def entry(entry_id: FromPath[str]) -> Response[bytes]:
        by_id = encoded[spoken_language()].by_id
        if entry_id not in by_id:
            words = f"No entry of {resource.name} has this id; GET /v1/{resource.name} lists them."
            meant = near(entry_id, by_id)
            raise HttpProblem("not-found", f"{words} {question(meant)}".rstrip(), did_you_mean=meant)
        return reply(by_id[entry_id], FOR_AN_HOUR)

    return Router(f"/{resource.name}", route_handlers=[listing, entry])


CATALOGUE: Final = Router("/v1", before_request=check_plain_request, route_handlers=list(map(_router, RESOURCES)))
