"""Answers as cells: rows of CSV (RFC 4180), and one bare cell of text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from itertools import islice
from typing import Any, Final
from urllib.parse import urlencode

import msgspec
from msgspec import inspect

from service.api.models.stop_line import stop_line
from service.api.serialization.columns import Cells, bare_text, cell, columns_of
from service.api.serialization.flattening import FlatForm
from service.api.serialization.json_pointer import pointer, selected, unselectable
from service.api.serialization.scalars import text_form
from service.http.media_types import CSV
from service.http.problems import HttpProblem, ProblemFault, invalid

# any separator, so that a program that splits at several, or guesses another, makes no second cell of what stands behind it
MOST_PARTS: Final = 8
QUOTED: Final = re.compile('[,;\t"\r\n]').search


def csv_row(cells: Cells, separator: str = ",", *, decimal_comma: bool = False) -> str:
    """One line of CSV (RFC 4180) with its line end; half the time of the standard library's writer for long texts.

    separator: another one than the comma; decimal_comma: whether numbers have a comma in place of the point.
    """
    if decimal_comma:
        cells = [str(one).replace(".", ",") if isinstance(one, float) else one for one in cells]
    texts = map(str, cells)
    return separator.join(['"' + text.replace('"', '""') + '"' if QUOTED(text) else text for text in texts]) + "\r\n"


def csv_text(answer: Any, select: str) -> str:
    """A header and a row of the answer; or of the part that a JSON Pointer selects, a row for each item of a list."""
    part = _part(answer, select)
    rows = part if isinstance(part, list) else [part]
    if rows and all(isinstance(row, msgspec.Struct) for row in rows):
        columns = columns_of(type(rows[0]))
        table = [list(columns.names), *map(columns.cells, rows)]
    elif any(isinstance(row, msgspec.Struct | list | dict) for row in rows):
        raise unselectable("This part of the answer has no fixed columns.")
    else:
        table = [["value"], *([cell(row)] for row in rows)]
    return "".join(map(csv_row, table))


def error_cells(line: str, media_type: bytes) -> str:
    """Why there is no answer, in the place of one: a bare cell, or a table with that column alone."""
    return csv_row(["error"]) + csv_row([line]) if media_type == CSV else line


def selected_text(answer: Any, select: str) -> str:
    """The single value that a JSON Pointer selects of the answer, as bare text; what questions take, as queries write it."""
    part = _part(answer, select)
    if isinstance(part, msgspec.Struct) and part.__struct_config__.forbid_unknown_fields:  # a shape of questions
        return as_asked(part)
    if isinstance(part, msgspec.Struct | list | dict):
        raise unselectable(f"This part of the answer is no single value{_cells_in(part, select)}.")
    return bare_text(part)


def _cells_in(part: Any, select: str) -> str:
    """What can be selected of a part that is no single value: the first of its parts, by their pointers."""
    names: Iterable[Any] = range(len(part)) if isinstance(part, list) else msgspec.to_builtins(part)
    pointers = [f"{select}{pointer([name])}" for name in islice(names, MOST_PARTS)]
    return f"; it has {', '.join(pointers)}" if pointers else ""


def _part(answer: Any, select: str) -> Any:
    """The part of an answer at a pointer. Raises HttpProblem where it leads to nothing, and where the training stops before an empty part."""
    stop = stop_line(answer)
    try:
        part = selected(answer, select)
    except HttpProblem:
        if not stop:
            raise
        part = None
    if stop and part in (None, []):
        raise invalid([ProblemFault("", detail=stop)])
    return part


def as_asked(part: msgspec.Struct) -> str:
    """A quantity as 62.5kg, a range as 4-6, a prescription as the parameters that ask about it."""
    form = text_form(inspect.type_info(type(part)))
    if form is None:
        return urlencode(_flat_form(type(part)).to_texts(part))
    return form.write(msgspec.to_builtins(part))


@cache
def _flat_form(shape: type[msgspec.Struct]) -> FlatForm:
    return FlatForm(shape)
