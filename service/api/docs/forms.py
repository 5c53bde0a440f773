"""The forms of the page, one for each method of a path, filled with the examples of the operation."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final
from urllib.parse import urlencode

import msgspec

from service.api.docs.guide.writing import written
from service.api.docs.reference import Reference
from service.api.openapi.post_operations import JSON
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.api.serialization.query import FORM, QueryForm
from service.http.media_types import HTML, SVG

MOST_ROWS: Final = 14
"""Lines of a question that are shown at once."""
LONGEST_LINE: Final = 300
"""Characters of a line of an answer that are shown."""


class Example(msgspec.Struct, frozen=True):
    """A question by its words: as a body, and as a query, empty where it has none."""

    summary: str
    body: str
    query: str


class AddressForm(msgspec.Struct, frozen=True):
    """What a question by its address can be asked for: forms of the answer, and a pointer into it."""

    forms: list[str]
    pointer: str


class Forms(msgspec.Struct, frozen=True):
    """How a path is tried.

    Attributes:
        examples: questions to choose from, none where nothing is asked
        media_type: of the body, empty where none is sent
        rows: lines of the first body
        choices: each parameter with a closed list of values, where there is no question; the first value empty where
            it may be left out
        address: of an operation that can be asked by its address
        picture: whether its answer can be drawn
        report: whether its answer can be a report for people
        answer: the first example of the answer and its media type, empty where there is none; of a long line as
            tables have it the beginning
    """

    examples: list[Example]
    media_type: str
    rows: int
    choices: dict[str, list[str]]
    address: AddressForm | None
    picture: bool
    report: bool
    answer: tuple[str, str]


def forms(path: str, methods: Mapping[str, Any], reference: Reference) -> Forms:
    """The forms of a path of the description; methods: each as described."""
    queries = _queries(path)
    first = methods.get("post") or methods["get"]
    questions = list(reference.question_examples(first))
    examples = [Example(summary, text(value), queries.get(summary, "")) for _, summary, value in questions]
    forms_of_answer = first["responses"]["200"].get("content", {})
    answer = next(reference.answer_examples(first), ("", ""))
    return Forms(
        examples=examples,
        media_type=questions[0][0] if questions else "",
        rows=min(examples[0].body.count("\n") + 1, MOST_ROWS) if examples else 0,
        choices={} if examples else reference.choices(first),
        address=_address(methods["get"], reference) if queries else None,
        picture=SVG.decode() in forms_of_answer,
        report=HTML.decode() in forms_of_answer and bool(examples),
        answer=(answer[0], _begun(text(answer[1]))),
    )


def text(value: Any) -> str:
    """A value as it is sent or shown: text as it is, else JSON."""
    return value if isinstance(value, str) else written(value)


def _begun(answer: str) -> str:
    """A text whose lines are cut where they are longer than anybody reads."""
    return "\n".join(line if len(line) <= LONGEST_LINE else f"{line[:LONGEST_LINE]} …" for line in answer.splitlines())


def _queries(path: str) -> dict[str, str]:
    """The queries that ask the examples of a computation by its address, by the examples' words."""
    for operation in OPERATIONS:
        if operation.path == path:
            reader: Reader[Any] = Reader(operation.request)
            flat = QueryForm(operation, reader).flat
            return {
                example.summary: urlencode(flat.to_texts(reader.fit(example.request)), safe=",;")
                for example in operation.examples
            }
    return {}


def _address(described: Mapping[str, Any], reference: Reference) -> AddressForm:
    answer = dict(reference.answer_examples(described))[JSON]
    return AddressForm(list(filter(None, reference.choices(described)[FORM])), _first_value(answer))


def _first_value(answer: Any) -> str:
    """The JSON Pointer of the first single value of an answer."""
    if isinstance(answer, dict):
        name, value = next(iter(answer.items()))
        return f"/{name}{_first_value(value)}"
    return f"/0{_first_value(answer[0])}" if isinstance(answer, list) else ""
