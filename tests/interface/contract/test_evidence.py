"""GET /v1/evidence: JSON for programs, a page for people, of all quantities or of one."""

from __future__ import annotations

import re
from typing import Final

import pytest

from service.knowledge.evidence import QUANTITIES
from tests.support.live import Live

PATH: Final = "/v1/evidence"
BROWSER: Final = "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8"
JSON: Final = "application/json"


@pytest.mark.parametrize(
    ("accept", "media_type"),
    [
        (None, JSON),
        ("*/*", JSON),
        (JSON, JSON),
        ("application/json, text/html;q=0.9", JSON),
        ("text/html;q=0, */*", JSON),
        (BROWSER, "text/html"),
        ("text/html", "text/html"),
        ("text/*", "text/html"),
    ],
)
def test_the_form_preferred_is_given_and_said_to_vary(accept: str | None, media_type: str, served: Live) -> None:
    reply = served.ask("GET", PATH, headers={"Accept": accept} if accept else None)
    assert (reply.status, reply.headers["content-type"].split(";")[0]) == (200, media_type)
    assert "accept" in reply.headers["vary"].replace(" ", "").split(",")
    assert reply.headers["cache-control"] == "public, max-age=3600"


@pytest.mark.parametrize("accept", ["image/svg+xml", "text/csv", "*/*;q=0", "nonsense"])
def test_another_form_is_refused(accept: str, served: Live) -> None:
    reply = served.ask("GET", PATH, headers={"Accept": accept})
    assert (reply.status, reply.json()["type"]) == (406, "/problems/not-acceptable")


@pytest.mark.parametrize("query", ["quantity=weight", "quantity=", "quantity=tempo&quantity=rest", "region=knee"])
@pytest.mark.parametrize("accept", [JSON, BROWSER])
def test_a_quantity_that_is_none_or_another_parameter_is_refused(query: str, accept: str, served: Live) -> None:
    reply = served.ask("GET", f"{PATH}?{query}", headers={"Accept": accept})
    assert (reply.status, reply.json()["type"]) == (400, "/problems/unknown-parameter")
    assert "quantity" in reply.json()["detail"]


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_one_quantity_alone(quantity: str, served: Live) -> None:
    (one,) = served.ask("GET", f"{PATH}?quantity={quantity}").json()["quantities"]
    assert one["id"] == quantity
    shown = served.ask("GET", f"{PATH}?quantity={quantity}", headers={"Accept": "text/html"}).body.decode()
    assert re.findall(r'<section id="(\w+)"><h3>', shown) == [quantity]


def test_every_source_is_in_the_catalogue(served: Live) -> None:
    found = served.ask("GET", PATH).json()
    named = {source for one in (found["context"], *found["quantities"]) for source in one["sources"]}
    assert named <= {entry["id"] for entry in served.ask("GET", "/v1/sources").json()["sources"]}


def test_page_takes_nothing_from_elsewhere_and_its_links_lead_somewhere(served: Live) -> None:
    reply = served.ask("GET", PATH, headers={"Accept": BROWSER})
    policy = dict(rule.strip().split(" ", 1) for rule in reply.headers["content-security-policy"].split(";"))
    assert {policy["default-src"], policy["frame-ancestors"], policy["form-action"]} == {"'none'"}
    assert policy["style-src"] == "'self'"
    text = reply.body.decode()
    links = set(re.findall(r'href="(/[^"]*)"', text))
    assert {link: served.ask("GET", link).status for link in links} == dict.fromkeys(links, 200)
    assert re.findall(r'(?:href|src)="(?:https?:)?//', text) == []
