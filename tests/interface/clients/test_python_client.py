"""The Python client made by openapi-python-client: complete, typed throughout, and it holds the demo consultation."""

from __future__ import annotations

import inspect
import re
import subprocess
import sys
from enum import Enum
from http import HTTPStatus

import pytest

from tests.interface.clients.description import ENUMS, EXAMPLES, OPERATIONS, SCHEMAS, Example, answer_of, request_of
from tests.interface.clients.python_client import PythonClient, says_any, snake
from tests.support.live import Live

# What the generator gives every open object beside its fields, for those that a later release adds.
ROOM_TO_GROW = "additional_properties"
VERBS = {"sync", "sync_detailed", "asyncio", "asyncio_detailed"}


def test_it_is_generated_whole(python_client: PythonClient) -> None:
    assert "arning" not in python_client.said
    modules = {module for module, _, _ in python_client.calls()}
    assert modules == {snake(operation_id) for operation_id in OPERATIONS}


def test_it_type_checks_strictly(python_client: PythonClient) -> None:
    checked = python_client.checked()
    assert checked.returncode == 0, checked.stdout


def test_no_field_is_any(python_client: PythonClient) -> None:
    fields = dict(python_client.fields())
    assert len(fields) > len(SCHEMAS)
    any_value = {name for name, kind in fields.items() if says_any(kind) and not name.endswith(ROOM_TO_GROW)}
    assert any_value == {"MessageValue.example", "ProblemFault.example"}  # whatever may stand there


def test_no_call_takes_or_gives_any(python_client: PythonClient) -> None:
    """But for the answers of operations that have a status without a body, which is Any to this generator."""
    bodiless = {
        snake(operation_id)
        for operation_id, operation in OPERATIONS.items()
        if any(not response.keys() & {"content", "$ref"} for response in operation["responses"].values())
    }
    faults = []
    for module, verb, call in python_client.calls():
        assert verb in VERBS
        arguments = [*call.args.args, *call.args.kwonlyargs]
        faults += [f"{module}.{verb}: {argument.arg}" for argument in arguments if says_any(argument.annotation)]
        if says_any(call.returns) and module not in bodiless:
            faults.append(f"{module}.{verb}: the answer")
    assert faults == []


@pytest.mark.parametrize("name", ENUMS)
def test_lists_of_values_are_enumerations(name: str, python_client: PythonClient) -> None:
    found = getattr(python_client.module("models"), name)
    assert issubclass(found, Enum)
    assert sorted(item.value for item in found) == ENUMS[name]


@pytest.mark.parametrize("example", EXAMPLES, ids=[example.label for example in EXAMPLES])
def test_an_example_is_asked_and_answered(example: Example, python_client: PythonClient, served: Live) -> None:
    models = python_client.module("models")
    client = python_client.connected(served.port)
    question = getattr(models, request_of(example.operation_id)).from_dict(example.request)
    with client as client:
        reply = python_client.api(example.operation_id).sync_detailed(client=client, body=question)
    assert reply.status_code == HTTPStatus.OK
    assert type(reply.parsed) is getattr(models, answer_of(example.operation_id))
    assert reply.parsed.to_dict() == example.answer


@pytest.mark.parametrize("operation_id", [name for name in OPERATIONS if name.startswith(("list", "get"))])
def test_the_catalogue_is_read(operation_id: str, python_client: PythonClient, served: Live) -> None:
    call = python_client.api(operation_id).sync
    client = python_client.connected(served.port)
    given = {
        parameter["name"]: getattr(python_client.module("models"), parameter["schema"]["$ref"].rpartition("/")[2])(
            parameter["example"]
        )
        for parameter in OPERATIONS[operation_id].get("parameters", [])
        if parameter["in"] == "path"
    }
    positional = [name for name in inspect.signature(call).parameters if name.rstrip("_") in given]
    with client as client:
        found = call(*[given[name.rstrip("_")] for name in positional], client=client)
    assert type(found).__name__ == answer_of(operation_id)


def test_the_consultation(python_client: PythonClient, served: Live) -> None:
    command = [sys.executable, "consultation.py", f"http://127.0.0.1:{served.port}"]
    ended = subprocess.run(command, cwd=python_client.folder, capture_output=True, text=True, check=False, timeout=60)
    assert ended.returncode == 0, ended.stderr
    lines = ended.stdout.splitlines()
    assert lines[0].startswith("adjust: ")
    assert re.fullmatch(r"ahead: [1-9]\d* weeks", lines[1])
    assert lines[2] == "course: back_to_original, hold, progress, step_back, ends back_to_original"
    assert lines[3].startswith("known from: ")
    assert lines[4].startswith("refer: ")
    assert lines[5:] == ["row 1: answered", "row 2: refused, 422"]
