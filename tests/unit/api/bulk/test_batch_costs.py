"""What many questions in one request cost: each as by itself, in a batch and in a table."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import msgspec
import pytest

from service.api.bulk.batch import cost_of, read_items
from service.api.bulk.table_query import listed_rows
from service.api.bulk.tables import COST_OF_ITEMS, Tables
from service.api.models.operation import Operation
from service.api.openapi.bulk_operations import example_table
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader

VARYING = [operation for operation in OPERATIONS if operation.cost_of is not None]


def by_itself(operation: Operation, request: dict[str, Any]) -> int:
    return operation.charged(Reader(operation.request).fit(request))


def cost_of_batch(*items: dict[str, Any]) -> int:
    return cost_of(read_items(msgspec.json.encode({"requests": items})))


@pytest.mark.parametrize("operation", OPERATIONS, ids=[operation.name for operation in OPERATIONS])
def test_an_item_and_a_row_cost_what_their_question_costs_by_itself(operation: Operation) -> None:
    costs = [by_itself(operation, example.request) for example in operation.examples]
    items = [{"operation": operation.name, "body": example.request} for example in operation.examples]
    assert cost_of_batch(*items) == sum(costs)
    assert sum(Tables(operation).read(example_table(operation)).costs) == sum(costs)
    assert max(costs) <= operation.cost


@pytest.mark.parametrize("operation", OPERATIONS, ids=[operation.name for operation in OPERATIONS])
def test_rows_of_items_cost_more_than_the_questions(operation: Operation) -> None:
    """A row repeats the whole answer, however many items there are."""
    table, tables = example_table(operation), Tables(operation)
    for name in listed_rows(operation.answer):
        read = tables.reading(f"rows={name}".encode())
        assert sum(read(table).costs) == sum(tables.read(table).costs) + COST_OF_ITEMS * len(operation.examples)


@pytest.mark.parametrize("operation", VARYING, ids=[operation.name for operation in VARYING])
def test_what_is_refused_costs_a_unit(operation: Operation) -> None:
    assert cost_of_batch({"operation": operation.name, "body": {}}, {"operation": operation.name}, {}) == 3
    header, *_ = example_table(operation).splitlines(keepends=True)
    assert list(Tables(operation).read(header + b"x\r\n" * 2).costs) == [1, 1]


def test_a_question_costs_by_what_it_asks_and_never_more_than_is_published() -> None:
    demand = next(operation for operation in OPERATIONS if operation.name == "joint-demand")
    lifter = demand.examples[0].request["lifter"]

    def setups(exercise: str, count: int) -> dict[str, Any]:
        load = {"value": 40, "unit": "kg"}
        return {
            "lifter": lifter,
            "setups": [{"label": f"{number}", "exercise": exercise, "load": load} for number in range(count)],
        }

    def rising() -> Iterator[int]:
        for exercise in ("back_squat_high_bar", "deadlift_conventional", "split_squat", "bench_press"):
            yield by_itself(demand, setups(exercise, 10))

    assert list(rising()) == sorted(set(rising()))
    assert by_itself(demand, setups("bench_press", 10)) == demand.cost
    request = Reader(demand.request).fit(setups("bench_press", 10))
    assert demand.charged(request, picture=True) == demand.picture_cost
