"""The sheet of a whole team: a row for each lifter, with what is answered beside it.

The team is invented. The last row has an exercise that is none, to show how a cell says what is wrong.
"""

from __future__ import annotations

from deploy.examples.formulas import listed, range_of, truth
from deploy.examples.sheets import Cell, Look, Sheet, address_of, asked, heading
from deploy.examples.workbook_content import (
    AIMS,
    EXERCISES,
    FAILED,
    LENGTH,
    MASS,
    REGIONS,
    YES_NO,
)

WIDTHS = {"A": 12, "B": 24, "I": 24, "O": 16, "R": 24, "S": 48, "T": 48, "U": 12, "V": 12, "W": 30}
NOTES = (
    "A team in one table. Change the yellow cells, copy a row for one more lifter.",
    "Signs first: ask each lifter those of the sheet Signs. The cell offers them; several have commas between.",
    "That none is there clears nobody.",
    "What cannot be answered says why in its own row; the others are unharmed. A row without an exercise asks nothing.",
    "A cell that you do not know stays empty: it is left out.",
)
HEADINGS = (
    *(
        "lifter",
        "signs that are there",
        "age",
        "pregnant",
        "confirmed by a professional",
        "body mass",
        "stature",
        "sex",
        "exercise",
        "sets",
        "repetitions, from",
        "to",
        "load",
        "left in reserve",
    ),
    *("sore region", "pain, 0 to 10", "aim", "what to do", "first option", "why", "demand on it, 1 is as now"),
    *("effect kept, 1 is all", "the question as an address"),
)
# body mass, stature, sex, exercise, sets, repetitions from and to, load, left in reserve, sore region, pain, aim
TEAM: tuple[tuple[float | str, ...], ...] = (
    (64, 168, "female", "front_squat", 4, 5, 6, 62.5, 2, "low_back", 4, "strength"),
    (81, 182, "male", "deadlift_conventional", 3, 5, 5, 125, 2, "low_back", 3, "strength"),
    (73.5, 176, "male", "back_squat_high_bar", 4, 6, 8, 90, 2, "knee", 4, "muscle_size"),
    (58, 161, "female", "romanian_deadlift", 3, 8, 10, 50, 3, "hamstring", 3, "muscle_size"),
    (92, 188, "male", "bench_press", 4, 5, 5, 100, 1, "shoulder", 4, "strength"),
    (67, 170, "female", "overhead_press", 3, 6, 8, 32.5, 2, "shoulder", 5, "maintain"),
    (77, 179, "male", "barbell_row", 4, 8, 10, 67.5, 2, "low_back", 4, "muscle_size"),
    (70, 172, "female", "back_squat_low_bar", 5, 5, 5, 80, 2, "hip", 3, "strength"),
    (85, 180, "male", "deadlift_sumo", 4, 4, 4, 150, 2, "hip", 4, "strength"),
    (61, 165, "female", "front_squat", 3, 8, 8, 45, 3, "knee", 5, "maintain"),
    (99, 191, "male", "back_squat_high_bar", 3, 5, 5, 140, 2, "low_back", 6, "strength"),
    (55, 158, "female", "deadlift_conventional", 3, 6, 6, 70, 3, "low_back", 2, "strength"),
    (79, 177, "male", "bench_press", 3, 8, 10, 75, 2, "elbow", 3, "muscle_size"),
    (66, 169, "female", "romanian_deadlift", 4, 6, 8, 62.5, 2, "low_back", 4, "muscle_size"),
    (88, 184, "male", "front_squat", 5, 3, 3, 115, 2, "wrist", 3, "strength"),
    (72, 174, "male", "overhead_press", 4, 5, 5, 50, 2, "low_back", 4, "strength"),
    (60, 163, "female", "back_squat_high_bar", 4, 8, 8, 52.5, 2, "knee", 8, "muscle_size"),
    (83, 181, "male", "deadlift_conventional", 4, 3, 3, 170, 1, "low_back", 5, "strength"),
    (69, 171, "female", "barbell_row", 3, 10, 12, 40, 2, "elbow", 4, "maintain"),
    (75, 178, "male", "dead lift", 3, 5, 5, 120, 2, "low_back", 4, "strength"),
)
CHOICES: dict[str, tuple[str, ...] | str] = {"D": YES_NO, "E": YES_NO, "H": ("female", "male")}
CHOICES |= {"I": EXERCISES, "O": REGIONS, "Q": AIMS}
FIRST = "/options/0"
EMPTY = '""'
# the part of the answer in each column, whether it is a text, and the text where there is no number
RESULTS = {
    "S": (f"{FIRST}/words", True, ""),
    "T": (f"{FIRST}/why/0/text", True, ""),
    "U": (f'{FIRST}/demand/"&O{{row}}&"/value', False, f'{FIRST}/direction/"&O{{row}}&"'),
    "V": (f"{FIRST}/stimulus/kept/value", False, ""),
}


