"""The demo prints every example of every operation with its whole answer: nothing left out, nothing changed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Final

import msgspec
import pytest

from service.api.models.operation import Example, Operation
from service.api.operations.registry import OPERATIONS
from service.cli import main
from service.demo import report
from tests.support.asking import ask

EXAMPLES: Final = [(operation, example) for operation in OPERATIONS for example in operation.examples]
HEADING: Final = re.compile(r"^== (.+) \(POST (/\S+)\)$", re.MULTILINE)


@pytest.fixture(scope="module")
def sections() -> list[str]:
    """What stands under each heading, words parted by single spaces."""
    return [" ".join(text.split()) for text in HEADING.split(report())[3::3]]


def test_every_example_has_its_heading_the_main_job_first() -> None:
    wanted = [(f"{operation.summary}: {example.summary}", operation.path) for operation, example in EXAMPLES]
    assert HEADING.findall(report()) == wanted
    assert wanted[0][1].endswith("/adjustments")
    assert {path for _, path in wanted} == {operation.path for operation in OPERATIONS}


@pytest.mark.parametrize(
    "number", range(len(EXAMPLES)), ids=[f"{operation.name}:{example.name}" for operation, example in EXAMPLES]
)
def test_the_whole_answer_is_printed_in_its_order(sections: list[str], number: int) -> None:
    operation, example = EXAMPLES[number]
    text, place = sections[number], 0
    for said in printed(answer_to(operation, example)):
        found = text.find(said, place)
        assert found >= 0, f"{said!r} is not printed after {text[max(0, place - 60) : place]!r}"
        place = found + len(said)
    assert text[place:].strip(" -") == ""


def answer_to(operation: Operation, example: Example) -> Any:  # noqa: ANN401 - any JSON
    return msgspec.to_builtins(ask(operation.name, example.request))


def printed(value: Any) -> Iterator[str]:  # noqa: ANN401 - any JSON
    """What must be read of an answer, in its order: every name, text and number; a message's values are in its text."""
    if isinstance(value, dict):
        if "interval" in value and "value" in value:
            yield f"{value['value']:.4g} ({value['low']:.4g} to {value['high']:.4g})"
            yield value.get("unit", "")
        elif "interval" in value:
            yield f"{value['low']} to {value['high']}"
        elif value.keys() == {"code", "values", "text"}:
            yield f"{' '.join(value['text'].split())} [{value['code']}]"
        else:
            yield from in_full(value)
    elif isinstance(value, list):
        for item in value or ["none"]:
            yield from printed(item)
    elif value is None:
        yield "not stated"
    elif isinstance(value, float):
        yield f"{value:g}"
    else:
        yield " ".join(str(value).split())


def in_full(value: dict[str, Any]) -> Iterator[str]:
    """The names of a table with what they stand for; of a quantity and a range the values alone."""
    bare = value.keys() in ({"value", "unit"}, {"low", "high"})
    for name, item in value.items():
        if not bare:
            yield f"{name}:"
        yield from printed(item)


def test_the_command_prints_the_report(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo"]) == 0
    assert capsys.readouterr().out == report()
