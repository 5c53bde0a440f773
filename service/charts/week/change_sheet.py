"""New weeks for a sore region on one sheet: what changes in words, the region before and after, and the muscles."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from service.charts.elements.demand_bars import Row, drawn_rows, rows_height, shared_axis
from service.charts.elements.demand_bars import in_words as row_in_words
from service.charts.elements.layout import Column
from service.charts.elements.text_layout import clean
from service.charts.elements.theme import MARGIN
from service.charts.week.grid import WIDTH, Grid, drawn_grid, grid_height
from service.charts.week.grid import in_words as grid_in_words
from service.charts.week.muscle_bars import (
    MUSCLE_LEGEND,
    MuscleRow,
    drawn_muscles,
    muscles_height,
    muscles_in_words,
)

_LEGEND: Final = (
    "Bars of a region: its week against now, of other regions by the way of counting that comes out highest; lines: "
    "spans; upright mark: the target. Cells: parts of the present week, outlined now, filled then, with what changes "
    "named below. A frame and the word heavy: more than a third of the new week."
)


class NewWeekPart(Struct, frozen=True):
    """One new week.

    Attributes:
        heading: its rank and what it does
        changes: what changes, each in a sentence
        reasons: why, each a sentence
        demand: of the sore region by each way of counting, then of others, against now
        grid: the sore region now and then
        muscles: whose sets change
    """

    heading: str
    changes: Sequence[str]
    reasons: Sequence[str]
    demand: Sequence[Row]
    grid: Grid
    muscles: Sequence[MuscleRow]


def change_sheet(
    title: str, introduction: Sequence[str], weeks: Sequence[NewWeekPart], footnotes: Sequence[str]
) -> str:
    """The new weeks under each other, with the bars of their demand on one axis.

    Args:
        title: which region and how many weeks
        introduction: sentences above them
        weeks: the first to be tried first
        footnotes: paragraphs at the end

    Returns:
        SVG text, with the same numbers in its text alternative.

    Raises:
        ValueError: without any new week
    """
    if not weeks:
        raise ValueError("There is no new week to draw.")
    axis = shared_axis([row for week in weeks for row in week.demand])
    sheet = Column(WIDTH)
    sheet.write(title, "head")
    for text in introduction:
        sheet.write(text)
    sheet.write(_LEGEND, "quiet")
    if any(week.muscles for week in weeks):
        sheet.write(f"{MUSCLE_LEGEND} Outlined: now.", "quiet")
    for week in weeks:
        sheet.rule()
        sheet.write(week.heading, "head")
        for text in week.changes:
            sheet.write(text, "strong")
        for text in week.reasons:
            sheet.write(text)
        sheet.skip(MARGIN / 2)
        sheet.draw(drawn_rows(week.demand, axis, sheet.bottom), rows_height(week.demand))
        sheet.skip(MARGIN / 2)
        sheet.draw(drawn_grid(week.grid, sheet.bottom), grid_height(week.grid))
        if week.muscles:
            sheet.skip(MARGIN / 2)
            sheet.write("Muscles whose sets change", "strong")
            sheet.draw(drawn_muscles(week.muscles, sheet.bottom), muscles_height(week.muscles))
    sheet.rule()
    for text in footnotes:
        sheet.write(text, "quiet")
        sheet.skip(MARGIN / 4)
    return sheet.finished(title, _in_words(title, introduction, weeks))


def _in_words(title: str, introduction: Sequence[str], weeks: Sequence[NewWeekPart]) -> str:
    sentences = [f"{clean(title)}.", *map(clean, introduction)]
    for week in weeks:
        sentences += [f"{clean(week.heading)}.", *map(clean, (*week.changes, *week.reasons))]
        rows = "; ".join(f"{clean(row.name)} {row_in_words(row)}" for row in week.demand)
        sentences += [f"Against now: {rows}.", grid_in_words(week.grid), muscles_in_words(week.muscles)]
    return " ".join(text for text in sentences if text)
