"""What a method refuses has an example where a value is known that it takes, in unit and form of what was sent."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Iterator
from typing import Any, Final, TypeAlias

import pytest

from service.api.models.operation import Operation
from service.api.operations.registry import OPERATIONS
from service.api.refusals import answered
from service.api.serialization.field_faults import SchemaFaults
from service.api.serialization.json import Reader
from service.errors import Fault, Refusal
from tests.support.in_process import client, name_of

Asked: TypeAlias = dict[str, Any]

app: Final = client()
FACTORS: Final = (0.001, 0.3, 2.5, 20.0)
NUMBERS: Final = re.compile(r"(?:at least |at most |up to )?-?[0-9][0-9.]*(?: to -?[0-9.]+)?(?: [a-z%]+)?")
"""What is allowed, where it is a number or a range of them alone."""
OTHERWISE: Final = ("sets", "repetitions", "items")
"""Of what the numbers are, where they are not those of the value itself."""


def faults_of(operation: Operation, reader: Reader[Any], asked: Asked) -> tuple[Fault, ...]:
    """What the method of an operation refuses of a question; nothing where the question does not fit its shape."""
    try:
        request = reader.fit(asked)
    except Refusal:
        return ()
    try:
        answered(operation.compute, request)
    except Refusal as refusal:
        return refusal.faults
    return ()


def places(value: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    """Every value inside of a value with the path to it, of lists the first two items alone."""
    yield path, value
    inner = value.items() if isinstance(value, dict) else enumerate(value[:2]) if isinstance(value, list) else ()
    for step, part in inner:
        yield from places(part, (*path, step))


def put(asked: Asked, path: tuple[str | int, ...], value: object) -> Asked:
    """A question with a value at a path."""
    asked = copy.deepcopy(asked)
    inside: Any = asked
    for step in path[:-1]:
        inside = inside[step]
    inside[path[-1]] = value
    return asked


def steps_of(pointer: str) -> tuple[str | int, ...]:
    return tuple(int(step) if step.isdecimal() else step for step in pointer.split("/")[1:])


def at(asked: object, pointer: str) -> Any:  # noqa: ANN401 - any JSON value
    """What a question states at a pointer, None where nothing is."""
    for step in steps_of(pointer):
        try:
            asked = asked[step]  # type: ignore[index]
        except (KeyError, IndexError, TypeError):
            return None
    return asked


def odd_questions(operation: Operation) -> Iterator[Asked]:
    """The examples with one value much smaller or larger, or another of a closed list, in each field once."""
    fields = SchemaFaults(operation.request, operation.questions).fields
    seen: set[tuple[str, ...]] = set()
    for question in operation.questions:
        for path, value in places(question):
            named = tuple(str(step) for step in path)
            if not path or named in seen:
                continue
            if isinstance(value, int | float) and not isinstance(value, bool):
                seen.add(named)
                kind = round if isinstance(value, int) else float
                yield from (put(question, path, kind(factor * value)) for factor in FACTORS)
            elif isinstance(value, str):
                seen.add(named)
                yield from (put(question, path, one) for one in fields.at(path).schema.get("enum", ())[::5])


def refused(operation: Operation) -> Iterator[tuple[Asked, Fault]]:
    """What the method refuses of odd questions, each kind of fault once a field."""
    reader: Reader[Any] = Reader(operation.request, operation.questions)
    seen: set[tuple[str, str]] = set()
    for asked in odd_questions(operation):
        for fault in faults_of(operation, reader, asked):
            if (fault.pointer, kind_of(fault)) not in seen:
                seen.add((fault.pointer, kind_of(fault)))
                yield asked, fault


def kind_of(fault: Fault) -> str:
    """What is wrong, without the numbers of the case."""
    return re.sub(r"[0-9][0-9.]*", "#", fault.detail)


REFUSED: Final = {operation.name: list(refused(operation)) for operation in OPERATIONS}
each_operation: Final = pytest.mark.parametrize("operation", OPERATIONS, ids=name_of)


def test_enough_is_refused_to_tell() -> None:
    assert sum(map(len, REFUSED.values())) > 60
    assert sum(fault.example is not None for each in REFUSED.values() for _, fault in each) > 40


@each_operation
def test_the_method_takes_the_example(operation: Operation) -> None:
    reader: Reader[Any] = Reader(operation.request, operation.questions)
    for asked, fault in REFUSED[operation.name]:
        if fault.example is not None:
            mended = put(asked, steps_of(fault.pointer), json.loads(fault.example))
            reader.fit(mended)
            again = faults_of(operation, reader, mended)
            assert (fault.pointer, kind_of(fault)) not in [(one.pointer, kind_of(one)) for one in again], fault


@each_operation
def test_where_numbers_are_allowed_one_of_them_is_the_example(operation: Operation) -> None:
    for asked, fault in REFUSED[operation.name]:
        allowed, stated = fault.allowed or "", at(asked, fault.pointer)
        if NUMBERS.fullmatch(allowed) and not allowed.endswith(OTHERWISE) and isinstance(stated, int | float | dict):
            assert fault.example is not None, fault


HEAVY: Final = {
    "set": {"load": {"value": 150, "unit": "lb"}, "reps": 6, "reps_in_reserve": 2},
    "target": {"load": {"value": 300, "unit": "lb"}},
}
NEAREST: Final = {"value": 180.0, "unit": "lb"}
"""The heaviest that is computed from that set, to three digits and no heavier."""
AS_TEXT: Final = "180lb"
HEADINGS: Final = "load,reps,reps_in_reserve,target_load"


def the_fault(faults: list[dict[str, Any]]) -> dict[str, Any]:
    (fault,) = faults
    return fault


def test_in_a_body() -> None:
    fault = the_fault(app.post("/v1/reps-for-load", json=HEAVY).json()["errors"])
    assert (fault["pointer"], fault["example"]) == ("/target/load", NEAREST)
    assert app.post("/v1/reps-for-load", json=put(HEAVY, ("target", "load"), fault["example"])).status_code == 200


def test_in_a_batch() -> None:
    item = {"operation": "reps-for-load", "body": HEAVY}
    (result,) = app.post("/v1/batch", json={"requests": [item]}).json()["results"]
    assert the_fault(result["problem"]["errors"])["example"] == NEAREST


def test_in_an_address_as_its_text() -> None:
    asked = "/v1/reps-for-load?load=150lb&reps=6&reps_in_reserve=2&target_load="
    fault = the_fault(app.get(f"{asked}300lb").json()["errors"])
    assert (fault["parameter"], fault["example"]) == ("target_load", AS_TEXT)
    assert app.get(asked + AS_TEXT).status_code == 200


def test_in_a_cell_of_a_table() -> None:
    table = f"{HEADINGS}\n150 lb,6,2,300 lb\n"
    reply = app.post("/v1/tables/reps-for-load", content=table, headers={"content-type": "text/csv"})
    assert f"Example: {AS_TEXT}" in reply.text.splitlines()[1]


def test_the_example_of_one_entry_of_a_list_is_not_that_of_the_whole_parameter() -> None:
    """A parameter that states a list has no example made from what one entry should be."""
    asked = "/v1/estimated-max?sets_load=0kg,100kg&sets_reps=5,5"
    fault = the_fault(app.get(asked).json()["errors"])
    assert fault["pointer"] == "/sets/0/load"
    assert "example" not in fault
