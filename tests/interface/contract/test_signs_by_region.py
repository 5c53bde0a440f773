"""GET /v1/signs?region=…: the signs to ask about where something hurts, and what is not taken."""

from __future__ import annotations

import pytest

from service.knowledge.signs import URGENCIES
from service.vocabulary import REGIONS
from tests.support.live import Live

ALL = "/v1/signs"


@pytest.mark.parametrize("region", REGIONS)
def test_the_signs_of_a_region_are_entries_of_the_whole_list(region: str, served: Live) -> None:
    whole = {entry["id"]: entry for entry in served.ask("GET", ALL).json()["signs"]}
    reply = served.ask("GET", f"{ALL}?region={region}")
    assert reply.status == 200
    listed = reply.json()["signs"]
    assert all(entry == whole[entry["id"]] for entry in listed)
    assert {entry["id"] for entry in listed} == {
        entry["id"] for entry in whole.values() if not entry["regions"] or region in entry["regions"]
    }
    assert 0 < len(listed) < len(whole)
    head = served.ask("HEAD", f"{ALL}?region={region}")
    assert (head.status, head.headers["etag"]) == (200, reply.headers["etag"])


@pytest.mark.parametrize(
    "query",
    [
        "region=foot",
        "region=",
        "region=Ankle",
        "region=ankle&region=knee",
        "age=16",
        "region=ankle&age=16",
        "region=%00",
    ],
)
def test_another_parameter_or_a_region_that_is_none_is_refused(query: str, served: Live) -> None:
    reply = served.ask("GET", f"{ALL}?{query}")
    problem = reply.json()
    assert (reply.status, problem["type"]) == (400, "/problems/unknown-parameter")
    assert "region" in problem["detail"]


@pytest.mark.parametrize("path", ["/v1/signs/bladder_change", "/v1/regions", "/v1/sources"])
def test_other_lists_and_single_signs_take_no_region(path: str, served: Live) -> None:
    assert served.ask("GET", f"{path}?region=ankle").status == 400


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("query", ["", "region=shoulder&"])
def test_signs_are_read_in_a_shell_by_what_to_do_the_most_urgent_first(query: str, language: str, served: Live) -> None:
    listed = served.ask("GET", f"{ALL}?{query}language={language}").json()["signs"]
    reply = served.ask("GET", f"{ALL}?{query}as=markdown&language={language}")
    assert (reply.status, reply.headers["content-type"]) == (200, "text/markdown; charset=utf-8")
    assert reply.headers["content-language"] == language
    text = reply.body.decode()
    lines = [line for line in text.splitlines() if line]
    unreviewed = lines.pop(0) if language == "es" else ""
    assert ("English" in unreviewed or "inglés" in unreviewed) == (language == "es")
    does, read = "", []
    for line in lines:
        if line.startswith("**"):
            does = line.strip("*")
        else:
            read.append((line, does))
    assert sorted(read) == sorted((f"- `{one['id']}`: {one['text']}", one["what_to_do"]) for one in listed)
    order = [next(one["urgency"] for one in listed if one["what_to_do"] == does) for _, does in read]
    assert order == sorted(order, key=lambda urgency: URGENCIES[urgency].rank)


def test_a_form_that_a_list_has_not_is_refused_with_those_that_it_has(served: Live) -> None:
    for query in ("as=text", "as=markdown&as=json", "fields=signs", "region=ankle&as="):
        assert served.ask("GET", f"{ALL}?{query}").status == 400
    problem = served.ask("GET", f"{ALL}?as=text").json()
    assert "json, markdown" in problem["detail"]
    assert served.ask("GET", "/v1/regions?as=markdown").status == 400
