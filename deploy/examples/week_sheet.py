"""The sheet of a whole week: a row for each lift as it is, and the first week that is answered instead.

The week is invented, the demo scenario's lifter's; lifter, pain and aim are the ones on the first sheet.
"""

from __future__ import annotations

from deploy.examples.formulas import range_of
from deploy.examples.sheets import Cell, Look, Sheet, add_question, asked, heading
from deploy.examples.workbook_content import (
    CIRCUMSTANCES,
    EXERCISES,
    FAILED,
    LIFTER,
    NONE,
    SIGNS,
    Question,
    Result,
)

WIDTHS = {"A": 50, "B": 16, "C": 16, "D": 16, "E": 16, "F": 16, "G": 16}
NOTES = (
    "A whole week whose lifts load the sore region together. Change the yellow cells; the new week is asked anew.",
    "A row without an exercise is no lift. Lifter, signs, sore region, pain and aim are those of the first sheet.",
    "Relief is sure where the week asks less by moments as they are, by their squares and by their tenth power.",
)
LIFTS: tuple[tuple[str, float, float, float, float, float, float], ...] = (
    ("front_squat", 1, 4, 5, 6, 62.5, 2),
    ("barbell_row", 1, 3, 8, 10, 42.5, 2),
    ("deadlift_conventional", 3, 3, 5, 5, 95, 2),
    ("front_squat", 5, 3, 6, 8, 57.5, 3),
    ("romanian_deadlift", 5, 3, 8, 8, 70, 2),
)
MOST_LIFTS = 10
MOST_ADDED = 3
HEADINGS = ("The week: exercise", "day, 1 to 7", "sets", "repetitions, from", "to", "load", "left in reserve")
# the columns behind the week hold its lifts so far as lists, each the one of the row above, a comma and its own
LISTS = {
    "H": ("day", "B{row}"),
    "I": ("prescription_exercise", "A{row}"),
    "J": ("prescription_sets", "C{row}"),
    "K": ("prescription_reps", range_of("D{row}", "E{row}")),
    "L": ("prescription_load", 'IF(F{row}="","",SUBSTITUTE(F{row}&load_unit,",","."))'),
    "M": ("prescription_reps_in_reserve", 'SUBSTITUTE(G{row},",",".")'),
}
SIZE = '/options/0/demand/"&sore_region&"/'
RESULTS = (
    Result("What to do", "/decision", text=True, says_why=True, note="adjust, no_change_needed, or why not"),
    Result("What is changed", "/options/0/changes/0/words", text=True),
    Result("Relief", "/options/0/relief", text=True, note="sure, mixed or spacing"),
    Result("The week by moments, 1 is as now", f"{SIZE}linear", span=True),
    Result("The week by moments squared", f"{SIZE}squared", span=True),
    Result("The week by their tenth power", f"{SIZE}tenth_power", span=True),
    Result("Largest moment", f"{SIZE}peak", span=True),
)


def week() -> Sheet:
    """The sheet: a week in, a week out."""
    sheet = Sheet("Week", WIDTHS)
    sheet.add(A=Cell("A week that hurts", Look.TITLE))
    for note in NOTES:
        sheet.add(A=Cell(note, Look.NOTE))
    sheet.add()
    first = sheet.add(**heading(*HEADINGS)) + 1
    for number in range(MOST_LIFTS):
        _add_lift(sheet, first, number)
    last = first + MOST_LIFTS - 1
    lists = {f"week_{name}": f"MID({letter}{last},2,2000)" for letter, (name, _) in LISTS.items()}
    parameters = CIRCUMSTANCES | {
        "complaint_signs": SIGNS,
        "complaint_region": "sore_region",
        "complaint_pain_in_session": "pain_now",
    }
    parameters |= {"complaint_usual_pain": "pain_usual", "aim": "training_aim", "limit": '"1"'}
    question = Question("Which week instead?", "week-adjustments", LIFTER | lists | parameters, RESULTS)
    address = len(sheet.rows) + 3
    add_question(sheet, question)
    sheet.add()
    sheet.add(**heading("The new week", "day, 1 to 7", "what is done"))
    for number in range(MOST_LIFTS + MOST_ADDED):
        _add_new(sheet, f"$F${address}", f"$A${first}:$A${last}", number)
    return sheet


def _add_lift(sheet: Sheet, first: int, number: int) -> None:
    """A row of the week as it is, with the lists up to it."""
    row = first + number
    stated: tuple[float | str, ...] = LIFTS[number] if number < len(LIFTS) else ("",) * len(HEADINGS)
    lists = {}
    for letter, (_, formula) in LISTS.items():
        own, above = formula.format(row=row), f"{letter}{row - 1}" if number else '""'
        lists[letter] = Cell(f'=IF($A{row}="",{above},{above}&","&{own})', Look.NOTE)
    sheet.choices[f"A{row}"] = EXERCISES
    sheet.add(**{letter: Cell(value, Look.INPUT) for letter, value in zip("ABCDEFG", stated, strict=True)}, **lists)


def _add_new(sheet: Sheet, address: str, exercises: str, number: int) -> None:
    """A row of the new week; where the week as it is has none, one that may have been added."""
    failed = f'IF(B{int(address.rpartition("$")[2]) + 1}="{FAILED}","{FAILED}","{NONE}")'
    missing = f'IF({number}<COUNTIF({exercises},"?*"),{failed},"")'
    day, lift = (
        asked(address, f"/options/0/week/{number}/{part}", text=True, failed=missing)
        for part in ("day", "prescription")
    )
    readable = f'=SUBSTITUTE(SUBSTITUTE({lift},"&",", "),"="," ")'
    sheet.add(A=Cell(f"Lift {number + 1}"), B=Cell(f"={day}", Look.RESULT), C=Cell(readable, Look.NOTE))
