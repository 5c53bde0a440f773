"""Lifters in rows as blocks of a sheet, with a length to measure by and a legend."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from service.charts.elements.layout import Block, gap, paragraph, together
from service.charts.elements.text_layout import trimmed
from service.charts.elements.theme import LINE_HEIGHT, MARGIN, Element, letters, line

SCALE: Final = 230.0  # [px/m], of every lifter
_SCALE_BAR: Final = 0.20  # [m]


class View(Struct, frozen=True):
    """Lifters from some side.

    Attributes:
        width: of the sheet that they need [px]
        blocks: rows of lifters, and the legend
    """

    width: float
    blocks: Sequence[Block]


def legend(text: str, width: float) -> Block:
    """A length to measure by, and what lines and marks mean.

    Args:
        text: what they mean
        width: of the sheet [px]
    """
    bar = Block(LINE_HEIGHT, lambda top: _scale_bar(MARGIN, top + LINE_HEIGHT / 2))
    return together([bar, gap(MARGIN / 4), paragraph(text, "quiet", width=width)])


def _scale_bar(x: float, y: float) -> Iterator[Element]:
    end = x + SCALE * _SCALE_BAR
    yield line(x, y, end, y, "whisker", data_scale_bar=f"{_SCALE_BAR:g}")
    for tick in (x, end):
        yield line(tick, y - 5, tick, y + 5, "whisker")
    yield letters(f"{trimmed(100 * _SCALE_BAR)} cm", end + 8, y + 4)
