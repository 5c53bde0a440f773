"""The two cautions that go with every answer stand in it once, and no part of it repeats them."""

from __future__ import annotations

import msgspec
import pytest

from service.api.models.common import GENERAL_CAUTIONS
from service.api.models.operation import Example, Operation
from service.api.operations.registry import OPERATIONS
from tests.support.asking import ask, objects

ASKED = [
    pytest.param(operation, example, id=f"{operation.name} {example.name}")
    for operation in OPERATIONS
    for example in operation.examples
]


@pytest.mark.parametrize(("operation", "example"), ASKED)
def test_each_disclaimer_stands_once_and_at_the_end_of_the_whole_answer(operation: Operation, example: Example) -> None:
    answer = msgspec.to_builtins(ask(operation.name, example.request))
    codes = [one.get("code") for one in objects(answer)]
    assert [codes.count(one) for one in GENERAL_CAUTIONS] == [1, 1]
    assert set(GENERAL_CAUTIONS) <= {caution["code"] for caution in answer["cautions"]}
