"""The pictures of an answer: asked for by Accept or by `as`, and the same question as the numbers."""

from __future__ import annotations

from typing import Any
from xml.etree import ElementTree as ET

import msgspec
import pytest
from httpx import Response
from litestar.testing import TestClient

from service.api.operation import Example, Operation
from service.api.operations import OPERATIONS
from service.app import create_app
from service.settings import Settings

client: TestClient[Any] = TestClient(create_app(Settings()), raise_server_exceptions=False)
PICTURED = [(operation, operation.examples[0]) for operation in OPERATIONS if operation.picture]


def ask(operation: Operation, example: Example, query: str = "", **headers: str) -> Response:
    sent = {"content-type": "application/json", **headers}
    return client.post(operation.path + query, content=msgspec.json.encode(example.request), headers=sent)


def test_three_operations_have_pictures() -> None:
    assert {operation.name for operation, _ in PICTURED} == {"joint-demand", "spinal-load", "load-for-reps"}


@pytest.mark.parametrize(("operation", "example"), PICTURED, ids=lambda value: getattr(value, "name", None))
def test_accept_and_as_give_the_same_picture(operation: Operation, example: Example) -> None:
    by_header = ask(operation, example, accept="image/svg+xml")
    by_query = ask(operation, example, "?as=svg")
    assert by_header.status_code == by_query.status_code == 200
    assert by_header.headers["content-type"] == by_query.headers["content-type"] == "image/svg+xml"
    assert by_header.content == by_query.content
    assert ET.fromstring(by_header.text).tag.endswith("svg")  # noqa: S314 - our own answer


@pytest.mark.parametrize(
    ("accept", "media_type"),
    [
        ("*/*", "application/json"),
        ("image/*", "image/svg+xml"),
        ("application/json;q=0.5, image/svg+xml", "image/svg+xml"),
        ("image/svg+xml;q=0.2, application/json;q=0.9", "application/json"),
        ("image/svg+xml, */*;q=0.1", "image/svg+xml"),
    ],
)
def test_the_form_preferred_is_given_and_said_to_vary(accept: str, media_type: str) -> None:
    operation, example = PICTURED[0]
    found = ask(operation, example, accept=accept)
    assert (found.status_code, found.headers["content-type"], found.headers["vary"]) == (200, media_type, "accept")


def test_as_outranks_accept() -> None:
    operation, example = PICTURED[0]
    assert ask(operation, example, "?as=json", accept="image/svg+xml").headers["content-type"] == "application/json"
    assert ask(operation, example, "?as=svg", accept="application/json").headers["content-type"] == "image/svg+xml"


@pytest.mark.parametrize("query", ["?as=png", "?as=", "?as=svg&as=svg", "?form=svg", "?as=svg&x=1"])
def test_another_form_or_parameter_is_refused(query: str) -> None:
    operation, example = PICTURED[0]
    assert ask(operation, example, query).status_code == 400


def test_operation_without_picture_takes_no_svg() -> None:
    tempo = next(operation for operation in OPERATIONS if operation.name == "tempo")
    assert ask(tempo, tempo.examples[0], "?as=svg").status_code == 400
    assert ask(tempo, tempo.examples[0], accept="image/svg+xml").status_code == 406


def test_refusal_of_a_picture_is_a_problem_and_not_a_picture() -> None:
    presses = next(operation for operation in OPERATIONS if operation.name == "joint-demand")
    pull_ups = next(example for example in presses.examples if example.name == "pull-ups")
    found = ask(presses, pull_ups, accept="image/svg+xml")
    assert (found.status_code, found.headers["content-type"]) == (422, "application/problem+json")
