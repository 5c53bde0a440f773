"""New weeks for a sore region, each on its own sheets: what changes, the region before and after, and the muscles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from service.charts.elements.axes import Scale
from service.charts.elements.demand_bars import Row, drawn_rows, rows_height, shared_axis
from service.charts.elements.demand_bars import in_words as row_in_words
from service.charts.elements.layout import Block, Sheet, gap, notes, paragraph, rule, sheets, together
from service.charts.elements.text_layout import clean
from service.charts.elements.theme import MARGIN
from service.charts.week.grid import WIDTH, Grid, grid_blocks
from service.charts.week.muscle_bars import MUSCLE_LEGEND, MuscleRow, muscles_block

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


def change_sheets(
    title: str, introduction: Sequence[str], weeks: Sequence[NewWeekPart], footnotes: Sequence[str]
) -> list[Sheet]:
    """Each new week on sheets of its own, with the bars of their demand on one axis.

    Args:
        title: which region and how many weeks
        introduction: sentences above each
        weeks: the first to be tried first
        footnotes: paragraphs at the end of each

    Returns:
        The sheets, with the same numbers in their text alternatives.

    Raises:
        ValueError: without any new week
    """
    if not weeks:
        raise ValueError("There is no new week to draw.")
    axis = shared_axis([row for week in weeks for row in week.demand], WIDTH)
    return sheets(
        title,
        [
            [
                *(paragraph(text, words=text, width=WIDTH) for text in introduction),
                rule(WIDTH),
                *_week(week, axis),
                *notes([*_legends(week), *footnotes], width=WIDTH),
            ]
            for week in weeks
        ],
        WIDTH,
    )


def _week(week: NewWeekPart, axis: Scale) -> Iterator[Block]:
    yield together(
        [
            paragraph(week.heading, "head", f"{week.heading}.", width=WIDTH),
            *(paragraph(text, "strong", text, width=WIDTH) for text in week.changes),
            *(paragraph(text, words=text, width=WIDTH) for text in week.reasons),
        ]
    )
    yield gap(MARGIN / 2)
    rows = "; ".join(f"{clean(row.name)} {row_in_words(row)}" for row in week.demand)
    yield Block(rows_height(week.demand, axis), lambda top: drawn_rows(week.demand, axis, top), f"Against now: {rows}.")
    yield gap(MARGIN / 2)
    yield from grid_blocks(week.grid)
    if week.muscles:
        yield gap(MARGIN / 2)
        yield together([paragraph("Muscles whose sets change", "strong"), muscles_block(week.muscles)])


def _legends(week: NewWeekPart) -> list[str]:
    return [_LEGEND, *([f"{MUSCLE_LEGEND} Outlined: now."] if week.muscles else [])]
