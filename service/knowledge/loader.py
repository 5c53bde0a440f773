"""Reads the data files once, at start, into frozen structs: the only module of the domain that touches the disk.

A file with an unknown, missing or mistyped column or key, with a number that is not finite, or with an id that no file
has stops the service at start; nothing is checked again while requests are answered.
"""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Mapping
from functools import cache
from math import isfinite
from pathlib import Path
from typing import Any, Final, TypeVar, get_args, get_origin, get_type_hints

import msgspec

from service.knowledge.records import IdOf, Record

DATA: Final = Path(__file__).parent / "data"

AnyRecord = TypeVar("AnyRecord", bound=Record)


class UnusableData(ValueError):
    """A data file that cannot be used: one line that names the file, where in it, and the fault."""

    def __init__(self, *parts: object) -> None:
        """Join the parts in one line; empty parts are left out."""
        super().__init__(" ".join(": ".join(str(part) for part in parts if part).split()))


def read_rows(name: str, row: type[AnyRecord]) -> tuple[AnyRecord, ...]:
    """The rows of a CSV file.

    An empty cell is the field's default; a cell of several values has blanks between them.

    Args:
        name: path of the file, from the folder of data
        row: the struct whose fields are the columns, all of them and no others

    Raises:
        UnusableData: for a file that cannot be read, or a column, cell or id that does not fit
    """
    fields = {field.encode_name: field for field in msgspec.structs.fields(row)}
    lists = {column for column, field in fields.items() if get_origin(field.type) is tuple}
    (_, heading), *lines = _read_csv(name)
    if sorted(heading) != sorted(fields):
        odd = sorted(set(heading) ^ fields.keys()) or heading
        raise UnusableData(name, "line 1", f"Expected the columns {', '.join(fields)}; differing: {', '.join(odd)}")
    rows = []
    for number, cells in lines:
        if len(cells) != len(heading):
            raise UnusableData(name, f"line {number}", f"Expected {len(heading)} cells, got {len(cells)}")
        filled = {column: cell for column, cell in zip(heading, cells, strict=True) if cell}
        values = {column: cell.split() if column in lists else cell for column, cell in filled.items()}
        rows.append(converted(values, row, name, f"line {number}", strict=False))
    return tuple(rows)


def read_tables(name: str, table: type[AnyRecord]) -> dict[str, AnyRecord]:
    """The tables of a TOML file by their ids.

    Args:
        name: path of the file, from the folder of data
        table: the struct whose fields are the keys; a field `id` is filled with the table's own, and where it is a
            Literal, the file has each of its ids

    Raises:
        UnusableData: for a file that cannot be read, or a key, value or id that does not fit or is missing
    """
    with_id = "id" in table.__struct_fields__
    tables = read_toml(DATA / name)
    expected = get_args(get_type_hints(table)["id"]) if with_id else ()
    if missing := [each for each in expected if each not in tables]:
        raise UnusableData(name, f"Expected the tables {', '.join(missing)} as well")
    return {
        key: converted({**values, "id": key} if with_id and isinstance(values, dict) else values, table, name, key)
        for key, values in tables.items()
    }


def read_whole(name: str, whole: type[AnyRecord]) -> AnyRecord:
    """A TOML file whose tables differ.

    Args:
        name: path of the file, from the folder of data
        whole: the struct whose fields are the tables and keys of the file

    Raises:
        UnusableData: for a file that cannot be read, or a key, value or id that does not fit
    """
    return converted(read_toml(DATA / name), whole, name)


def _read_csv(name: str) -> list[tuple[int, list[str]]]:
    """Each row with the number of its last line, the heading first."""
    try:
        with (DATA / name).open(encoding="utf-8", newline="") as text:
            lines = csv.reader(text, strict=True)
            return [(lines.line_num, cells) for cells in lines] or [(1, [])]
    except OSError as error:
        raise UnusableData(name, error.strerror) from None
    except (csv.Error, UnicodeDecodeError) as error:
        raise UnusableData(name, error) from None


@cache
def read_toml(path: Path) -> dict[str, Any]:
    """A TOML file as it stands.

    Args:
        path: path of the file

    Raises:
        UnusableData: for a file that cannot be read or is not TOML
    """
    name = path.relative_to(DATA) if path.is_relative_to(DATA) else path
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise UnusableData(name, error.strerror) from None
    except ValueError as error:  # neither UTF-8 nor TOML
        raise UnusableData(name, error) from None


def converted(
    values: Mapping[str, Any], record: type[AnyRecord], path: object, where: str = "", *, strict: bool = True
) -> AnyRecord:
    """Values of a data file as a struct.

    Args:
        values: by key or column
        record: the struct that they make
        path: the file, as the fault names it
        where: line of the file, or key of the table
        strict: whether numbers in text are refused

    Raises:
        UnusableData: for an unknown, missing or mistyped value, a number that is not finite, or an id that no file
            has
    """
    try:
        struct = msgspec.convert(values, record, strict=strict)
    except msgspec.ValidationError as error:
        words = str(error).replace("Object", "Table").replace("`object`", "a table")
        fault, _, key = words.partition(" - at `$")
        raise UnusableData(path, f"{where}{key.rstrip('`')}".lstrip(".") or "at the top", fault) from None
    _check_values(struct, path, where)
    return struct


def _check_values(value: object, path: object, where: str, ids: str = "") -> None:
    """Raise UnusableData for a number that is not finite and for an id that `ids`, the file of them, does not have."""
    match value:
        case Record():
            files = _files_of_ids(type(value))
            for field in value.__struct_fields__:
                inner, ids = getattr(value, field), files.get(field, "")
                if ids or not isinstance(inner, str | int | None):
                    _check_values(inner, path, f"{where}.{field}".lstrip("."), ids)
        case dict():
            for key, inner in value.items():
                _check_values(key, path, where, ids)
                _check_values(inner, path, f"{where}.{key}")
        case tuple():
            for inner in value:
                _check_values(inner, path, where, ids)
        case float() if not isfinite(value):
            raise UnusableData(path, where, f"Expected a number, got {value}")
        case str() if ids and value and value not in read_toml(DATA / ids):
            raise UnusableData(path, where, f"{ids} has no `{value}`")


@cache
def _files_of_ids(record: type[Record]) -> dict[str, str]:
    """The file of the ids that a field holds, by the field's name, for fields that hold some."""
    hints = get_type_hints(record, include_extras=True)
    return {field: file for field, hint in hints.items() if (file := _file_of_ids(hint))}


def _file_of_ids(hint: Any) -> str:  # noqa: ANN401 - a type, of which Python has no type
    marks = [mark.file for mark in getattr(hint, "__metadata__", ()) if isinstance(mark, IdOf)]
    return next((file for file in (*marks, *map(_file_of_ids, get_args(hint))) if file), "")
