"""Columns that are chosen of an answer: each by the JSON Pointer of its value, as service.api.serialization.columns calls them.

Beside those, an entry of a list by its number (/options/0/words) and a field that only some answers have
(/options/0/demand/knee/low) can be chosen, and what questions take is one cell as they write it (/options/0/prescription).
What an answer does not have is an empty cell; what no answer has is refused.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import Any, Final, TypeAlias

import msgspec
from msgspec import UNSET, inspect

from service.api.serialization.columns import (
    EMPTY,
    INNER_JOIN,
    JOIN,
    Cells,
    Columns,
    cell,
    joined,
    stated,
    states_values,
)
from service.api.serialization.csv import as_asked
from service.api.serialization.scalars import bare

EVERY: Final = "*"
Reading: TypeAlias = Callable[[Any], Any]


def chosen_columns(shape: type[Any], pointers: Sequence[str]) -> tuple[Columns, list[str]]:
    """The columns at some pointers into answers of a shape, and those pointers at which no answer has a cell."""
    top = inspect.type_info(shape)
    readings = {pointer: _reading(top, pointer.split("/")[1:], JOIN) for pointer in pointers}
    known = {pointer: reading for pointer, reading in readings.items() if reading is not None}
    return _columns(known), [pointer for pointer in pointers if pointer not in known]


def _columns(readings: dict[str, Reading]) -> Columns:
    def fill(answer: Any, cells: Cells) -> None:
        cells += [reading(answer) for reading in readings.values()]

    return Columns(tuple(readings), fill)


def _reading(shape: inspect.Type, steps: list[str], sign: str) -> Reading | None:
    """From a value of a shape to the cell that some steps lead to; None where there is none. sign: between items of a list."""
    kind = bare(shape)
    if not steps:
        return _whole(kind, sign)
    step, rest = steps[0], steps[1:]
    if isinstance(kind, inspect.StructType):
        field = next((field for field in kind.fields if field.encode_name == step), None)
        inner = None if field is None else _reading(field.type, rest, sign)
        return None if field is None or inner is None else partial(_of_field, field.name, inner)
    if isinstance(kind, inspect.ListType):
        inner = _reading(kind.item_type, rest, INNER_JOIN if step == EVERY else sign)
        if inner is not None and step == EVERY:
            return partial(_of_items, inner, sign)
        if inner is not None and step.isascii() and step.isdigit() and len(step) < 4 and step == str(int(step)):  # noqa: PLR2004 - no list is longer
            return partial(_of_item, int(step), inner)
    return None


def _whole(kind: inspect.Type, sign: str) -> Reading | None:
    """From a whole value to its cell, where it has one."""
    if isinstance(kind, inspect.StructType):
        if kind.forbid_unknown_fields:  # a shape of questions
            return partial(_present, as_asked)
        return partial(_present, stated) if states_values(kind) else None
    if isinstance(kind, inspect.ListType):
        inner = bare(kind.item_type)
        return None if isinstance(inner, inspect.StructType) or _whole(inner, sign) is None else partial(_listed, sign)
    return None if isinstance(kind, inspect.DictType | inspect.UnionType | inspect.AnyType) else cell


def _present(written: Callable[[Any], str], value: Any) -> Any:
    return EMPTY if value is None or value is UNSET else cell(written(value))


def _of_field(name: str, inner: Reading, value: Any) -> Any:
    return inner(getattr(value, name)) if isinstance(value, msgspec.Struct) else EMPTY


def _of_item(index: int, inner: Reading, value: Any) -> Any:
    return inner(value[index]) if isinstance(value, list) and index < len(value) else EMPTY


def _of_items(inner: Reading, sign: str, value: Any) -> Any:
    return joined([inner(item) for item in value], sign) if isinstance(value, list) and value else EMPTY


def _listed(sign: str, value: Iterable[Any]) -> Any:
    return joined([cell(item) for item in value], sign) if isinstance(value, list) and value else EMPTY
