"""The pictures of an answer: asked for by Accept or by `as`, and the same question as the numbers."""

from __future__ import annotations

from typing import Any
from xml.etree import ElementTree as ET

import msgspec
import pytest
from httpx import Response
from litestar.testing import TestClient

from service.api.models.lifter import DEMO_LIFTER
from service.api.models.operation import Example, Operation
from service.api.operations.registry import OPERATIONS
from service.app import create_app
from service.settings import Settings

client: TestClient[Any] = TestClient(create_app(Settings()), raise_server_exceptions=False)
PICTURED = [(operation, operation.examples[0]) for operation in OPERATIONS if operation.picture]


def ask(operation: Operation, example: Example, query: str = "", **headers: str) -> Response:
    sent = {"content-type": "application/json", **headers}
    return client.post(operation.path + query, content=msgspec.json.encode(example.request), headers=sent)


def operation_named(name: str) -> Operation:
    return next(operation for operation in OPERATIONS if operation.name == name)


def test_seven_operations_have_pictures() -> None:
    assert {operation.name for operation, _ in PICTURED} == {
        "adjustments",
        "return-plan",
        "joint-demand",
        "spinal-load",
        "load-for-reps",
        "week-demand",
        "week-adjustments",
    }


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
        ("image/png, image/*;q=0.8", "image/png"),
        ("image/avif, image/webp, image/svg+xml, image/*;q=0.8", "image/svg+xml"),
    ],
)
def test_the_form_preferred_is_given_and_said_to_vary(accept: str, media_type: str) -> None:
    operation, example = PICTURED[0]
    found = ask(operation, example, accept=accept)
    assert (found.status_code, found.headers["content-type"], found.headers["vary"]) == (200, media_type, "accept")


@pytest.mark.parametrize(("operation", "example"), PICTURED, ids=lambda value: getattr(value, "name", None))
def test_a_png_has_the_pixels_of_its_page_and_twice_as_many_where_they_are_wanted(
    operation: Operation, example: Example
) -> None:
    for page in range(1, int(ask(operation, example, "?as=png").headers["pages"]) + 1):
        root = ET.fromstring(ask(operation, example, f"?as=svg&page={page}").text)  # noqa: S314 - our own answer
        wide, high = int(root.attrib["width"]), int(root.attrib["height"])
        for scale in (1, 2):
            found = ask(operation, example, f"?as=png&page={page}&scale={scale}")
            assert (found.status_code, found.headers["content-type"]) == (200, "image/png")
            assert size_of_png(found.content) == (scale * wide, scale * high)
    assert ask(operation, example, accept="image/png").content == ask(operation, example, "?as=png").content


@pytest.mark.parametrize(
    ("query", "name", "allowed"),
    [
        ("?as=svg&page=0", "page", "a whole number 1 to 99"),
        ("?as=svg&page=+1", "page", "a whole number 1 to 99"),
        ("?as=svg&page=", "page", "a whole number 1 to 99"),
        ("?as=svg&page=99", "page", "a whole number 1 to 5"),
        ("?as=png&page=²", "page", "a whole number 1 to 99"),
        ("?as=png&page=1&page=1", "page", "once"),
        ("?page=2", "page", "with as=svg or as=png"),
        ("?as=png&scale=3", "scale", "a whole number 1 to 2"),
        ("?as=svg&scale=2", "scale", "with as=png"),
    ],
)
def test_what_is_no_page_or_scale_is_refused_by_name(query: str, name: str, allowed: str) -> None:
    operation, example = PICTURED[0]
    found = ask(operation, example, query)
    assert (found.status_code, found.headers["content-type"]) == (422, "application/problem+json")
    assert [(error["parameter"], error["allowed"]) for error in found.json()["errors"]] == [(name, allowed)]


@pytest.mark.parametrize("form", ["json", "svg", "png"])
def test_what_is_meant_where_it_is_left_out_may_be_said(form: str) -> None:
    operation, example = PICTURED[0]
    said = ask(operation, example, f"?as={form}&page=1&scale=1")
    assert (said.status_code, said.content) == (200, ask(operation, example, f"?as={form}").content)


def test_a_picture_with_one_page_says_so() -> None:
    operation = operation_named("load-for-reps")
    assert ask(operation, operation.examples[0], "?as=svg").headers["pages"] == "1"
    [error] = ask(operation, operation.examples[0], "?as=svg&page=2").json()["errors"]
    assert (error["detail"], error["allowed"]) == ("The picture has one page.", "1")


