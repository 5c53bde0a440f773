"""The evidence is of everything that an operation answers, and of nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import msgspec
import pytest
from msgspec import inspect

from service.api.evidence.models import evidence
from service.api.models.common import Basis
from service.api.models.operation import Operation
from service.api.models.sparse import Sparse
from service.api.operations.registry import OPERATIONS
from service.knowledge.evidence import COMPARISONS, QUANTITIES
from service.messages import Message
from service.vocabulary import REGIONS

NO_QUANTITIES: Final = (Basis, Message)
NUMBERS: Final = (inspect.IntType, inspect.FloatType, inspect.BoolType, inspect.LiteralType)


def fields(kind: inspect.Type, path: str = "") -> Iterator[str]:
    """The paths of all numbers, quantities and verdicts of an answer's shape; what is stated by region has one path."""
    if isinstance(kind, NUMBERS) or is_quantity(kind):
        yield path
    elif isinstance(kind, inspect.StructType) and kind.cls not in NO_QUANTITIES:
        for one in kind.fields:
            named = path if issubclass(kind.cls, Sparse) else f"{path}.{one.encode_name}".lstrip(".")
            yield from fields(one.type, named)
    for part in inner(kind):
        yield from fields(part, path)


def is_quantity(kind: inspect.Type) -> bool:
    return isinstance(kind, inspect.StructType) and {"value", "unit"} <= {one.name for one in kind.fields}


def inner(kind: inspect.Type) -> tuple[inspect.Type, ...]:
    match kind:
        case inspect.Metadata():
            return (kind.type,)
        case inspect.ListType():
            return (kind.item_type,)
        case inspect.DictType():
            return (kind.value_type,)
        case inspect.UnionType():
            return kind.types
        case _:
            return ()


def claimed(operation: Operation) -> list[str]:
    return [field for one in QUANTITIES.values() for field in one.answered_by.get(operation.name, ())]


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda one: one.name)
def test_every_number_and_verdict_of_an_answer_is_a_quantity(operation: Operation) -> None:
    """Not so: an entry in service/knowledge/data/evidence/quantities.toml, or the field in that of its quantity."""
    prefixes = tuple(f"{field}." for field in claimed(operation))
    answered = dict.fromkeys(fields(inspect.type_info(operation.answer)))
    assert [field for field in answered if not f"{field}.".startswith(prefixes)] == []


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda one: one.name)
def test_every_field_of_a_quantity_is_answered(operation: Operation) -> None:
    answered = [f"{field}." for field in fields(inspect.type_info(operation.answer))]
    assert [one for one in claimed(operation) if not any(field.startswith(f"{one}.") for field in answered)] == []


def test_operations_of_quantities_are_operations() -> None:
    assert {name for one in QUANTITIES.values() for name in one.answered_by} == {each.name for each in OPERATIONS}


def test_whole_has_every_quantity_and_comparison_once() -> None:
    whole = evidence(None)
    assert [one.id for one in whole.quantities] == list(QUANTITIES)
    assert [row.id for row in whole.comparisons] == [row.id for row in COMPARISONS]
    assert all(row.quantities for row in whole.comparisons)
    assert whole.agreement is not None
    assert whole.faults is not None
    assert sum(one.of for one in whole.agreement) == len(COMPARISONS)
    assert len(whole.faults.not_noticed) == whole.faults.tried - whole.faults.noticed_by_any


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_one_quantity_is_as_in_the_whole_with_the_comparisons_about_it(quantity: str) -> None:
    part, whole = evidence(quantity), evidence(None)
    assert part.quantities == [one for one in whole.quantities if one.id == quantity]
    assert part.comparisons == [row for row in whole.comparisons if quantity in row.quantities]
    assert (part.context, part.agreement, part.faults) == (whole.context, None, None)
    assert set(part.quantities[0].disagreeing) == {
        row.id for row in part.comparisons if row.half == "check" and not row.agrees
    }


def test_the_answer_can_be_read_in_one_go() -> None:
    assert len(msgspec.json.encode(evidence(None))) < 250_000


def test_moments_of_every_joint_are_checked_against_mechanics() -> None:
    for quantity in ("ankle_moment", "knee_moment", "hip_moment", "lumbosacral_moment"):
        (one,) = evidence(quantity).quantities
        assert any("simulator" in check.compared_with for check in one.verification)
        assert one.agreement
        assert {told.part for told in one.told_by_lift} <= {*REGIONS, "lean"}
