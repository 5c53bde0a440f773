"""The columns of an answer, which follow from its shape alone, so that they are the same for every question.

A column is called by the JSON Pointer of its value in the answer, with * for every item of a list, whose values are
joined: /load/value, /relations/*/relation. Left out is what has no fixed columns: lists inside lists, maps with free
names, and objects most of whose fields are left out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from operator import attrgetter
from typing import Any, Final, TypeAlias

import msgspec
from msgspec import UNSET, inspect

from service.api.models.sparse import Sparse
from service.api.serialization.scalars import bare

Cells: TypeAlias = list[Any]
Fill: TypeAlias = Callable[[Any, Cells], None]

JOIN: Final = " | "
EMPTY: Final = ""
# a spreadsheet takes text that begins so for a formula
FORMULA_STARTS: Final = frozenset("=+-@\t\r")


def cell(value: Any) -> Any:
    """A single value as the writer of CSV takes it: nothing for null, true and false as in JSON, text that is no formula."""
    if isinstance(value, str):
        return "'" + value if value[:1] in FORMULA_STARTS else value
    if value is None or value is UNSET:
        return EMPTY
    return ("true" if value else "false") if isinstance(value, bool) else value


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


def _object_columns(shape: inspect.Type, path: str, *, always: bool = False) -> Columns:
    """The columns of an object, which may be missing if it is not always there."""
    parts: list[Columns] = []
    run = _Run()
    for name, attribute, field in _flattened(shape, path, ""):
        kind = bare(field)
        if isinstance(kind, inspect.StructType | inspect.ListType):
            nested = _list_columns(kind, name) if isinstance(kind, inspect.ListType) else _object_columns(kind, name)
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
            inner = bare(field.type)
            if isinstance(inner, inspect.StructType) and issubclass(inner.cls, Sparse):
                continue
            name, attributes = f"{path}/{field.encode_name}", f"{attribute}{field.name}"
            kind_of_field = field.type.type if isinstance(field.type, inspect.Metadata) else field.type
            if isinstance(kind_of_field, inspect.StructType) and field.required:
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


def _list_columns(kind: inspect.ListType, path: str) -> Columns:
    """One column for each field of the items, or one for the items themselves; none where they are lists or maps."""
    item = bare(kind.item_type)
    if isinstance(item, inspect.StructType):
        flat = [field for field in item.fields if not isinstance(bare(field.type), inspect.ListType)]
        inner = _object_columns(inspect.StructType(item.cls, tuple(flat)), f"{path}/*", always=True)
    elif isinstance(item, inspect.ListType | inspect.DictType | inspect.UnionType | inspect.AnyType):
        inner = Columns((), lambda _, __: None)
    else:
        inner = Columns((path,), lambda value, cells: cells.append(cell(value)))
    blank = [EMPTY] * len(inner.names)

    def fill(value: Any, cells: Cells) -> None:
        if value:
            cells += [JOIN.join(map(str, column)) for column in zip(*map(inner.cells, value), strict=True)]
        else:
            cells += blank

    return Columns(inner.names, fill)
