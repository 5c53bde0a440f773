"""What a week asks: the grid of each region that it loads, one under another, then the muscles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from service.charts.elements.layout import Block, Sheet, gap, notes, paragraph, rule, sheets, together
from service.charts.elements.theme import MARGIN
from service.charts.week.grid import WIDTH, Grid, grid_blocks
from service.charts.week.muscle_bars import MUSCLE_LEGEND, MuscleRow, muscles_block

_LEGEND: Final = (
    "Each cell: the part of the region's week that a lift is on its day, with its repetitions counted in three ways: "
    "all alike by their moment, heavier ones more (its square), the heaviest most (its tenth power). One scale in a "
    "region; lines: spans. A frame and the word heavy: more than a third in one of the three."
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


def demand_sheets(
    title: str, regions: Sequence[RegionPart], muscles: Sequence[MuscleRow], footnotes: Sequence[str]
) -> list[Sheet]:
    """The regions under each other, and the muscles.

    Args:
        title: what week it is
        regions: that the week loads
        muscles: that the week trains
        footnotes: paragraphs at the end

    Returns:
        The sheets, with the same numbers in their text alternatives.

    Raises:
        ValueError: without any region or muscle
    """
    if not regions and not muscles:
        raise ValueError("There is no region and no muscle to draw.")
    return sheets(
        title,
        [
            [
                *([paragraph(_LEGEND, "quiet", width=WIDTH)] if regions else []),
                *(block for region in regions for block in _region(region)),
                *(_muscles(muscles) if muscles else []),
                *notes(footnotes, width=WIDTH),
            ]
        ],
        WIDTH,
    )


def _region(region: RegionPart) -> Iterator[Block]:
    """The name and the remarks stay with the beginning of the grid."""
    head = [
        paragraph(region.name, "head", f"{region.name}.", width=WIDTH),
        *(paragraph(remark, words=remark, width=WIDTH) for remark in region.remarks),
    ]
    first, *others = [gap(0)] if region.grid is None else grid_blocks(region.grid)
    yield rule(WIDTH)
    yield together([*head, gap(MARGIN / 4), first])
    yield from others


def _muscles(muscles: Sequence[MuscleRow]) -> Iterator[Block]:
    yield rule(WIDTH)
    legend = paragraph(MUSCLE_LEGEND, "quiet", width=WIDTH)
    yield together([paragraph("Muscles", "head"), legend, gap(MARGIN / 4), muscles_block(muscles)])
