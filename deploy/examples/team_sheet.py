"""The sheet of a whole team: a row for each lifter, with what is answered beside it.

The team is invented. The last row has an exercise that is none, to show how a cell says what is wrong.
"""

from __future__ import annotations

from deploy.examples.sheets import Cell, Look, Sheet, address_of, asked, heading
from deploy.examples.workbook_content import AIMS, EXERCISES, FAILED, LENGTH, MASS, REGIONS

WIDTHS = {"A": 12, "E": 24, "K": 16, "N": 24, "O": 48, "P": 48, "Q": 12, "R": 12, "S": 30}
NOTES = (
    "A team in one table. Change the yellow cells, copy a row for one more lifter.",
    "What cannot be answered says why in its own row; the others are unharmed. A row without an exercise asks nothing.",
)
HEADINGS = (
    *(
        "lifter",
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
CHOICES: dict[str, tuple[str, ...] | str] = {"D": ("female", "male"), "E": EXERCISES, "K": REGIONS, "M": AIMS}
FIRST = "/options/0"
# the part of the answer in each column, and whether it is a text
RESULTS = {
    "O": (f"{FIRST}/words", True),
    "P": (f"{FIRST}/why/0/text", True),
    "Q": (f'{FIRST}/demand/"&K{{row}}&"/value', False),
    "R": (f"{FIRST}/stimulus/kept/value", False),
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
        "lifter_body_mass": _number(f"B{row}&team_mass"),
        "lifter_stature": _number(f"C{row}&team_length"),
        "lifter_sex": f"D{row}",
        "exercise": f"E{row}",
        "sets": f"F{row}",
        "reps": f'G{row}&"-"&H{row}',
        "load": _number(f"I{row}&team_mass"),
        "reps_in_reserve": _number(f"J{row}"),
        "complaint_region": f"K{row}",
        "complaint_pain_in_session": _number(f"L{row}"),
        "aim": f"M{row}",
        "limit": '"1"',
    }
    said = f'IFERROR(_xlfn.WEBSERVICE(S{row}&"&as=text&errors=text&select=/decision"),"{FAILED}")'
    # without an option, or an answer, the cells of the first option are empty
    shown = {
        letter: asked(f"S{row}", pointer.format(row=row), text=text, failed="").removeprefix("=")
        for letter, (pointer, text) in RESULTS.items()
    }
    for letter, choices in CHOICES.items():
        sheet.choices[f"{letter}{row}"] = choices
    sheet.add(
        A=Cell(f"Lifter {number}", Look.INPUT),
        **{letter: Cell(value, Look.INPUT) for letter, value in zip("BCDEFGHIJKLM", lifter, strict=True)},
        N=Cell(_if_asked(row, said), Look.SENTENCE),
        **{letter: Cell(_if_asked(row, formula), Look.SENTENCE) for letter, formula in shown.items()},
        S=Cell(_if_asked(row, address_of("adjustments", question)), Look.NOTE),
    )


def _number(formula: str) -> str:
    """With a decimal point whatever the reader's country writes."""
    return f'SUBSTITUTE({formula},",",".")'


def _if_asked(row: int, formula: str) -> str:
    return f'=IF(E{row}="","",{formula})'
