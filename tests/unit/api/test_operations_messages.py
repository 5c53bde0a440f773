"""Every sentence of every answer is a message whose text follows from its code and values, as JSON shows them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import msgspec
import pytest

from service.api.models.operation import Example, Operation
from service.api.operations.registry import OPERATIONS
from service.messages import text_of
from tests.support.asking import ask

ASKED = [
    pytest.param(operation, example, id=f"{operation.name} {example.name}")
    for operation in OPERATIONS
    for example in operation.examples
]
# texts of which an answer has no message: what an interval means, what a study found, the prescription in words
NO_MESSAGE = {"interval", "finding", "condition", "measure", "value", "words"}
LONGEST_NAME = 7  # words of the name of a lift that was studied


def texts(answer: Any, name: str = "") -> Iterator[str]:  # noqa: ANN401 - any JSON
    """The texts of an answer that stand outside its messages, in each of which the text is held against its values."""
    if isinstance(answer, dict) and answer.keys() == {"code", "values", "text"}:
        assert text_of(answer["code"], answer["values"]) == answer["text"]
    elif isinstance(answer, dict):
        for field, value in answer.items():
            yield from texts(value, field)
    elif isinstance(answer, list):
        for value in answer:
            yield from texts(value, name)
    elif isinstance(answer, str) and name not in NO_MESSAGE:
        yield answer


@pytest.mark.parametrize(("operation", "example"), ASKED)
def test_no_sentence_stands_outside_the_messages(operation: Operation, example: Example) -> None:
    answer = msgspec.json.decode(msgspec.json.encode(ask(operation.name, example.request)))
    assert [text for text in texts(answer) if text.endswith(".") or len(text.split()) > LONGEST_NAME] == []
