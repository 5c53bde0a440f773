"""GET /v1/messages: every sentence of an answer can be looked up by its code, with the values that it has."""

from __future__ import annotations

from collections.abc import Iterator
from string import Formatter
from typing import Any, Final

import pytest

from service.api.operations.registry import OPERATIONS
from service.messages.catalogue import CATALOGUE
from tests.support.client_sentences import ClientSentences
from tests.support.in_process import EXAMPLES, client

app: Final = client()
LISTED: Final[dict[str, dict[str, Any]]] = {entry["id"]: entry for entry in app.get("/v1/messages").json()["messages"]}
SHOWN_AS: Final[dict[str, type[Any] | tuple[type[Any], ...]]] = {
    "number": (int, float), "share": (int, float), "quantity": dict, "reps": dict, "prescription": dict, "message": dict
}  # fmt: skip
"""How answers show values of a kind; of the others as text."""


def messages(value: object) -> Iterator[dict[str, Any]]:
    """The messages in an answer, and those in their values."""
    if isinstance(value, dict):
        if value.keys() == {"code", "values", "text"}:
            yield value
        for inner in value.values():
            yield from messages(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from messages(inner)


def test_every_code_is_listed_once_and_by_itself() -> None:
    assert LISTED.keys() == CATALOGUE.keys()
    for code in list(LISTED)[::50]:
        assert app.get(f"/v1/messages/{code}").json() == LISTED[code]


def test_the_description_lists_the_codes() -> None:
    parameter = app.get("/openapi.json").json()["paths"]["/v1/messages/{id}"]["get"]["parameters"][0]
    schema = parameter["schema"]
    if "$ref" in schema:
        schema = app.get("/openapi.json").json()["components"]["schemas"][schema["$ref"].rpartition("/")[2]]
    assert sorted(schema["enum"]) == sorted(LISTED)


@pytest.mark.parametrize(("operation", "example"), EXAMPLES, ids=lambda part: part.name)
def test_what_an_answer_says_has_the_values_that_are_listed(operation: Any, example: Any) -> None:  # noqa: ANN401
    """The values of a sentence are those of its entry, each of its kind."""
    said = list(messages(app.post(operation.path, json=example.request).json()))
    assert said
    for message in said:
        entry = LISTED[message["code"]]
        assert [value["name"] for value in entry["values"]] == list(message["values"]), message["code"]
        for value in entry["values"]:
            stated = message["values"][value["name"]]
            assert isinstance(stated, list) == value["listed"]
            for one in stated if value["listed"] else [stated]:
                assert isinstance(one, SHOWN_AS.get(value["kind"], str)), (message["code"], value["name"])
        if not entry["values"]:
            assert message["text"] == entry["text"]


def test_a_template_has_a_place_for_each_of_its_values() -> None:
    for entry in LISTED.values():
        places = {name for _, name, _, _ in Formatter().parse(entry["text"]) if name}
        assert places == {value["name"] for value in entry["values"]}, entry["id"]


def test_every_operation_says_something() -> None:
    """The examples above are of every operation, so that none is left out."""
    assert {operation.name for operation, _ in EXAMPLES} == {operation.name for operation in OPERATIONS}


def varied(asked: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The question, and for a complaint others about it: each tier, other regions, everything told."""
    yield asked
    if "complaint" not in asked:
        return
    full = {"detail": "full"} if "aim" in asked and "prescription" in asked else {}
    for score in (1, 6, 8):
        yield asked | full | {"complaint": asked["complaint"] | {"pain_in_session": score}}
    for region in ("knee", "shoulder", "front_of_knee"):
        yield asked | full | {"complaint": {"region": region, "pain_in_session": 4}}
    yield asked | full | {"complaint": asked["complaint"] | {"signs": ["saddle_numbness"]}}


@pytest.mark.parametrize(("operation", "example"), EXAMPLES, ids=lambda part: part.name)
def test_a_client_can_make_each_sentence_of_what_is_listed(operation: Any, example: Any) -> None:  # noqa: ANN401
    sentences = ClientSentences(app.get("/v1/messages").json())
    made = 0
    for asked in varied(example.request):
        reply = app.post(operation.path, json=asked)
        if reply.status_code != 200:  # a region that the example's cues or limits do not go with
            continue
        for message in messages(reply.json()):
            text = sentences.text(message)
            made += text is not None
            assert text in (None, message["text"]), message["code"]
    assert made


def test_the_words_of_ids_are_in_the_language_asked_for() -> None:
    spanish = app.get("/v1/messages", headers={"accept-language": "es"}).json()["kinds"]
    moments = {word["id"]: word["word"] for kind in spanish if kind["id"] == "pain_moment" for word in kind["words"]}
    assert moments["at_rest"] == "en reposo"
    lifts = {word["form"] for kind in spanish if kind["id"] == "exercise" for word in kind["words"]}
    assert {"", "the"} <= lifts
