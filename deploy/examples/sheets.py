"""Sheets of a workbook whose formulas ask a service: their cells, how they look, and how a question is written."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from enum import Enum
from pathlib import Path

from xlsxwriter import Workbook

from deploy.examples.workbook_content import FAILED, NONE, Question, Result

COLUMNS = "ABCDEFGHIJKLMNOPQRSTUVW"
FONT: dict[str, str | int] = {"font_name": "Liberation Sans", "font_size": 11}
A4 = 9  # as spreadsheets number it
CREATED = datetime(2000, 1, 1, tzinfo=UTC)  # the same each time, so that the same content is the same file


class Look(Enum):
    """What a cell is to its reader, which says how it looks."""

    PLAIN = "plain"
    TITLE = "title"
    HEADING = "heading"
    INPUT = "input"
    NOTE = "note"
    RESULT = "result"
    SENTENCE = "sentence"


FORMATS = {
    Look.PLAIN: FONT,
    Look.TITLE: FONT | {"bold": True, "font_size": 16},
    Look.HEADING: FONT | {"bold": True, "bg_color": "#DDE8EA"},
    Look.INPUT: FONT | {"bg_color": "#FFF6D6", "bottom": 1},
    Look.NOTE: FONT | {"valign": "top"},
    Look.RESULT: FONT | {"bold": True, "align": "right"},
    Look.SENTENCE: FONT | {"valign": "top", "text_wrap": True},
}


@dataclass(frozen=True)
class Cell:
    """A number, a text, or a formula, which begins with an equals sign.

    In a file, functions younger than its format carry the prefix _xlfn; a spreadsheet shows them without it.
    """

    value: float | str
    look: Look = Look.PLAIN


@dataclass
class Sheet:
    """A sheet that is filled row by row.

    title: of its tab; widths: of its columns by their letter, the first ones those of questions and answers; rows: the
    cells by their column letter; names: cells by name, or a column's cells from one to another; choices: what a cell
    may hold, or the formula of the cells that list it; proposals: the formula of cells that list what it may hold
    beside others; kept_in_sight: rows and columns that stay while the others scroll.
    """

    title: str
    widths: dict[str, int]
    rows: list[dict[str, Cell]] = field(default_factory=list)
    names: dict[str, str] = field(default_factory=dict)
    choices: dict[str, tuple[str, ...] | str] = field(default_factory=dict)
    proposals: dict[str, str] = field(default_factory=dict)
    kept_in_sight: tuple[int, int] = (0, 0)

    def add(self, **cells: Cell) -> int:
        """Appends a row and gives its number; a cell without content or look of its own is left out."""
        self.rows.append(
            {letter: cell for letter, cell in cells.items() if cell.value or cell.look in (Look.HEADING, Look.INPUT)}
        )
        return len(self.rows)


def write(sheets: Sequence[Sheet], path: Path) -> None:
    """Writes a workbook of some sheets."""
    with Workbook(path, {"default_format_properties": dict(FONT)}) as book:  # which is written into
        book.set_properties({"created": CREATED})
        formats = {look: book.add_format(properties) for look, properties in FORMATS.items()}
        for sheet in sheets:
            page = book.add_worksheet(sheet.title)
            for letter, width in sheet.widths.items():
                page.set_column(f"{letter}:{letter}", width)
            page.set_row(0, 24)
            page.freeze_panes(*sheet.kept_in_sight)
            page.set_landscape()
            page.set_paper(A4)
            page.fit_to_pages(1, 0)  # as wide as a page, as long as it takes
            if sheet.widths:  # without the addresses that go on behind
                page.print_area(f"A1:{max(sheet.widths)}{len(sheet.rows)}")
            for number, row in enumerate(sheet.rows, 1):
                for letter, cell in row.items():
                    address, shown_as = f"{letter}{number}", formats[cell.look]
                    if not isinstance(cell.value, str):
                        page.write_number(address, cell.value, shown_as)
                    elif cell.value.startswith("="):
                        page.write_formula(address, cell.value, shown_as, value="")  # not 0, which reads as an answer
                    else:
                        page.write_string(address, cell.value, shown_as)
            for address, values in (sheet.choices | sheet.proposals).items():
                source = f"={values}" if isinstance(values, str) else list(values)
                offered = {"validate": "list", "source": source, "show_error": address not in sheet.proposals}
                page.data_validation(address, offered)
            for name, address in sheet.names.items():
                cells = ":".join(f"${end[0]}${end[1:]}" for end in address.split(":"))
                book.define_name(name, f"={sheet.title}!{cells}")


def heading(*texts: str) -> dict[str, Cell]:
    """The cells of a heading, from the first column on."""
    return {letter: Cell(text, Look.HEADING) for letter, text in zip(COLUMNS, texts, strict=False)}


def add_question(sheet: Sheet, question: Question) -> None:
    """A question as an address, and a row for each value that is shown of its answer.

    One that sends a prescription on asks nothing where there is none. Where the first row says why there is no answer,
    the others say that there is none.
    """
    sheet.add()
    row = sheet.add(**heading(question.words, "answer", "low", "high", "unit", "")) + 1
    address = "&".join(
        [
            address_of(question.operation, question.parameters),
            *itertools.starmap(sent_on, question.prescriptions.items()),
        ]
    )
    for prescription in question.prescriptions.values():
        address = f'IF({prescription}="","",{address})'
    sheet.add(A=Cell("The question as an address", Look.NOTE), F=Cell(f"={address}", Look.NOTE))
    for number, result in enumerate(question.results):
        failed = f'"{FAILED}"'
        if number and question.results[0].says_why:
            failed = f'IF($B${row + 1}={failed},{failed},"{NONE}")'
        if result.fallback is not None:
            failed = f'"{result.fallback}"'
        shown = _shown(result, f"$F${row}", failed)
        if question.prescriptions:
            shown |= {"B": f'IF($F${row}="","{NONE}",{shown["B"]})'}
        cells = {letter: Cell(f"={formula}", Look.RESULT) for letter, formula in shown.items()}
        if result.unit:
            cells["E"] = Cell(f"={result.unit}")
        added = sheet.add(A=Cell(result.words), **cells, F=Cell(result.note, Look.NOTE))
        if result.name:
            sheet.names[result.name] = f"B{added}"


def _shown(result: Result, address: str, failed: str) -> dict[str, str]:
    """The formulas of a value and, with a span, of its ends, by their columns."""
    if result.says_why:
        address += '&"errors=text&"'
    if result.otherwise:
        failed = asked(address, result.otherwise, text=True, failed=failed)
    pointers = {"B": "/value", "C": "/low", "D": "/high"} if result.span else {"B": ""}
    return {
        letter: asked(address, result.pointer + end, text=result.text, failed=failed if letter == "B" else '""')
        for letter, end in pointers.items()
    }


def address_of(operation: str, parameters: dict[str, str]) -> str:
    """The formula of a question's address, to which more can be added; what is empty is left out."""
    query = "&".join(itertools.starmap(parameter, parameters.items()))
    return f'service&"/v1/{operation}?"&{query}'


def parameter(name: str, formula: str) -> str:
    """The formula of a parameter with what parts it from the next; empty where its value is empty."""
    sent = f'"{name}="&_xlfn.ENCODEURL({formula})&"&"'
    constant = formula[0] == formula[-1] == '"'
    return sent if constant else f'IF({formula}="","",{sent})'


def sent_on(name: str, cell: str) -> str:
    """The formula that sends a prescription on as it was answered."""
    return f'"{name}_"&SUBSTITUTE({cell},"&","&{name}_")&"&"'


def asked(address: str, pointer: str, *, text: bool, failed: str) -> str:
    """The formula that asks for one value of an answer, or has that of `failed`; numbers come with a decimal point."""
    answer = f'_xlfn.WEBSERVICE({address}&"as=text&select={pointer}")'
    return f'IFERROR({answer if text else f"""_xlfn.NUMBERVALUE({answer},".",",")"""},{failed})'
