"""What a week asks, on one sheet: the grid of each region that it loads, one under another, then the muscles."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from service.charts.elements.layout import Column
from service.charts.elements.text_layout import clean
from service.charts.elements.theme import MARGIN
from service.charts.week.grid import WIDTH, Grid, drawn_grid, grid_height
from service.charts.week.grid import in_words as grid_in_words
from service.charts.week.muscle_bars import MUSCLE_LEGEND, MuscleRow, drawn_muscles, muscles_height, muscles_in_words

_LEGEND: Final = (
    "Each cell: the part of the region's week that a lift is on its day, its repetitions weighted by their moment as "
    "it is, squared, and by its tenth power, to one scale in a region; lines: spans. A frame and the word heavy: more "
    "than a third under one of the three."
)


class RegionPart(Struct, frozen=True):
    """The week of one region.

    Attributes:
        name: of the region
        remarks: sentences above its grid
        grid: its days and lifts, None where no moment of any is known
    """

    name: str
    remarks: Sequence[str]
    grid: Grid | None


def demand_sheet(
    title: str, regions: Sequence[RegionPart], muscles: Sequence[MuscleRow], footnotes: Sequence[str]
) -> str:
    """The regions under each other, and the muscles.

    Args:
        title: what week it is
        regions: that the week loads
        muscles: that the week trains
        footnotes: paragraphs at the end

    Returns:
        SVG text, with the same numbers in its text alternative.

    Raises:
        ValueError: without any region or muscle
    """
    if not regions and not muscles:
        raise ValueError("There is no region and no muscle to draw.")
    sheet = Column(WIDTH)
    sheet.write(title, "head")
    if regions:
        sheet.write(_LEGEND, "quiet")
    for region in regions:
        sheet.rule()
        sheet.write(region.name, "head")
        for remark in region.remarks:
            sheet.write(remark)
        if region.grid is None:
            continue
        sheet.skip(MARGIN / 4)
        sheet.draw(drawn_grid(region.grid, sheet.bottom), grid_height(region.grid))
    if muscles:
        sheet.rule()
        sheet.write("Muscles", "head")
        sheet.write(MUSCLE_LEGEND, "quiet")
        sheet.skip(MARGIN / 4)
        sheet.draw(drawn_muscles(muscles, sheet.bottom), muscles_height(muscles))
    if footnotes:
        sheet.rule()
    for text in footnotes:
        sheet.write(text, "quiet")
        sheet.skip(MARGIN / 4)
    return sheet.finished(title, _in_words(title, regions, muscles))


def _in_words(title: str, regions: Sequence[RegionPart], muscles: Sequence[MuscleRow]) -> str:
    sentences = [f"{clean(title)}."]
    for region in regions:
        sentences += [f"{clean(region.name)}.", *map(clean, region.remarks)]
        if region.grid is not None:
            sentences.append(grid_in_words(region.grid))
    return " ".join(text for text in (*sentences, muscles_in_words(muscles)) if text)
