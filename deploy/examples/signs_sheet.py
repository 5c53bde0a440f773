"""The sheet of the signs to ask about first: in words, the most urgent first, and by region, from which cells offer."""

from __future__ import annotations

from deploy.examples.sheets import COLUMNS, Cell, Look, Sheet, heading
from service.knowledge.signs import SIGNS, URGENCIES
from service.vocabulary import REGIONS

WIDTHS = {"A": 32, "B": 90, "C": 24, "D": 60}
BESIDE = COLUMNS[len(WIDTHS) + 1 :]  # a column for each region
NOTES = (
    "Ask them first, before anything else, in this order; the ids of those that are there go into the cells for signs.",
    "That none is reported clears nobody. This diagnoses nothing: who has one sees the professional that is named.",
)


def signs() -> Sheet:
    """The sheet, with the ids of each region's signs by the name signs_ and the region."""
    sheet = Sheet("Signs", WIDTHS)
    sheet.add(A=Cell("Signs to ask about first", Look.TITLE))
    for note in NOTES:
        sheet.add(A=Cell(note, Look.NOTE))
    sheet.add()
    first = sheet.add(**heading("sign", "is it there?", "where it hurts", "what to do"))
    sheet.rows[-1] |= {letter: Cell(region, Look.HEADING) for letter, region in zip(BESIDE, REGIONS, strict=False)}
    ranked = sorted(SIGNS.values(), key=lambda sign: URGENCIES[sign.urgency].rank)
    of_region = [[sign.id for sign in ranked if sign.concerns(region)] for region in REGIONS]
    for number, sign in enumerate(ranked):
        ids = [listed[number] if number < len(listed) else "" for listed in of_region]
        where = ", ".join(sign.regions) or "anywhere"
        texts = (sign.id, sign.text, where, URGENCIES[sign.urgency].what_to_do)
        cells = {letter: Cell(text, Look.SENTENCE) for letter, text in zip("ABCD", texts, strict=True)}
        sheet.add(**cells, **{letter: Cell(each) for letter, each in zip(BESIDE, ids, strict=False)})
    for letter, region, ids in zip(BESIDE, REGIONS, of_region, strict=False):
        sheet.names[f"signs_{region}"] = f"{letter}{first + 1}:{letter}{first + len(ids)}"
    return sheet
