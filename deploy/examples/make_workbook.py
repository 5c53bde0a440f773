"""Writes consultation.xlsx, a workbook of the demo scenario whose formulas ask a service.

From the top of the repository: python -m deploy.examples.make_workbook. What it holds stands in workbook_content.py.
The file in the repository is what this writes; a test compares them.
"""

from __future__ import annotations

import itertools
import sys
from dataclasses import dataclass, field
from datetime import UTC, datetime
from enum import Enum
from pathlib import Path

from xlsxwriter import Workbook

from deploy.examples.workbook_content import (
    FAILED,
    INPUTS,
    MOST_SESSIONS,
    NOTES,
    QUESTIONS,
    REVIEW,
    SESSIONS,
    Input,
    Question,
)

FILE = Path(__file__).parent / "consultation.xlsx"
TITLE = "Consultation"
WIDTHS = {"A": 60, "B": 20, "C": 17, "D": 17, "E": 16, "F": 90}
FONT: dict[str, str | int] = {"font_name": "Liberation Sans", "font_size": 11}
CREATED = datetime(2000, 1, 1, tzinfo=UTC)  # the same each time, so that the same content is the same file


class Look(Enum):
    """What a cell is to its reader, which says how it looks."""

    PLAIN = "plain"
    TITLE = "title"
    HEADING = "heading"
    INPUT = "input"
    NOTE = "note"
    RESULT = "result"


