"""The columns of an answer, which follow from its shape alone, so that they are the same for every question.

A column is called by the JSON Pointer of its value in the answer, with * for every item of a list, whose values are
joined: /load/value, /relations/*/relation; those of a list inside a list by another sign. An object with a field for each
of a closed list, most of them left out, is one cell that says those which are stated: "low_back 0.62 / knee 1.08". Left out
is what has no such form: maps with free names, and objects of objects of which most are left out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from operator import attrgetter
from typing import Any, Final, TypeAlias

import msgspec
from msgspec import UNSET, inspect

from service.api.models.sparse import Sparse
from service.api.serialization.scalars import bare, number_text
from service.http.cells import SUSPECT, no_formula

Cells: TypeAlias = list[Any]
Fill: TypeAlias = Callable[[Any, Cells], None]

JOIN: Final = " | "
INNER_JOIN: Final = " / "  # of lists inside lists, and of what an object states
EMPTY: Final = ""


def cell(value: Any) -> Any:
    """A single value as the writer of CSV takes it: nothing for null, true and false as in JSON, text that is no formula."""
    if isinstance(value, str):
        return no_formula(value) if value[:1] in SUSPECT else value
    if value is None or value is UNSET:
        return EMPTY
    return ("true" if value else "false") if isinstance(value, bool) else value


def bare_text(value: Any) -> str:
    """A single value as bare text: numbers in their shortest exact form."""
    return number_text(value) if isinstance(value, int | float) and not isinstance(value, bool) else str(cell(value))


def joined(values: Sequence[Any], sign: str) -> Any:
    """The cells of a list's items as one; a single one as it is, so that a number stays a number."""
    return values[0] if len(values) == 1 else sign.join(map(str, values))


def stated(value: Sparse[Any]) -> str:
    """What an object states, in one cell: each name with its word or number, estimates without their span."""
    return INNER_JOIN.join(f"{name} {bare_text(getattr(part, 'value', part))}" for name, part in value.items())


def states_values(kind: inspect.Type) -> bool:
    """Whether a shape states single values or estimates by the names of a closed list."""
    if not isinstance(kind, inspect.StructType) or not _is_sparse(kind):
        return False
    parts = [bare(field.type) for field in kind.fields]
    return all(
        "value" in {field.name for field in part.fields}
        if isinstance(part, inspect.StructType)
        else isinstance(part, inspect.FloatType | inspect.LiteralType)
        for part in parts
    )


def _is_sparse(kind: inspect.StructType) -> bool:
    return issubclass(kind.cls, Sparse)


class Columns(msgspec.Struct, frozen=True):
    """The names of the columns of a shape, and how a value of it fills their cells."""

    names: tuple[str, ...]
    fill: Fill

    def cells(self, value: Any) -> Cells:
        """The cells of one value."""
        cells: Cells = []
        self.fill(value, cells)
        return cells


_COLUMNS: Final[dict[type[Any], Columns]] = {}


def columns_of(shape: type[Any]) -> Columns:
    """The columns of an answer's shape."""
    if shape not in _COLUMNS:
        _COLUMNS[shape] = _object_columns(inspect.type_info(shape), "")
    return _COLUMNS[shape]


class _Run(msgspec.Struct, frozen=True):
    """Neighbouring columns that are always there, whose values are read at once; `checked` are those whose text may need a change."""

    names: list[str] = []
    paths: list[str] = []
    checked: list[int] = []

    def columns(self) -> Columns:
        getter, checked = attrgetter(*self.paths), self.checked
        single = len(self.paths) == 1

        def fill(value: Any, cells: Cells) -> None:
            row = [getter(value)] if single else list(getter(value))
            for index in checked:
                row[index] = cell(row[index])
            cells += row

        return Columns(tuple(self.names), fill)


def _nested(kind: inspect.StructType | inspect.ListType, path: str, sign: str) -> Columns:
    """The columns of what has columns of its own; sign: between the items of a list."""
    if isinstance(kind, inspect.ListType):
        return _list_columns(kind, path, sign)
    if not _is_sparse(kind):
        return _object_columns(kind, path, sign)
    if not states_values(kind):
        return Columns((), lambda _, __: None)
    return Columns((path,), lambda value, cells: cells.append(stated(value) if value else EMPTY))


def _object_columns(shape: inspect.Type, path: str, sign: str = JOIN, *, always: bool = False) -> Columns:
    """The columns of an object, which may be missing if it is not always there; sign: between the items of its lists."""
    parts: list[Columns] = []
    run = _Run()
    for name, attribute, field in _flattened(shape, path, ""):
        kind = bare(field)
        if isinstance(kind, inspect.StructType | inspect.ListType):
            nested = _nested(kind, name, sign)
            parts += [run.columns()] if run.names else []
            run = _Run()
            parts.append(_at(attribute, nested))
        elif not isinstance(kind, inspect.DictType | inspect.UnionType | inspect.CollectionType | inspect.AnyType):
            # numbers and ids are written as they are
            if not isinstance(field, inspect.FloatType | inspect.IntType | inspect.LiteralType):
                run.checked.append(len(run.names))
            run.names.append(name)
            run.paths.append(attribute)
    parts += [run.columns()] if run.names else []
    if len(parts) == 1 and always:
        return parts[0]
    names = tuple(name for part in parts for name in part.names)
    fills = [part.fill for part in parts]
    blank = [EMPTY] * len(names)

    def fill(value: Any, cells: Cells) -> None:
        if value is None or value is UNSET:
            cells += blank
            return
        for part in fills:
            part(value, cells)

    return Columns(names, fill)


def _flattened(shape: inspect.Type, path: str, attribute: str) -> Iterator[tuple[str, str, inspect.Type]]:
    """The fields of an object, and those of the objects in it that are always there."""
    kind = bare(shape)
    if isinstance(kind, inspect.StructType):
        for field in kind.fields:
            name, attributes = f"{path}/{field.encode_name}", f"{attribute}{field.name}"
            kind_of_field = field.type.type if isinstance(field.type, inspect.Metadata) else field.type
            if isinstance(kind_of_field, inspect.StructType) and field.required and not _is_sparse(kind_of_field):
                yield from _flattened(kind_of_field, name, f"{attributes}.")
            else:
                yield (
                    name,
                    attributes,
                    kind_of_field if field.required else inspect.UnionType((kind_of_field, inspect.NoneType())),
                )


def _at(attribute: str, columns: Columns) -> Columns:
    getter, inner = attrgetter(attribute), columns.fill
    return Columns(columns.names, lambda value, cells: inner(getter(value), cells))


def _list_columns(kind: inspect.ListType, path: str, sign: str) -> Columns:
    """One column for each field of the items, or one for the items themselves; none where they are lists or maps."""
    item = bare(kind.item_type)
    if isinstance(item, inspect.StructType):
        fields = (field for field in item.fields if sign == JOIN or not isinstance(bare(field.type), inspect.ListType))
        inner = _object_columns(inspect.StructType(item.cls, tuple(fields)), f"{path}/*", INNER_JOIN, always=True)
    elif isinstance(item, inspect.ListType | inspect.DictType | inspect.UnionType | inspect.AnyType):
        inner = Columns((), lambda _, __: None)
    else:
        inner = Columns((path,), lambda value, cells: cells.append(cell(value)))
    blank = [EMPTY] * len(inner.names)

    def fill(value: Any, cells: Cells) -> None:
        if value:
            cells += [joined(column, sign) for column in zip(*map(inner.cells, value), strict=True)]
        else:
            cells += blank

    return Columns(inner.names, fill)
