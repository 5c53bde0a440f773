"""Every span that any operation answers with is in order, and no number in an answer is arithmetic dust.

The examples of each operation, with their numbers, lifts and optional fields drawn anew from a fixed seed.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from typing import Any, Final

import msgspec
import pytest

from service.api.models.operation import Operation
from service.api.operations.registry import OPERATIONS
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from tests.support.asking import ask

COSTLY: Final = {"adjustments", "return-plan", "joint-demand", "session-review", "week-adjustments"}
WEEKLY: Final = {"week-demand", "week-adjustments"}
LEAST: Final = 1e-9  # nothing that is asked or answered here is smaller and not nothing


def drawn(value: Any, draw: random.Random, loss: float, name: str = "") -> Any:  # noqa: ANN401, PLR0911 - any JSON
    """A part of a request with other numbers, and without some of its fields: each is lost by a chance."""
    if isinstance(value, dict):
        if value.keys() == {"low", "high"}:
            low = max(1, value["low"] + draw.randint(-4, 4))
            return {"low": low, "high": low + draw.choice([0, 0, 1, 2, 4])}
        kept = {key: part for key, part in value.items() if "value" in value or draw.random() > loss}
        return {key: drawn(part, draw, loss, key) for key, part in kept.items()}
    if isinstance(value, list):
        return [drawn(part, draw, loss) for part in value for _ in range(draw.choice([1, 1, 1, 2]))]
    if isinstance(value, bool):
        return draw.random() < 0.5
    if name == "day":
        return draw.randint(1, 7)
    if isinstance(value, int):
        return max(1 if name == "sets" else 0, value + draw.randint(-3, 3))
    if isinstance(value, float):
        return draw.choice([value, round(value * draw.uniform(0.6, 1.4), draw.choice([0, 1, 2]))])
    if name == "exercise" and draw.random() < 0.3:
        return draw.choice(list(EXERCISES))
    return value


def numbers(answer: Any, where: str = "") -> Iterator[tuple[str, float]]:  # noqa: ANN401 - any JSON
    """Every number of an answer with the pointer to it."""
    if isinstance(answer, dict):
        for key, part in answer.items():
            yield from numbers(part, f"{where}/{key}")
    elif isinstance(answer, list):
        for index, part in enumerate(answer):
            yield from numbers(part, f"{where}/{index}")
    elif isinstance(answer, int | float) and not isinstance(answer, bool):
        yield where, float(answer)


def spans(answer: Any, where: str = "") -> Iterator[tuple[str, list[float]]]:  # noqa: ANN401 - any JSON
    """Every span of an answer: low, the value where there is one, and high."""
    if isinstance(answer, dict):
        if {"low", "high"} <= answer.keys():
            ends = [answer[key] for key in ("low", "value", "high") if key in answer]
            yield where, [end["value"] if isinstance(end, dict) else end for end in ends]
        for key, part in answer.items():
            yield from spans(part, f"{where}/{key}")
    elif isinstance(answer, list):
        for index, part in enumerate(answer):
            yield from spans(part, f"{where}/{index}")


def is_span(ends: list[Any]) -> bool:
    return all(isinstance(end, int | float) for end in ends)


def is_dust(number: float) -> bool:
    return 0 < abs(number) < LEAST or (number == 0 and math.copysign(1, number) < 0)


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: str(operation.name))
def test_spans_are_in_order_and_free_of_dust(operation: Operation) -> None:
    draw = random.Random(operation.name)  # noqa: S311 - cases for a test, nothing secret
    tries, answered = (60 if operation.name in COSTLY else 400 if operation.name in WEEKLY else 4000), 0
    for _ in range(tries):
        example = draw.choice(operation.examples).request
        loss = 0.005 if "week" in example else 0.05  # each of many lifts has fields to lose
        request = drawn(example, draw, loss)
        try:
            answer = msgspec.to_builtins(ask(operation.name, request))
        except Refusal:
            continue
        answered += 1
        crossed = [(where, ends) for where, ends in spans(answer) if is_span(ends) and ends != sorted(ends)]
        assert not crossed, request
        assert [where for where, number in numbers(answer) if is_dust(number)] == [], request
    assert answered > tries / 20
