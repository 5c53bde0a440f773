"""Every value that a fault offers as an example is one that the same field takes."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from typing import Any, Final

import msgspec
import pytest

from service.api.models.operation import Operation
from service.api.operations.registry import OPERATIONS
from service.api.serialization.field_faults import SchemaFaults
from service.api.serialization.json import Reader
from service.api.serialization.json_pointer import pointer
from service.api.serialization.query import QueryForm
from service.errors import Refusal
from service.http.problems import HttpProblem
from tests.support.in_process import client, name_of

each_operation: Final = pytest.mark.parametrize("operation", OPERATIONS, ids=name_of)
ASKING: Final = client()
WRONG: Final[tuple[Any, ...]] = (None, "62.5 kg", "5", -1e9, 1e9, 0.123, True, [], {}, [[]], "x" * 500)


def places(value: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """The path to every value inside of a value, of lists to their first items alone."""
    yield path
    inner = value.items() if isinstance(value, dict) else enumerate(value[:1]) if isinstance(value, list) else ()
    for step, part in inner:
        yield from places(part, (*path, step))


def put(request: Any, path: tuple[str | int, ...], value: object) -> Any:  # noqa: ANN401 - any JSON value
    """A request with a value at a path."""
    if not path:
        return value
    request = copy.deepcopy(request)
    inside = request
    for step in path[:-1]:
        inside = inside[step]
    inside[path[-1]] = value
    return request


def steps_of(pointer: str) -> tuple[str | int, ...]:
    return tuple(int(step) if step.isdecimal() else step for step in pointer.split("/")[1:])


def misfits(operation: Operation) -> Iterator[Any]:
    """Questions with one wrong value, in each field of the examples once."""
    seen: set[tuple[str, ...]] = set()
    for question in operation.questions:
        for path in places(question):
            named = tuple(str(step) for step in path)
            if named not in seen:
                seen.add(named)
                yield from (put(question, path, value) for value in WRONG)


@each_operation
def test_the_example_of_a_fault_is_taken_by_the_field(operation: Operation) -> None:
    reader: Reader[Any] = Reader(operation.request, operation.questions)
    offered = 0
    for asked in misfits(operation):
        try:
            reader.fit(asked)
        except Refusal as refusal:
            faults = refusal.faults
        else:
            continue
        for fault in faults:
            if fault.example is None:
                assert "not known here. " in f"{fault.detail} "
                continue
            offered += 1
            corrected = put(asked, steps_of(fault.pointer), json.loads(fault.example))
            assert not any(at_or_below(each, fault.pointer) for each in pointers(reader, corrected)), fault
    assert offered > 50


@each_operation
def test_the_example_of_a_list_or_a_prescription_is_taken_by_the_operation_too(operation: Operation) -> None:
    """What a decoder takes, the computation may still refuse: repetitions left out without a hold, for instance."""
    fields = SchemaFaults(operation.request, operation.questions).fields
    for question in operation.questions:
        for path, value in ((path, reached(question, path)) for path in places(question)):
            if not isinstance(value, list | dict) or not path:
                continue
            example = json.loads(fields.at(path).example or b"null")
            reply = ASKING.post(operation.path, json=put(question, path, example))
            faults = reply.json().get("errors", []) if reply.status_code == 422 else []
            words = [fault["detail"] for fault in faults if at_or_below(fault["pointer"], pointer(path))]
            assert not [one for one in words if "may the repetitions be left out" in one], (path, example)


def reached(value: Any, path: tuple[str | int, ...]) -> Any:  # noqa: ANN401 - any JSON value
    """What stands at a path."""
    for step in path:
        value = value[step]
    return value


def pointers(reader: Reader[Any], asked: Any) -> list[str]:  # noqa: ANN401 - any JSON value
    """Where a question has faults."""
    try:
        reader.fit(asked)
    except Refusal as refusal:
        return [fault.pointer for fault in refusal.faults]
    return []


def at_or_below(pointer: str, other: str) -> bool:
    return pointer == other or pointer.startswith(f"{other}/")


@each_operation
def test_every_field_of_a_request_has_an_example(operation: Operation) -> None:
    """Where a field stands, and how many of them, follows from the schema alone."""
    fields = SchemaFaults(operation.request, operation.questions).fields
    stated = {name for question in operation.questions for name in question}
    for name in stated:
        for where in fields.elsewhere(name, ()):
            example = fields.at(where).example
            assert example is not None, where
            assert len(example) <= 300
    assert fields.at(()).example is not None


@each_operation
def test_the_example_of_a_parameter_is_taken_by_it(operation: Operation) -> None:
    form = QueryForm(operation, Reader(operation.request, operation.questions))
    for name, leaf in form.flat.leaves.items():
        wrong = {name: "?" if "pattern" not in leaf.schema or "enum" in leaf.schema else "\x1f"}
        with pytest.raises(HttpProblem) as caught:
            form.read(wrong, [])
        fault = next(fault for fault in caught.value.faults if fault.parameter == name)
        assert isinstance(fault.example, str)
        values, mismatches = form.flat.from_texts({name: fault.example})
        assert not mismatches
        again = [fault for fault in faults_of(form, name, fault.example) if fault.parameter == name]
        assert not [fault for fault in again if "missing" not in fault.detail], (name, values, again)


def faults_of(form: QueryForm, name: str, text: str) -> list[Any]:
    """The faults of a query with one parameter."""
    try:
        form.read({name: text}, [])
    except HttpProblem as problem:
        return list(problem.faults)
    return []


def test_examples_are_json_in_problems() -> None:
    """Values and not texts of them."""
    operation = OPERATIONS[0]
    reader: Reader[Any] = Reader(operation.request, operation.questions)
    with pytest.raises(Refusal) as caught:
        reader.fit({})
    assert all(msgspec.json.decode(fault.example or b"") for fault in caught.value.faults)
