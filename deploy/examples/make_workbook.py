"""Writes consultation.xlsx, a workbook of the demo scenario whose formulas ask a service.

From the top of the repository: python -m deploy.examples.make_workbook. What it holds stands in workbook_content.py,
week_sheet.py, team_sheet.py, signs_sheet.py and lists_sheet.py. The file in the repository is what this writes; a test
compares them.
"""

from __future__ import annotations

import sys
from pathlib import Path

from deploy.examples.formulas import truth
from deploy.examples.lists_sheet import lists
from deploy.examples.sheets import (
    Cell,
    Look,
    Sheet,
    add_question,
    address_of,
    asked,
    heading,
    parameter,
    sent_on,
    write,
)
from deploy.examples.signs_sheet import signs
from deploy.examples.team_sheet import team
from deploy.examples.week_sheet import week
from deploy.examples.workbook_content import (
    FAILED,
    INPUTS,
    MOST_SESSIONS,
    NONE,
    NOTES,
    QUESTIONS,
    REVIEW,
    YES_NO,
    Input,
)

FILE = Path(__file__).parent / "consultation.xlsx"
WIDTHS = {"A": 60, "B": 20, "C": 17, "D": 17, "E": 16, "F": 90}
EMPTY = '""'
LISTS = {"I": "pain_in_session", "J": "pain_next_morning", "K": "reps_done", "L": "earlier_prescription"}


def workbook() -> tuple[Sheet, ...]:
    """Its sheets: one lift and its course of care, a week, a team, the signs, and what cells may hold."""
    return consultation(), week(), team(), signs(), lists()


def consultation() -> Sheet:
    """The sheet with its notes, inputs, questions and answers."""
    sheet = Sheet("Consultation", WIDTHS)
    sheet.add(A=Cell("A sore low back in the front squat", Look.TITLE))
    for note in NOTES:
        sheet.add(A=Cell(note, Look.NOTE))
    sheet.add()
    row = sheet.add(A=Cell("Address of the service"), B=Cell("http://127.0.0.1:8000", Look.INPUT))
    sheet.names["service"] = f"B{row}"
    sheet.add()
    sheet.add(**heading("What you know and wonder", "value", "unit", "as it is sent", "", "note"))
    for entry in INPUTS:
        _add_input(sheet, entry)
    first, plan, *others = QUESTIONS
    add_question(sheet, first)
    add_question(sheet, plan)
    _add_course(sheet)
    for question in others:
        add_question(sheet, question)
    return sheet


def _add_input(sheet: Sheet, entry: Input) -> None:
    """A number is sent with a decimal point whatever the reader's country writes, its unit behind it."""
    row = len(sheet.rows) + 1
    cells = {"A": Cell(entry.words), "B": Cell(entry.value, Look.INPUT)}
    if entry.choices == YES_NO:
        sent = truth(f"B{row}")
    else:
        sent = f"B{row}" if isinstance(entry.value, str) else f'SUBSTITUTE(B{row}&C{row},",",".")'
    if entry.units:
        cells["C"] = Cell(entry.units[0], Look.INPUT)
        sheet.choices[f"C{row}"] = entry.units
        sheet.names[f"{entry.name}_unit"] = f"C{row}"
    if entry.choices:
        sheet.choices[f"B{row}"] = entry.choices
    if entry.proposals:
        sheet.proposals[f"B{row}"] = entry.proposals
    sheet.names[entry.name] = f"D{row}"
    sheet.add(**cells, D=Cell(f'=IF(B{row}="","",{sent})'), F=Cell(entry.note, Look.NOTE))


def _add_course(sheet: Sheet) -> None:
    """A row for each session: what is prescribed, what came, what to do; the columns behind it send all of it on.

    G: the prescription as it was answered; H: the one before it if it is a step on; I to K: what came so far, as lists;
    L: whether each of these sessions had another prescription; M: the question as an address. A row without pain asks
    nothing, nor does one without a prescription: what stopped the training stands above it.
    """
    sheet.add()
    headings = ("After each session: what next?", "pain, 0 to 10", "next morning", "repetitions", "what to do", "why")
    first = sheet.add(**heading(*headings)) + 1
    for number in range(MOST_SESSIONS):
        row = first + number
        before, after = f'IF(B{row}="","",', ")"
        chain = {letter: f'{letter}{row - 1}&","&' if number else "" for letter in "IJK"}
        sent = {"I": "B", "J": "C", "K": "D"}
        formulas = {letter: f'{chain[letter]}SUBSTITUTE({column}{row},",",".")' for letter, column in sent.items()}
        if number == 0:
            prescribed, previous, formulas["L"] = "=first_option", '=""', '"false"'
            missing = f'"{NONE}"'
        else:
            prescribed = f'=IF(M{row - 1}="","",{asked(f"M{row - 1}", "/next", text=True, failed=EMPTY)})'
            missing = f'IF(B{row - 1}="","","{NONE}")'
            same = f"G{row}=G{row - 1}"
            previous = f'=IF({same},H{row - 1},IF(E{row - 1}="progress",G{row - 1},""))'
            formulas["L"] = f'IF({same},L{row - 1},SUBSTITUTE(L{row - 1},"false","true"))&",false"'
        address = "&".join(
            [
                address_of("session-review", REVIEW),
                sent_on("prescription", f"G{row}"),
                f'IF(H{row}="","",{sent_on("previous", f"H{row}")})',
                *(parameter(f"sessions_{name}", f"{letter}{row}") for letter, name in LISTS.items()),
            ]
        )
        answers = {
            "E": asked(f'M{row}&"errors=text&"', "/decision", text=True, failed=f'"{FAILED}"'),
            "F": asked(f"M{row}", "/rule/message/text", text=True, failed=EMPTY),
        }
        answers["E"] = f'IF(M{row}="","{NONE}",{answers["E"]})'
        sheet.add(
            A=Cell(
                f'="Session {number + 1}: "&IF(G{row}="",{missing},SUBSTITUTE(SUBSTITUTE(G{row},"&",", "),"="," "))'
            ),
            **{letter: Cell("", Look.INPUT) for letter in "BCD"},
            **{letter: Cell(f"={before}{formula}{after}", Look.RESULT) for letter, formula in answers.items()},
            G=Cell(prescribed, Look.NOTE),
            H=Cell(previous, Look.NOTE),
            **{letter: Cell(f"={before}{formula}{after}", Look.NOTE) for letter, formula in formulas.items()},
            M=Cell(f'=IF(OR(B{row}="",G{row}=""),"",{address})', Look.NOTE),
        )


if __name__ == "__main__":
    write(workbook(), FILE)
    sys.stdout.write(f"{FILE.name} written\n")
