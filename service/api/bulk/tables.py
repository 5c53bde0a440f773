"""Tables: POST /v1/tables/{operation} with CSV, one question a row, answered by the same rows with the answers appended.

The columns of a question are the names of its query parameters; an empty cell is a parameter left out, and cells may be
written as service.api.serialization.typed lists. Columns of the client's own stand beside them where the query names them. Behind
them come the columns of the answer (service.api.serialization.columns) and `error`, which says in one line why a row has no
answer; before it, where an answer may stop the training, `stop`, which no choice of columns leaves out. The cells of a
question come back as they were sent, but never as a formula.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial
from itertools import chain
from typing import TYPE_CHECKING, Any, Final

import msgspec
from msgspec import UNSET, UnsetType

from service.api.bulk.dialects import MOST_ROWS, Table, read_table
from service.api.bulk.streaming import Bounds, Questions, Read, mounted_stream
from service.api.bulk.table_query import KEEP, Wanted, column_name, wanted
from service.api.models.stop_line import STOP, can_stop, stop_line
from service.api.refusals import answered, outcome
from service.api.routes import UTF_8
from service.api.serialization.columns import columns_of
from service.api.serialization.field_faults import shortened
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from service.api.serialization.suggestions import near, question
from service.api.serialization.typed import heading_and_unit, point_for_comma, quantity, with_unit, without_apostrophe
from service.http.cells import no_formula
from service.http.media_types import CSV
from service.http.problems import HttpProblem, ProblemFault, invalid

if TYPE_CHECKING:
    from litestar.handlers.asgi_handlers import ASGIRouteHandler

    from service.api.models.operation import Operation

MOST_EXPLAINED: Final = 262_144  # characters of cells with every fault in one answer; those after them are brief
COST_OF_ITEMS: Final = 2
"""Of writing a row for each item of an answer, besides the answer [0.1 ms of processor time on the machine of the benchmark]."""
ERROR: Final = "error"
_NO_NAMES: Final = "The first line holds no name of a column here: a title and other lines above the names have to go."
_COMPARED: Final = 40  # headings, of which one has to be like a name
PARAMETERS: Final = UTF_8 | {b"header=present"}
NUMBER: Final = re.compile(r"[+-]?[0-9]+(?:[.,][0-9]+)?\s?[A-Za-z]{0,8}").fullmatch


class Tables:
    """Answers the tables of one operation."""

    def __init__(self, operation: Operation) -> None:
        self._operation = operation
        self._form = QueryForm(operation, Reader(operation.request, operation.questions))
        self._whole = Wanted(columns_of(operation.answer))

    def reading(self, query: bytes) -> Read:
        """What reads a body whose query asks for this. Raises HttpProblem where it may not."""
        return partial(self.read, asked=wanted(query, self._operation.answer) if query else self._whole)

    def read(self, body: bytes, asked: Wanted | None = None) -> Questions:
        """The questions of a table, with the lines of its answer. Raises HttpProblem where no row can be answered."""
        asked = asked or self._whole
        rows = _Rows(self._operation, self._form, read_table(body, decimal_comma=asked.decimal_comma), asked)
        return Questions(rows.costs(), rows.lines())


class _Rows:
    """The rows of one table."""

    def __init__(self, operation: Operation, form: QueryForm, table: Table, asked: Wanted) -> None:
        """Raises HttpProblem for columns that are not what they may be."""
        self._operation = operation
        self._form = form
        self._table = table
        self._asked = asked
        self._columns = [self._column(heading) for heading in table.header]
        self._names = [name for name, _ in self._columns]
        faults = self._faults()
        first = next(faults, None)
        if first is not None:
            raise invalid(chain([first], faults))
        leaves = form.flat.leaves
        self._parameters = [
            (index, leaves[name], unit) for index, (name, unit) in enumerate(self._columns) if name in leaves
        ]
        self._stops = [STOP] if can_stop(operation.answer) else []
        self._takes_comma = table.dialect.takes_decimal_comma

    def _column(self, heading: str) -> tuple[str, str]:
        """The name of a column, and the unit that its heading gives to numbers alone, where it is a quantity's."""
        stripped, unit = heading_and_unit(heading)
        name, leaf = column_name(heading), self._form.flat.leaves.get(column_name(stripped))
        taken = unit and name not in self._asked.keep and leaf is not None and leaf.text_form.typed is quantity
        return (column_name(stripped), unit) if taken else (name, "")

    def _faults(self) -> Iterator[ProblemFault]:
        known, keep = self._form.flat.leaves, self._asked.keep
        allowed: str | UnsetType = f"columns of your own, where {KEEP} in the query names them, and: {', '.join(known)}"
        if not any(name in known or near(name, known) for name in self._names[:_COMPARED]):
            yield ProblemFault("", shortened(self._table.header[0]), _NO_NAMES, allowed)
            return
        allowed = f"columns of your own, where {KEEP} in the query names them, and the parameters of GET {self._operation.path}"
        hint = self._kept_too()
        answered = {ERROR, STOP, *self._asked.columns.names}
        seen: set[str] = set()
        for heading, name in zip(self._table.header, self._names, strict=True):
            if not name:
                yield ProblemFault("", detail="A column that is not the last has no name.", allowed=allowed)
            elif name in seen:
                yield ProblemFault("", shortened(heading), "This column is there more than once.", "once")
            elif name in keep and name in answered:
                yield ProblemFault("", shortened(heading), "The answer has a column of this name.", "another name")
            elif name not in known and name not in keep:
                meant = near(heading_and_unit(heading)[0], known)
                instead = question(meant) or hint
                detail = f"This column is not known here. {instead}".rstrip()
                yield ProblemFault(
                    "", shortened(heading), detail, UNSET if meant else allowed, did_you_mean=meant or UNSET
                )
                if not meant:
                    allowed, hint = UNSET, ""  # once is enough
            seen.add(name)
        for name in keep & known.keys():
            yield ProblemFault("", KEEP, f"{name} is a parameter of the question.", "names of columns of your own")
        for name in keep - seen - known.keys():
            detail = f"The table has no column {shortened(name)}."
            yield ProblemFault("", KEEP, detail, "names of columns of your own")

    def _kept_too(self) -> str:
        """How every column that is like no parameter comes back."""
        known = self._form.flat.leaves
        kept = dict.fromkeys(
            name
            for heading, name in zip(self._table.header[:_COMPARED], self._names, strict=False)
            if name
            and name not in known
            and (name in self._asked.keep or not near(heading_and_unit(heading)[0], known))
        )
        return f"Your own come back where the query names them all: {KEEP}={','.join(map(shortened, kept))}."

    def costs(self) -> Iterator[int]:
        """What the rows cost, each as by itself and in rows of its items; one that will be refused costs a unit, if that is seen."""
        beside = 0 if self._asked.rows is None else COST_OF_ITEMS
        if self._operation.cost_of is None:
            yield self._table.count * (self._operation.cost + beside)
            return
        for row in self._table.rows():
            try:
                yield self._operation.cost_of(self._read(row, brief=True)) + beside
            except HttpProblem:
                yield 1

    def lines(self) -> Iterator[bytes]:
        """The lines of the answer, from what stands before its header on."""
        line, columns = self._table.dialect.line, self._asked.columns
        yield self._table.dialect.start + line(
            [*map(no_formula, self._table.header), *columns.names, *self._stops, ERROR]
        )
        no_answer = [""] * len([*columns.names, *self._stops])
        explained = 0
        for row in self._table.rows():
            brief = explained > MOST_EXPLAINED
            sent = list(map(_as_sent, row[: len(self._names)]))
            try:
                answers = self._answers(row, brief=brief)
            except HttpProblem as problem:
                words = (problem.brief if brief else problem).line
                explained += len(words)
                yield line([*sent, *no_answer, words])
            else:
                stop = [stop_line(answers[0])] if self._stops else []
                yield b"".join(line([*sent, *columns.cells(answer), *stop, ""]) for answer in answers)

    def _answers(self, row: list[str], *, brief: bool) -> list[Any]:
        """The answer of a row, once for each row of it. Raises HttpProblem with its faults, or with the first one if brief."""
        answer = outcome(partial(self._compute, row, brief=brief), self._operation.path, self._form.shown)
        if self._asked.rows is None or not getattr(answer, self._asked.rows):
            return [answer]
        items = getattr(answer, self._asked.rows)
        return [msgspec.structs.replace(answer, **{self._asked.rows: [item]}) for item in items]

    def _compute(self, row: list[str], *, brief: bool) -> Any:
        return answered(self._operation.compute, self._read(row, brief=brief))

    def _read(self, row: list[str], *, brief: bool) -> Any:
        if len(row) > len(self._names):
            raise HttpProblem("unreadable", f"The row has {len(row)} cells, the header {len(self._names)}.")
        texts: dict[str, str] = {}
        faults: list[ProblemFault] = []
        for index, leaf, unit in self._parameters:
            cell = without_apostrophe(row[index])
            pointed = point_for_comma(cell) if self._takes_comma and leaf.decimals else cell
            if pointed is None:
                detail = "A comma before three digits may stand for a decimal point or separate thousands."
                allowed = "62,5 or 62.5, and no mark between thousands"
                faults.append(ProblemFault(leaf.pointer, leaf.name, detail, allowed))
                texts[leaf.name] = cell
            elif text := leaf.typed(with_unit(pointed, unit)):
                texts[leaf.name] = text
        return self._form.read(texts, faults, brief=brief)


def _as_sent(text: str) -> str:
    """A cell as it comes back: as it was sent, unless it would be a formula."""
    return text if text[:1].isalnum() or NUMBER(text) else no_formula(text)


def table_path(operation: Operation) -> str:
    """Where the tables of an operation are answered."""
    return f"/v1/tables/{operation.name}"


def most_rows(operation: Operation, most_cost: int) -> int:
    """How many rows a table of an operation may have where one request may cost so much."""
    return min(MOST_ROWS, most_cost // operation.cost)


def mounted_table(operation: Operation, bounds: Bounds) -> ASGIRouteHandler:
    """The tables of an operation as a Litestar handler of their path."""
    return mounted_stream(table_path(operation), CSV, PARAMETERS, bounds, Tables(operation).reading)
