"""The page at /docs: from this service alone, usable without sight of it, and showing every operation."""

from __future__ import annotations

import json
import re
from base64 import b64encode
from collections import Counter
from hashlib import sha256
from html.parser import HTMLParser
from typing import Final

import pytest

from service.api.docs.guide import ADDRESS
from service.api.reports.writing import STYLE as REPORT_STYLE
from tests.support.live import Live, Reply
from tests.support.paths import DESCRIPTION

FILES: Final = {
    "/docs": "text/html",
    "/docs/page.js": "text/javascript",
    "/docs/reading.js": "text/javascript",
    "/docs/page.css": "text/css",
    "/docs/search.json": "application/json",
}
CONTROLS: Final = {"input", "select", "textarea"}


class Page(HTMLParser):
    """The page's elements with their attributes, and the text inside those asked about."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.texts: dict[str, list[str]] = {"title": [], "h1": [], "label": [], "button": [], "style": [], "script": []}
        self._open: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag in self.texts:
            self.texts[tag].append("")
            self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in self._open:
            self._open.remove(tag)

    def handle_data(self, data: str) -> None:
        for tag in self._open:
            self.texts[tag][-1] += data

    def all(self, *tags: str) -> list[dict[str, str]]:
        return [attributes for tag, attributes in self.elements if tag in tags]


@pytest.fixture(scope="module")
def reply(served: Live) -> Reply:
    return served.ask("GET", "/docs")


@pytest.fixture(scope="module")
def page(reply: Reply) -> Page:
    return Page(reply.body.decode())


@pytest.mark.parametrize(("path", "media_type"), FILES.items())
def test_is_served_and_refers_to_nothing_outside(path: str, media_type: str, served: Live) -> None:
    found = served.ask("GET", path)
    assert found.status == 200
    assert found.headers["content-type"].split(";")[0] == media_type
    assert found.headers["x-content-type-options"] == "nosniff"
    text = found.body.decode()
    assert len(text) > 300
    # an address with a scheme, or one that begins with two slashes and so takes the page's own; requests of the guide
    # ask where a service starts, in whose place the page puts its own server
    foreign = re.findall(r"https?://\S*|wss?://\S*|[\"'(]//\w\S*", text)
    assert [address for address in foreign if not address.startswith(ADDRESS)] == []
    assert served.ask("HEAD", path).status == 200


def test_policy_allows_only_this_service(reply: Reply) -> None:
    policy = dict(rule.strip().split(" ", 1) for rule in reply.headers["content-security-policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert policy["frame-ancestors"] == "'none'"
    allowed = {source for sources in policy.values() for source in sources.split()}
    of_reports = f"'sha256-{b64encode(sha256(REPORT_STYLE.encode()).digest()).decode()}'"
    assert allowed <= {"'none'", "'self'", "data:", "blob:", of_reports}
    assert {policy["script-src"], policy["connect-src"]} == {"'self'"}
    assert policy["style-src"] == f"'self' {of_reports}"


def test_page_keeps_its_own_policy(page: Page) -> None:
    """Inline scripts, styles and handlers would be blocked by the policy, so there must be none."""
    assert [text for tag in ("script", "style") for text in page.texts[tag] if text.strip()] == []
    inline = [
        name for _, attributes in page.elements for name in attributes if name == "style" or name.startswith("on")
    ]
    assert inline == []


def test_every_reference_resolves(page: Page, served: Live) -> None:
    paths = {
        attributes[name]
        for attributes in page.all("a", "link", "script", "img")
        for name in ("href", "src")
        if name in attributes and not attributes[name].startswith("data:")
    }
    fragments = {path for path in paths if path.startswith("#")}
    assert {f"#{attributes['id']}" for _, attributes in page.elements if "id" in attributes} >= fragments
    paths -= fragments
    assert {"/docs/page.js", "/docs/reading.js", "/docs/page.css", "/openapi.json"} <= paths
    assert {path: served.ask("GET", path).status for path in paths} == dict.fromkeys(paths, 200)


def test_language_title_and_headings(page: Page) -> None:
    assert page.all("html") == [{"lang": "en"}]
    assert [title for title in page.texts["title"] if title.strip()] == page.texts["title"]
    assert len(page.texts["title"]) == len(page.texts["h1"]) == 1
    assert page.texts["h1"][0].strip()
    assert len(page.all("main")) == 1


def test_each_control_has_a_label(page: Page) -> None:
    controls = [attributes["id"] for attributes in page.all(*CONTROLS)]
    labelled = Counter(attributes["for"] for attributes in page.all("label"))
    assert len(controls) > 20
    assert labelled == Counter(controls)
    assert all(text.strip() for text in (*page.texts["label"], *page.texts["button"]))
    assert all(attributes.get("aria-label") for attributes in page.all("pre"))


def test_ids_are_unique(page: Page) -> None:
    ids = Counter(attributes["id"] for _, attributes in page.elements if "id" in attributes)
    assert [name for name, count in ids.items() if count > 1] == []


def test_every_operation_can_be_tried(page: Page) -> None:
    described = {
        (method.upper(), path)
        for path, methods in json.loads(DESCRIPTION.read_bytes())["paths"].items()
        for method in methods
    }
    assert {(form["data-method"], form["data-path"]) for form in page.all("form")} == described
    assert not [text for text in page.texts["title"] + page.texts["h1"] if "{{" in text]


@pytest.mark.parametrize(
    ("accept", "status"),
    [
        ("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", 303),  # as browsers send it
        ("text/html", 303),
        ("application/json, text/html;q=0.9", 200),
        ("text/html;q=0, */*", 200),
        ("application/json", 200),
        ("*/*", 200),
        (None, 200),
    ],
)
def test_root_leads_browsers_to_the_page_and_programs_to_everything(
    accept: str | None, status: int, served: Live
) -> None:
    found = served.ask("GET", "/", headers={"Accept": accept} if accept else None)
    assert "accept" in found.headers["vary"].replace(" ", "").split(",")
    assert found.status == status
    assert found.headers.get("location") == ("/docs" if status == 303 else None)
    if status == 303:
        return
    index = found.json()
    linked = re.findall(r"<([^>]*)>; rel=", found.headers["link"])
    assert index == served.ask("GET", "/v1").json()
    named = ("documentation", "guide", "documentation_as_text", "description", "messages")
    catalogue = [entry["path"] for entry in index["catalogue"]]
    paths = {*(index[name].partition("#")[0] for name in named), *catalogue, *linked}
    assert {path: served.ask("GET", path).status for path in paths} == dict.fromkeys(paths, 200)
    described = json.loads(DESCRIPTION.read_bytes())["paths"]
    posted = {path for path, methods in described.items() if "post" in methods}
    assert {entry["path"] for entry in index["operations"]} <= posted
    assert {entry["path"].replace("{operation}", "rest") for entry in index["bulk"]} <= posted
