"""Asks an operation as a client does: a request in JSON, read strictly, computed, and its answer or its faults."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Final, TypeAlias

import msgspec
import pytest
from hypothesis import reject

from service.api.models.operation import Operation
from service.api.models.prescription import Prescription
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.errors import Fault, Refusal

Answered: TypeAlias = Any  # the shape of an answer depends on the operation asked
DATA: Final = Path(__file__).parents[1] / "science" / "reference" / "data"
BY_NAME: Final[dict[str, Operation]] = {operation.name: operation for operation in OPERATIONS}


@cache
def _reader(name: str) -> Reader[Any]:
    return Reader(BY_NAME[name].request)


def decoded(name: str, request: dict[str, Any]) -> Answered:
    """The request as the operation takes it. Raises Refusal as the service would."""
    return _reader(name).read(msgspec.json.encode(request))


def ask(name: str, request: dict[str, Any]) -> Answered:
    """The operation's answer to a request. Raises Refusal as the service would."""
    return BY_NAME[name].compute(decoded(name, request))


def in_full(request: dict[str, Any]) -> dict[str, Any]:
    """The question, asked for what stands behind the answer too."""
    return request | {"detail": "full"}


def every_part(prescription: Prescription) -> dict[str, Any]:
    """A prescription as JSON values, with None for what is not stated."""
    return {**dict.fromkeys(prescription.__struct_fields__), **msgspec.to_builtins(prescription)}


def ask_drawn(name: str, request: dict[str, Any]) -> Answered:
    """The operation's answer to a drawn request; another example is drawn where it refuses."""
    try:
        return ask(name, request)
    except Refusal:
        reject()


def objects(document: Any) -> Iterator[dict[str, Any]]:  # noqa: ANN401 - any JSON
    """Every object of a JSON document, the outer ones first."""
    if isinstance(document, dict):
        yield document
    if isinstance(document, dict | list):
        for inner in document.values() if isinstance(document, dict) else document:
            yield from objects(inner)


def faults(name: str, request: dict[str, Any]) -> tuple[Fault, ...]:
    """The faults for which the operation refuses a request; the test fails where it answers."""
    with pytest.raises(Refusal) as caught:
        ask(name, request)
    return caught.value.faults


def rows(name: str) -> list[dict[str, str]]:
    """The rows of one data file of this folder."""
    with (DATA / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines, strict=True))


def kg(value: float) -> dict[str, Any]:
    """A mass in kilograms as a request writes it."""
    return {"value": value, "unit": "kg"}


def lb(value: float) -> dict[str, Any]:
    """A mass in pounds as a request writes it."""
    return {"value": value, "unit": "lb"}
