"""Reports for people: asked for by Accept or by `as`, for one of two readers, and safe to open."""

from __future__ import annotations

import re
from base64 import b64encode
from hashlib import sha256
from typing import Any

import msgspec
import pytest
from httpx import Response
from litestar.testing import TestClient

from service.api.models.operation import COST_OF_REPORT, Example, Operation
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from service.app import create_app
from service.settings import Settings

client: TestClient[Any] = TestClient(create_app(Settings()), raise_server_exceptions=False)
REPORTED = [(operation, operation.examples[0]) for operation in OPERATIONS if operation.report]
DRAWN = [operation for operation, _ in REPORTED if operation.picture]
BROWSER = "text/html,application/xhtml+xml,application/xml;q=0.9,image/avif,image/webp,*/*;q=0.8"


def ask(operation: Operation, example: Example, query: str = "", **headers: str) -> Response:
    sent = {"content-type": "application/json", **headers}
    return client.post(operation.path + query, content=msgspec.json.encode(example.request), headers=sent)


def test_four_operations_have_reports() -> None:
    names = {operation.name for operation, _ in REPORTED}
    assert names == {"adjustments", "session-review", "return-plan", "week-adjustments"}


@pytest.mark.parametrize(("form", "media_type"), [("html", "text/html"), ("markdown", "text/markdown")])
@pytest.mark.parametrize(("operation", "example"), REPORTED, ids=lambda value: getattr(value, "name", None))
def test_accept_and_as_give_the_same_report(operation: Operation, example: Example, form: str, media_type: str) -> None:
    by_header, by_query = ask(operation, example, accept=media_type), ask(operation, example, f"?as={form}")
    assert by_header.status_code == by_query.status_code == 200
    assert by_header.headers["content-type"] == by_query.headers["content-type"] == f"{media_type}; charset=utf-8"
    assert by_header.content == by_query.content
    assert "accept" in by_header.headers["vary"]
    assert ask(operation, example, f"?as={form}&for=practitioner").content == by_query.content
    assert ask(operation, example, f"?as={form}&for=lifter").content != by_query.content


@pytest.mark.parametrize(("operation", "example"), REPORTED, ids=lambda value: getattr(value, "name", None))
def test_the_page_runs_nothing_and_loads_nothing(operation: Operation, example: Example) -> None:
    found = ask(operation, example, "?as=html")
    [style] = re.findall("<style>(.*?)</style>", found.text, re.DOTALL)
    named = b64encode(sha256(style.encode()).digest()).decode()
    [policy] = found.headers.get_list("content-security-policy")
    parts = policy.split("; ")
    assert parts[:3] == ["default-src 'none'", f"style-src 'sha256-{named}'", "img-src data:"]
    assert parts[3:] == ["base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'"]
    assert "<script" not in found.text
    assert not re.search(r" (?:on\w+|style)=", found.text)
    assert set(re.findall(r'(?:src|href)="([a-z]+:)', found.text)) == {"data:"}


def test_a_link_opened_in_a_browser_shows_the_page() -> None:
    operation, example = REPORTED[0]
    found = client.get(address(operation, example), headers={"accept": BROWSER})
    assert (found.status_code, found.headers["content-type"]) == (200, "text/html; charset=utf-8")
    assert found.content == ask(operation, example, "?as=html").content
    assert client.get(address(operation, example)).headers["content-type"] == "application/json"


@pytest.mark.parametrize("operation", DRAWN, ids=lambda one: str(one.name))
def test_markdown_of_an_address_leads_to_its_picture(operation: Operation) -> None:
    for example in operation.examples:
        found = linked(client.get(f"{address(operation, example)}&as=markdown"))
        assert found is not None
        picture = client.get(found[1])
        assert (picture.status_code, picture.headers["content-type"]) == (200, "image/png")
        assert picture.content == ask(operation, example, "?as=png").content


@pytest.mark.parametrize("operation", DRAWN, ids=lambda one: str(one.name))
def test_what_came_in_a_body_is_put_into_no_address(operation: Operation) -> None:
    assert "](" not in ask(operation, operation.examples[0], "?as=markdown").text


def address(operation: Operation, example: Example) -> str:
    reader: Reader[Any] = Reader(operation.request)
    query = QueryForm(operation, reader).query(reader.read(msgspec.json.encode(example.request)))
    return f"{operation.path}?{query}"


def linked(reply: Response) -> re.Match[str] | None:
    return re.search(r"\[The picture of it\]\(([^()\s]*)\)\n$", reply.text)


@pytest.mark.parametrize(
    ("query", "allowed"),
    [
        ("?as=html&for=coach", "one of: practitioner, lifter"),
        ("?as=html&for=", "one of: practitioner, lifter"),
        ("?as=markdown&for=lifter&for=lifter", "once"),
        ("?for=lifter", "with as=html or as=markdown"),
        ("?as=svg&for=lifter", "with as=html or as=markdown"),
    ],
)
def test_what_is_no_reader_is_refused_by_name(query: str, allowed: str) -> None:
    operation, example = REPORTED[0]
    found = ask(operation, example, query)
    assert (found.status_code, found.headers["content-type"]) == (422, "application/problem+json")
    assert [(error["parameter"], error["allowed"]) for error in found.json()["errors"]] == [("for", allowed)]


def test_an_operation_without_a_report_says_so() -> None:
    operation = next(operation for operation in OPERATIONS if operation.name == "tempo")
    assert ask(operation, operation.examples[0], "?as=html").status_code == 400
    assert ask(operation, operation.examples[0], accept="text/html").status_code == 406


def test_what_is_refused_is_a_problem_in_any_form() -> None:
    operation, example = REPORTED[0]
    found = ask(operation, Example("none", "", example.request | {"limit": 0}), "?as=html")
    assert (found.status_code, found.headers["content-type"]) == (422, "application/problem+json")


@pytest.mark.parametrize(("operation", "example"), REPORTED, ids=lambda value: getattr(value, "name", None))
def test_a_report_costs_its_answer_and_as_a_page_its_picture(operation: Operation, example: Example) -> None:
    request = Reader(operation.request).read(msgspec.json.encode(example.request))
    answer = operation.charged(request)
    picture = operation.charged(request, picture=True) if operation.picture else 0
    assert operation.charged_for_report(request, pictures=True) == answer + picture + COST_OF_REPORT
    assert operation.charged_for_report(request, pictures=False) == answer + COST_OF_REPORT
