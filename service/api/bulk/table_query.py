"""What the query of a table asks for: which rows and columns its answer has, which columns are the client's own, its decimal mark."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import chain
from typing import Any, Final
from urllib.parse import parse_qsl

import msgspec
from msgspec import UNSET, inspect

from service.api.serialization.chosen_columns import chosen_columns
from service.api.serialization.columns import Columns, columns_of
from service.api.serialization.field_faults import shortened
from service.api.serialization.language_parameter import LANGUAGE, language_faults
from service.api.serialization.query import MOST_CHARACTERS
from service.api.serialization.scalars import bare
from service.api.serialization.suggestions import near, question
from service.http.problems import HttpProblem, ProblemFault, invalid
from service.messages import Message

ROWS: Final = "rows"
COLUMNS: Final = "columns"
KEEP: Final = "keep"
DECIMAL: Final = "decimal"
NAMES: Final = (ROWS, COLUMNS, KEEP, DECIMAL)
MARKS: Final = {"point": False, "comma": True}
BETWEEN_WORDS: Final = re.compile(r"[\s_-]+")


class Wanted(msgspec.Struct, frozen=True):
    """What is wanted of the answers to a table.

    Attributes:
        columns: of each answer
        rows: the list of an answer whose items have a row each, None where an answer has one row
        keep: the names of the client's own columns, as `column_name` has them
        decimal_comma: whether numbers are answered with a decimal comma, None where the table decides
    """

    columns: Columns
    rows: str | None = None
    keep: frozenset[str] = frozenset()
    decimal_comma: bool | None = None


def column_name(heading: str) -> str:
    """The name of a column as it is compared: in small letters, words joined by underscores."""
    return BETWEEN_WORDS.sub("_", heading.strip().lower())


def listed_rows(answer: type[Any]) -> list[str]:
    """The lists of an answer whose items can have a row each."""
    kind = inspect.type_info(answer)
    fields = kind.fields if isinstance(kind, inspect.StructType) else ()
    return [field.encode_name for field in fields if _is_list_of_objects(bare(field.type))]


def _is_list_of_objects(kind: inspect.Type) -> bool:
    item = bare(kind.item_type) if isinstance(kind, inspect.ListType) else kind
    return isinstance(kind, inspect.ListType) and isinstance(item, inspect.StructType) and item.cls is not Message


def wanted(query: bytes, answer: type[Any]) -> Wanted:
    """What a query asks for of answers of a shape. Raises HttpProblem for what it may not ask (400, 414, 422)."""
    texts = _texts(query)
    rows, mark = (texts[name][0] if texts[name] else None for name in (ROWS, DECIMAL))
    columns, of_columns = _columns(texts[COLUMNS], rows, answer)
    lists = listed_rows(answer)
    faults: list[ProblemFault] = []
    if rows is not None and rows not in lists:
        allowed = f"one of: {', '.join(lists)}" if lists else "left out, since this answer has no list"
        faults.append(_fault(ROWS, "The answer has no such list.", allowed, near(rows, lists)))
    if mark is not None and mark not in MARKS:
        faults.append(_fault(DECIMAL, "Numbers have no such decimal mark.", f"one of: {', '.join(MARKS)}"))
    repeated = (name for name in (ROWS, DECIMAL) if len(texts[name]) > 1)
    faults += [_fault(name, "This parameter is given more than once.", "once") for name in repeated]
    every = chain(faults, of_columns)
    if first := next(every, None):
        raise invalid(chain([first], every))
    keep = frozenset(column_name(name) for text in texts[KEEP] for name in text.split(",") if name.strip())
    return Wanted(columns, rows, keep, None if mark is None else MARKS[mark])


def _texts(query: bytes) -> dict[str, list[str]]:
    """The texts of each parameter that there may be."""
    if len(query) > MOST_CHARACTERS:
        raise HttpProblem("uri-too-long", f"The query is longer than {MOST_CHARACTERS} characters.")
    try:
        parameters = parse_qsl(query.decode("ascii"), keep_blank_values=True, errors="strict")
    except ValueError:
        raise HttpProblem("unreadable", "The query is not percent-encoded UTF-8.") from None
    if faults := list(language_faults(parameters)):
        raise invalid(faults)
    if any(name not in NAMES for name, _ in parameters):
        listed = ", ".join((*NAMES, LANGUAGE))
        detail = f"The questions go into the body; the query may hold {listed}, and nothing else."
        raise HttpProblem("unknown-parameter", detail)
    return {name: [text for each, text in parameters if each == name] for name in NAMES}


def _columns(texts: list[str], rows: str | None, answer: type[Any]) -> tuple[Columns, Iterator[ProblemFault]]:
    """The columns of an answer, all where none are chosen, and what is wrong with those that are, made as it is read."""
    whole = columns_of(answer)
    if not texts:
        return whole, iter(())
    pointers = list(dict.fromkeys(pointer.strip() for text in texts for pointer in text.split(",")))
    columns, unknown = chosen_columns(answer, pointers)
    missing = (
        _fault(
            COLUMNS,
            f"No answer has a cell {shortened(pointer)}.",
            "JSON Pointers into the answer, such as /basis/method/text, with * for every item of a list",
            near(pointer, whole.names),
        )
        for pointer in unknown
    )
    single = re.compile(f"/{re.escape(rows or '')}/[0-9]")
    of_one = (
        _fault(COLUMNS, f"Each of {rows} has a row of its own; {pointer} is of one alone.", f"with /{rows}/*")
        for pointer in columns.names
        if rows is not None and single.match(pointer)
    )
    return columns, chain(missing, of_one)


def _fault(name: str, detail: str, allowed: str, meant: tuple[str, ...] = ()) -> ProblemFault:
    return ProblemFault("", name, f"{detail} {question(meant)}".rstrip(), allowed, did_you_mean=meant or UNSET)
