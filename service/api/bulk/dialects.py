"""Tables in the dialects of CSV that spreadsheets write, read a row at a time.

The line with the names of the columns decides, and nothing else does:

1. A byte order mark is taken as such, and a first line such as `sep=;` names the separator.
2. Else the separator is the comma, semicolon or tab that stands first in that line outside quotation marks, and the comma
   where none does.
3. Where it is the semicolon, numbers may have a decimal comma and are answered with one; where it is the tab, they may have
   one. What a client says of its numbers outranks that.
4. Empty cells at the end of a row are none, whatever their number; a row of empty cells is no row.

The answer is written in the dialect of the table.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Iterator
from itertools import islice
from typing import Final

import msgspec

from service.api.serialization.columns import Cells
from service.api.serialization.csv import csv_row
from service.http.problems import HttpProblem

MOST_ROWS: Final = 10_000
LONGEST_ROW: Final = 16_384  # characters, the header among them: eight times an address with the same question
_STATED: Final = re.compile(rb'(")?sep=(?P<separator>.)(?(1)")[,;\t]*(?:\r\n|\r|\n|$)', re.IGNORECASE)
_FIRST_LINE: Final = re.compile(rb"[\r\n]*([^\r\n]*)")
_QUOTED: Final = re.compile(rb'"[^"]*(?:"|$)')
_SEPARATOR: Final = re.compile(rb"[,;\t]")
_SEPARATORS: Final = {b",", b";", b"\t"}


class Dialect(msgspec.Struct, frozen=True):
    """How a table is written.

    Attributes:
        separator: between cells
        decimal_comma: whether numbers are answered with a comma in place of the point
        start: what stands before the first line: a byte order mark, a line that names the separator
    """

    separator: str = ","
    decimal_comma: bool = False
    start: bytes = b""

    @property
    def takes_decimal_comma(self) -> bool:
        """Whether a comma in a number may be its decimal comma."""
        return self.separator != ","

    def line(self, cells: Cells) -> bytes:
        """A row as it is written."""
        return csv_row(cells, self.separator, decimal_comma=self.decimal_comma).encode()


class Table(msgspec.Struct, frozen=True):
    """A table as sent: its columns, and how many rows that are not empty; they are taken apart one at a time.

    All of them at once are up to 24 times the bytes of the body, and many tables may wait for each other.
    """

    dialect: Dialect
    header: list[str]
    count: int
    body: bytes

    def rows(self) -> Iterator[list[str]]:
        """The rows behind the header, without the empty ones, each with a cell for every column and the cells beyond them."""
        for row in islice(_filled(self.body, self.dialect), 1, None):
            yield row + [""] * (len(self.header) - len(row))


def read_table(body: bytes, *, decimal_comma: bool | None = None) -> Table:
    """The table in the body; decimal_comma: of the answer's numbers, where that is stated.

    Raises HttpProblem if it is no table or too long.
    """
    dialect = _dialect(body, decimal_comma=decimal_comma)
    filled = _filled(body, dialect)
    header = next(filled, None)
    if header is None:
        raise HttpProblem("unreadable", "The table has no line with the names of its columns.")
    count = sum(1 for _ in filled)
    if count > MOST_ROWS:
        raise HttpProblem("too-large", f"A table may have {MOST_ROWS} rows.")
    return Table(dialect, header, count, body)


def _dialect(body: bytes, *, decimal_comma: bool | None) -> Dialect:
    mark = codecs.BOM_UTF8 if body.startswith(codecs.BOM_UTF8) else b""
    stated = _STATED.match(body, len(mark))
    if stated:
        separator, start = stated["separator"], body[: stated.end()]
        if separator not in _SEPARATORS:
            raise HttpProblem("unreadable", "A table is separated by commas, semicolons or tabs.")
    else:
        line = _FIRST_LINE.match(body, len(mark))
        found = _SEPARATOR.search(_QUOTED.sub(b"", line[1] if line else b""))
        separator, start = found[0] if found else b",", mark
    comma = separator == b";" if decimal_comma is None else decimal_comma
    return Dialect(separator.decode(), comma, start)


def _filled(body: bytes, dialect: Dialect) -> Iterator[list[str]]:
    """The rows of CSV in UTF-8 that are not empty, without the empty cells at their ends.

    Raises HttpProblem for a row that is too long, before it is taken apart, and for too many of them.
    """
    size = 0

    def lines() -> Iterator[str]:
        nonlocal size
        content = io.BytesIO(body)
        content.seek(len(dialect.start))
        for line in io.TextIOWrapper(content, "utf-8", newline=""):
            size += len(line)
            if size > LONGEST_ROW:
                raise HttpProblem("too-large", f"A row may have {LONGEST_ROW} characters.")
            yield line

    try:
        for number, row in enumerate(csv.reader(lines(), delimiter=dialect.separator, strict=True)):
            if number > MOST_ROWS + 1:  # the header, and an empty line at the end
                raise HttpProblem("too-large", f"A table may have {MOST_ROWS} rows.")
            size = 0
            while row and not row[-1].strip():
                row.pop()
            if row:
                yield row
    except UnicodeDecodeError:
        raise HttpProblem("unreadable", "The table is not text in UTF-8: save it as CSV UTF-8.") from None
    except csv.Error as error:
        raise HttpProblem("unreadable", f"The table is not CSV as in RFC 4180: {error}.") from None