def size_of_png(data: bytes) -> tuple[int, int]:
    """Width and height as the file's header has them [px]."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    return int.from_bytes(data[16:20], "big"), int.from_bytes(data[20:24], "big")


def test_as_outranks_accept() -> None:
    operation, example = PICTURED[0]
    assert ask(operation, example, "?as=json", accept="image/svg+xml").headers["content-type"] == "application/json"
    assert ask(operation, example, "?as=svg", accept="application/json").headers["content-type"] == "image/svg+xml"


@pytest.mark.parametrize("query", ["?as=gif", "?as=", "?as=svg&as=svg", "?form=svg", "?as=svg&x=1"])
def test_another_form_or_parameter_is_refused(query: str) -> None:
    operation, example = PICTURED[0]
    assert ask(operation, example, query).status_code == 400


@pytest.mark.parametrize("query", ["?as=svg", "?as=png", "?page=1", "?scale=1"])
def test_operation_without_picture_takes_no_form_of_one(query: str) -> None:
    tempo = operation_named("tempo")
    assert ask(tempo, tempo.examples[0], query).status_code == 400
    assert ask(tempo, tempo.examples[0], accept="image/svg+xml").status_code == 406


def test_refusal_of_a_picture_is_a_problem_and_not_a_picture() -> None:
    joint_demand = operation_named("joint-demand")
    without_a_model = {
        "lifter": DEMO_LIFTER,
        "setups": [{"label": "leg press", "exercise": "leg_press", "load": {"value": 60, "unit": "kg"}}],
    }
    found = ask(joint_demand, Example("leg-press", "", without_a_model), accept="image/svg+xml")
    assert (found.status_code, found.headers["content-type"]) == (422, "application/problem+json")


ALL_EXAMPLES = [(operation, example) for operation, _ in PICTURED[:2] for example in operation.examples]


@pytest.mark.parametrize(("operation", "example"), ALL_EXAMPLES, ids=lambda value: getattr(value, "name", None))
def test_every_answer_of_the_main_job_is_a_picture(operation: Operation, example: Example) -> None:
    answer = ask(operation, example).json()
    pages = [ask(operation, example, accept="image/svg+xml")]
    pages += [ask(operation, example, f"?as=svg&page={page}") for page in range(2, int(pages[0].headers["pages"]) + 1)]
    assert {(page.status_code, page.headers["content-type"]) for page in pages} == {(200, "image/svg+xml")}
    shown = [text for page in pages for text in words(page.text)]
    if answer["decision"] == "refer":
        assert "Stop and refer" in shown
    for option in answer.get("options", []):
        assert any(text.startswith(f"{option['rank']}. Change of ") for text in shown)
    for step in answer.get("steps", []):
        assert any(text.startswith(f"Week {step['week']}: ") for text in shown)


SIGN = {"signs": ["bladder_change"]}


@pytest.mark.parametrize(
    ("name", "change", "said"),
    [
        ("adjustments", {"complaint": {"region": "low_back", "pain_in_session": 4, **SIGN}}, "Stop and refer"),
        ("adjustments", {"complaint": {"region": "low_back", "pain_in_session": 1}}, "No change needed"),
        ("adjustments", {"circumstances": {"pregnant": True}}, "Confirm with a professional first"),
        ("adjustments", {"constraints": {"levers": ["rest"]}}, "Nothing allowed here reaches the target"),
        ("adjustments", {"limit": 1}, "Front squat, sore low back: 1 option"),
        ("return-plan", SIGN, "Stop and refer"),
        ("week-adjustments", {"complaint": {"region": "low_back", "pain_in_session": 4, **SIGN}}, "Stop and refer"),
        ("week-adjustments", {"complaint": {"region": "low_back", "pain_in_session": 1}}, "No change needed"),
        ("week-adjustments", {"complaint": {"region": "low_back", "pain_in_session": 9}}, "Pause and review"),
        ("week-adjustments", {"constraints": {"levers": ["rest"]}}, "The week, sore low back: no options"),
    ],
)
def test_an_answer_without_options_is_said_in_words(name: str, change: dict[str, Any], said: str) -> None:
    operation = operation_named(name)
    example = operation.examples[0]
    asked = Example(example.name, example.summary, {**example.request, **change})
    found = ask(operation, asked, accept="image/svg+xml")
    assert (found.status_code, found.headers["content-type"]) == (200, "image/svg+xml")
    assert said in words(found.text)


def words(svg: str) -> list[str]:
    root = ET.fromstring(svg)  # noqa: S314 - our own answer
    return [element.text or "" for element in root.iter("{http://www.w3.org/2000/svg}text")]
