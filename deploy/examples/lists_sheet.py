"""The sheet of what cells may hold, from which the others offer: exercises with their names, regions, aims."""

from __future__ import annotations

from itertools import zip_longest
from typing import get_args

from deploy.examples.sheets import Cell, Look, Sheet, heading
from deploy.examples.workbook_content import LISTS
from service.knowledge.catalogue import EXERCISES
from service.vocabulary import REGIONS, Aim

WIDTHS = {"A": 36, "B": 44, "C": 18, "D": 16}
FIRST = 4  # the row of the first of each


def lists() -> Sheet:
    """The sheet, each of its lists with a name."""
    sheet = Sheet("Lists", WIDTHS)
    sheet.add(A=Cell("What cells may hold", Look.TITLE))
    sheet.add()
    sheet.add(**heading("exercise", "its name", "region", "aim"))
    columns = {"A": [*EXERCISES], "B": [one.name for one in EXERCISES.values()], "C": REGIONS, "D": get_args(Aim)}
    for row in zip_longest(*columns.values(), fillvalue=""):
        sheet.add(**{letter: Cell(text) for letter, text in zip(columns, row, strict=True)})
    for letter, name in zip("ACD", LISTS, strict=True):
        last = FIRST + len(columns[letter]) - 1
        sheet.names[name] = f"{letter}{FIRST}:{letter}{last}"
    return sheet