def team() -> Sheet:
    """The sheet: a row for each lifter."""
    sheet = Sheet("Team", WIDTHS)
    sheet.add(A=Cell("A team, each with what hurts", Look.TITLE))
    for note in NOTES:
        sheet.add(A=Cell(note, Look.NOTE))
    sheet.add()
    for name, words, units in (("team_mass", "Masses in", MASS), ("team_length", "Statures in", LENGTH)):
        row = sheet.add(A=Cell(words), B=Cell(units[0], Look.INPUT))
        sheet.names[name], sheet.choices[f"B{row}"] = f"B{row}", units
    sheet.kept_in_sight = (sheet.add(**heading(*HEADINGS)), 1)
    for number, lifter in enumerate(TEAM, 1):
        _add_lifter(sheet, number, lifter)
    return sheet


def _add_lifter(sheet: Sheet, number: int, lifter: tuple[float | str, ...]) -> None:
    row = len(sheet.rows) + 1
    question = {
        "complaint_signs": listed(f"B{row}"),
        "circumstances_age": f"C{row}",
        "circumstances_pregnant": truth(f"D{row}"),
        "circumstances_confirmed_by_professional": truth(f"E{row}"),
        "lifter_body_mass": _number(f"F{row}", "team_mass"),
        "lifter_stature": _number(f"G{row}", "team_length"),
        "lifter_sex": f"H{row}",
        "exercise": f"I{row}",
        "sets": f"J{row}",
        "reps": range_of(f"K{row}", f"L{row}"),
        "load": _number(f"M{row}", "team_mass"),
        "reps_in_reserve": _number(f"N{row}", EMPTY),
        "complaint_region": f"O{row}",
        "complaint_pain_in_session": _number(f"P{row}", EMPTY),
        "aim": f"Q{row}",
        "limit": '"1"',
    }
    address = f"W{row}"
    said = asked(f'{address}&"errors=text&"', "/decision", text=True, failed=f'"{FAILED}"')
    # without an option, or an answer, the cells of the first option are empty
    shown = {}
    for letter, (pointer, text, otherwise) in RESULTS.items():
        failed = asked(address, otherwise.format(row=row), text=True, failed=EMPTY) if otherwise else EMPTY
        shown[letter] = asked(address, pointer.format(row=row), text=text, failed=failed)
    for letter, choices in CHOICES.items():
        sheet.choices[f"{letter}{row}"] = choices
    sheet.proposals[f"B{row}"] = f'INDIRECT("signs_"&$O{row})'
    sheet.add(
        A=Cell(f"Lifter {number}", Look.INPUT),
        **{letter: Cell("", Look.INPUT) for letter in "BCDE"},
        **{letter: Cell(value, Look.INPUT) for letter, value in zip("FGHIJKLMNOPQ", lifter, strict=True)},
        R=Cell(_if_asked(row, said), Look.SENTENCE),
        **{letter: Cell(_if_asked(row, formula), Look.SENTENCE) for letter, formula in shown.items()},
        W=Cell(_if_asked(row, address_of("adjustments", question)), Look.NOTE),
    )


def _number(cell: str, unit: str) -> str:
    """With a decimal point whatever the reader's country writes, and its unit; nothing as nothing."""
    return f'IF({cell}="","",SUBSTITUTE({cell}&{unit},",","."))'


def _if_asked(row: int, formula: str) -> str:
    return f'=IF(I{row}="","",{formula})'