LISTS = {"I": "pain_in_session", "J": "pain_next_morning", "K": "reps_done", "L": "earlier_prescription"}
FORMATS = {
    Look.PLAIN: FONT,
    Look.TITLE: FONT | {"bold": True, "font_size": 16},
    Look.HEADING: FONT | {"bold": True, "bg_color": "#DDE8EA"},
    Look.INPUT: FONT | {"bg_color": "#FFF6D6", "bottom": 1},
    Look.NOTE: FONT | {"valign": "top"},
    Look.RESULT: FONT | {"bold": True, "align": "right"},
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

    rows: the cells by their column letter; names: cells by name; choices: what a cell may hold.
    """

    rows: list[dict[str, Cell]] = field(default_factory=list)
    names: dict[str, str] = field(default_factory=dict)
    choices: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def add(self, **cells: Cell) -> int:
        """Appends a row and gives its number; a cell without content or look of its own is left out."""
        self.rows.append(
            {letter: cell for letter, cell in cells.items() if cell.value or cell.look in (Look.HEADING, Look.INPUT)}
        )
        return len(self.rows)

    def write(self, path: Path) -> None:
        """Writes the workbook."""
        with Workbook(path, {"default_format_properties": FONT}) as book:
            book.set_properties({"created": CREATED})
            page = book.add_worksheet(TITLE)
            formats = {look: book.add_format(properties) for look, properties in FORMATS.items()}
            for letter, width in WIDTHS.items():
                page.set_column(f"{letter}:{letter}", width)
            page.set_row(0, 24)
            for number, row in enumerate(self.rows, 1):
                for letter, cell in row.items():
                    address, shown_as = f"{letter}{number}", formats[cell.look]
                    if not isinstance(cell.value, str):
                        page.write_number(address, cell.value, shown_as)
                    elif cell.value.startswith("="):
                        page.write_formula(address, cell.value, shown_as, value="")  # not 0, which reads as an answer
                    else:
                        page.write_string(address, cell.value, shown_as)
            for address, values in self.choices.items():
                page.data_validation(address, {"validate": "list", "source": list(values)})
            for name, address in self.names.items():
                book.define_name(name, f"={TITLE}!${address[0]}${address[1:]}")


def workbook() -> Sheet:
    """The sheet with its notes, inputs, questions and answers."""
    sheet = Sheet()
    sheet.add(A=Cell("A sore low back in the front squat", Look.TITLE))
    for note in NOTES:
        sheet.add(A=Cell(note, Look.NOTE))
    sheet.add()
    row = sheet.add(A=Cell("Address of the service"), B=Cell("http://127.0.0.1:8000", Look.INPUT))
    sheet.names["service"] = f"B{row}"
    sheet.add()
    sheet.add(**_heading("What you know and wonder", "value", "unit", "as it is sent", "", "note"))
    for entry in INPUTS:
        _add_input(sheet, entry)
    consultation, plan, *others = QUESTIONS
    _add_question(sheet, consultation)
    _add_question(sheet, plan)
    _add_course(sheet)
    for question in others:
        _add_question(sheet, question)
    return sheet


def _heading(*texts: str) -> dict[str, Cell]:
    return {letter: Cell(text, Look.HEADING) for letter, text in zip(WIDTHS, texts, strict=True)}


def _add_input(sheet: Sheet, entry: Input) -> None:
    """A number is sent with a decimal point whatever the reader's country writes, its unit behind it."""
    row = len(sheet.rows) + 1
    cells = {"A": Cell(entry.words), "B": Cell(entry.value, Look.INPUT)}
    sent = f"=B{row}" if isinstance(entry.value, str) else f'=SUBSTITUTE(B{row}&C{row},",",".")'
    if entry.units:
        cells["C"] = Cell(entry.units[0], Look.INPUT)
        sheet.choices[f"C{row}"] = entry.units
        sheet.names[f"{entry.name}_unit"] = f"C{row}"
    if entry.choices:
        sheet.choices[f"B{row}"] = entry.choices
    sheet.names[entry.name] = f"D{row}"
    sheet.add(**cells, D=Cell(sent), F=Cell(entry.note, Look.NOTE))


def _add_question(sheet: Sheet, question: Question) -> None:
    sheet.add()
    row = sheet.add(**_heading(question.words, "answer", "low", "high", "unit", "")) + 1
    address = "&".join(
        [
            _address(question.operation, question.parameters),
            *itertools.starmap(_sent_on, question.prescriptions.items()),
        ]
    )
    sheet.add(A=Cell("The question as an address", Look.NOTE), F=Cell(f"={address}", Look.NOTE))
    for result in question.results:
        pointers = {"B": "/value", "C": "/low", "D": "/high"} if result.span else {"B": ""}
        cells = {
            letter: Cell(_asked(f"$F${row}", result.pointer + end, text=result.text), Look.RESULT)
            for letter, end in pointers.items()
        }
        if result.unit:
            cells["E"] = Cell(f"={result.unit}")
        added = sheet.add(A=Cell(result.words), **cells, F=Cell(result.note, Look.NOTE))
        if result.name:
            sheet.names[result.name] = f"B{added}"


def _add_course(sheet: Sheet) -> None:
    """A row for each session: what is prescribed, what came, what to do; the columns behind it send all of it on.

    G: the prescription as it was answered; H: the one before it if it is a step on; I to K: what came so far, as lists;
    L: whether each of these sessions had another prescription; M: the question as an address. A row without pain asks
    nothing.
    """
    sheet.add()
    headings = ("After each session: what next?", "pain, 0 to 10", "next morning", "repetitions", "what to do", "why")
    first = sheet.add(**_heading(*headings)) + 1
    for number in range(MOST_SESSIONS):
        row = first + number
        came: tuple[float | str, ...] = SESSIONS[number] if number < len(SESSIONS) else ("", "", "")
        before, after = f'IF(B{row}="","",', ")"
        chain = {letter: f'{letter}{row - 1}&","&' if number else "" for letter in "IJK"}
        sent = {"I": "B", "J": "C", "K": "D"}
        formulas = {letter: f'{chain[letter]}SUBSTITUTE({column}{row},",",".")' for letter, column in sent.items()}
        if number == 0:
            prescribed, previous, formulas["L"] = "=first_option", '=""', '"false"'
        else:
            asked = f'_xlfn.WEBSERVICE(M{row - 1}&"&as=text&select=/next")'
            prescribed = f'=IF(B{row - 1}="","",IFERROR({asked},"{FAILED}"))'
            same = f"G{row}=G{row - 1}"
            previous = f'=IF({same},H{row - 1},IF(E{row - 1}="progress",G{row - 1},""))'
            formulas["L"] = f'IF({same},L{row - 1},SUBSTITUTE(L{row - 1},"false","true"))&",false"'
        address = "&".join(
            [
                _address("session-review", REVIEW),
                _sent_on("prescription", f"G{row}"),
                f'IF(H{row}="","",{_sent_on("previous", f"H{row}")})',
                *(f'"&sessions_{name}="&_xlfn.ENCODEURL({letter}{row})' for letter, name in LISTS.items()),
            ]
        )
        answers = {
            "E": f'IFERROR(_xlfn.WEBSERVICE(M{row}&"&as=text&select=/decision"),"{FAILED}")',
            "F": f'IFERROR(_xlfn.WEBSERVICE(M{row}&"&as=text&select=/rule/message/text"),"{FAILED}")',
        }
        sheet.add(
            A=Cell(f'="Session {number + 1}: "&SUBSTITUTE(SUBSTITUTE(G{row},"&",", "),"="," ")'),
            **{letter: Cell(value, Look.INPUT) for letter, value in zip("BCD", came, strict=True)},
            **{letter: Cell(f"={before}{formula}{after}", Look.RESULT) for letter, formula in answers.items()},
            G=Cell(prescribed, Look.NOTE),
            H=Cell(previous, Look.NOTE),
            **{letter: Cell(f"={before}{formula}{after}", Look.NOTE) for letter, formula in formulas.items()},
            M=Cell(f"={before}{address}{after}", Look.NOTE),
        )


def _address(operation: str, parameters: dict[str, str]) -> str:
    """The formula of a question's address."""
    query = "&".join(
        f'"{"?" if number == 0 else "&"}{name}="&_xlfn.ENCODEURL({formula})'
        for number, (name, formula) in enumerate(parameters.items())
    )
    return f'service&"/v1/{operation}"&{query}'


def _sent_on(name: str, cell: str) -> str:
    """The formula that sends a prescription on as it was answered."""
    return f'"&{name}_"&SUBSTITUTE({cell},"&","&{name}_")'


def _asked(address: str, pointer: str, *, text: bool) -> str:
    """The formula that asks for one value of an answer; a number comes with a decimal point."""
    answer = f'_xlfn.WEBSERVICE({address}&"&as=text&select={pointer}")'
    return f'=IFERROR({answer if text else f"""_xlfn.NUMBERVALUE({answer},".",",")"""},"{FAILED}")'


if __name__ == "__main__":
    workbook().write(FILE)
    sys.stdout.write(f"{FILE.name} written\n")
