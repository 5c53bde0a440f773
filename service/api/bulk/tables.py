"""Tables: POST /v1/tables/{operation} with CSV, one question a row, answered by the same rows with the answers appended.

The columns of a question are the names of its query parameters; an empty cell is a parameter left out. Behind them come
the columns of the answer (service.api.serialization.columns) and `error`, which says in one line why a row has no answer. The cells of
a question come back as they were sent.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator
from functools import partial
from itertools import chain, islice
from typing import TYPE_CHECKING, Any, Final

import msgspec
from msgspec import UNSET

from service.api.bulk.streaming import Bounds, Questions, mounted_stream
from service.api.refusals import outcome
from service.api.routes import UTF_8
from service.api.serialization.columns import columns_of
from service.api.serialization.csv import csv_row
from service.api.serialization.field_faults import shortened
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from service.api.serialization.suggestions import near, question
from service.http.media_types import CSV
from service.http.problems import HttpProblem, ProblemFault, invalid

if TYPE_CHECKING:
    from litestar.handlers.asgi_handlers import ASGIRouteHandler

    from service.api.models.operation import Operation

MOST_ROWS: Final = 10_000
LONGEST_ROW: Final = 16_384  # characters, the header among them: eight times an address with the same question
MOST_EXPLAINED: Final = 262_144  # characters of cells with every fault in one answer; those after them are brief
ERROR: Final = "error"
PARAMETERS: Final = UTF_8 | {b"header=present"}


class Table(msgspec.Struct, frozen=True):
    """A table as sent: its columns, and how many rows that are not empty; they are taken apart one at a time.

    All of them at once are up to 24 times the bytes of the body, and many tables may wait for each other.
    """

    header: list[str]
    count: int
    body: bytes

    def rows(self) -> Iterator[list[str]]:
        """The rows behind the header, without the empty ones."""
        return islice(_filled(self.body), 1, None)


def _filled(body: bytes) -> Iterator[list[str]]:
    """The rows of CSV in UTF-8, with or without a byte order mark, that are not empty.

    Raises HttpProblem for a row that is too long, before it is taken apart, and for too many of them.
    """
    size = 0

    def lines() -> Iterator[str]:
        nonlocal size
        for line in io.TextIOWrapper(io.BytesIO(body), "utf-8-sig", newline=""):
            size += len(line)
            if size > LONGEST_ROW:
                raise HttpProblem("too-large", f"A row may have {LONGEST_ROW} characters.")
            yield line

    try:
        for number, row in enumerate(csv.reader(lines(), strict=True)):
            if number > MOST_ROWS + 1:  # the header, and an empty line at the end
                raise HttpProblem("too-large", f"A table may have {MOST_ROWS} rows.")
            size = 0
            if row:
                yield row
    except UnicodeDecodeError:
        raise HttpProblem("unreadable", "The table is not text in UTF-8.") from None
    except csv.Error as error:
        raise HttpProblem("unreadable", f"The table is not CSV as in RFC 4180: {error}.") from None


def read_table(body: bytes) -> Table:
    """The table in the body. Raises HttpProblem if it is not a table or too long."""
    filled = _filled(body)
    header = next(filled, None)
    if header is None:
        raise HttpProblem("unreadable", "The table has no line with the names of its columns.")
    count = sum(1 for _ in filled)
    if count > MOST_ROWS:
        raise HttpProblem("too-large", f"A table may have {MOST_ROWS} rows.")
    return Table(header, count, body)


class Tables:
    """Answers the tables of one operation."""

    def __init__(self, operation: Operation) -> None:
        self._operation = operation
        self._form = QueryForm(operation, Reader(operation.request, operation.questions))
        self._columns = columns_of(operation.answer)
        self._no_answer = [""] * len(self._columns.names)

    def read(self, body: bytes) -> Questions:
        """The questions of a table, with the lines of its answer. Raises HttpProblem where no row can be answered."""
        table = read_table(body)
        self._check(table.header)
        return Questions(self._costs(table), self._lines(table))

    def _costs(self, table: Table) -> Iterator[int]:
        """What the rows cost, each as by itself; one that will be refused costs a unit, if that is seen."""
        if self._operation.cost_of is None:
            yield table.count * self._operation.cost
            return
        for row in table.rows():
            try:
                yield self._operation.cost_of(self._read(table.header, row, brief=True))
            except HttpProblem:
                yield 1

    def _check(self, header: list[str]) -> None:
        faults = self._faults(Counter(header))
        first = next(faults, None)
        if first is not None:
            raise invalid(chain([first], faults))

    def _faults(self, header: Counter[str]) -> Iterator[ProblemFault]:
        known = self._form.flat.leaves
        allowed = "columns, separated by commas: " + ", ".join(known)
        for name, times in header.items():
            if name not in known:
                meant = near(name, known)
                detail = f"This column is not known here. {question(meant)}".rstrip()
                yield ProblemFault("", shortened(name), detail, allowed, did_you_mean=meant or UNSET)
            elif times > 1:
                yield ProblemFault("", name, "This column is there more than once.", "once")

    def _lines(self, table: Table) -> Iterator[bytes]:
        yield csv_row([*table.header, *self._columns.names, ERROR]).encode()
        explained = 0
        for row in table.rows():
            brief = explained > MOST_EXPLAINED
            try:
                cells = self._answered(table.header, row, brief=brief)
            except HttpProblem as problem:
                line = (problem.brief if brief else problem).line
                explained += len(line)
                cells = [*(row + [""] * len(table.header))[: len(table.header)], *self._no_answer, line]
            yield csv_row(cells).encode()

    def _answered(self, header: list[str], row: list[str], *, brief: bool) -> list[str]:
        """A row with its answer. Raises HttpProblem with its faults, or with the first one if brief."""
        compute = partial(self._compute, header, row, brief=brief)
        answer = outcome(compute, self._operation.path, self._form.shown)
        return [*row, *self._columns.cells(answer), ""]

    def _compute(self, header: list[str], row: list[str], *, brief: bool) -> Any:
        return self._operation.compute(self._read(header, row, brief=brief))

    def _read(self, header: list[str], row: list[str], *, brief: bool) -> Any:
        if len(row) != len(header):
            raise HttpProblem("unreadable", f"The row has {len(row)} cells, the header {len(header)}.")
        texts = {name: text for name, text in zip(header, row, strict=True) if text}
        return self._form.read(texts, [], brief=brief)


def table_path(operation: Operation) -> str:
    """Where the tables of an operation are answered."""
    return f"/v1/tables/{operation.name}"


def most_rows(operation: Operation, most_cost: int) -> int:
    """How many rows a table of an operation may have where one request may cost so much."""
    return min(MOST_ROWS, most_cost // operation.cost)


def mounted_table(operation: Operation, bounds: Bounds) -> ASGIRouteHandler:
    """The tables of an operation as a Litestar handler of their path."""
    return mounted_stream(table_path(operation), CSV, PARAMETERS, bounds, Tables(operation).read)
