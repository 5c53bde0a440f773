"""Sets a week of each muscle as bars with their span, against the floor of the aim; what was before as a bar behind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from service.charts.elements.axes import Scale, ticks
from service.charts.elements.bars import bar, lines_of_text, whisker
from service.charts.elements.layout import Block
from service.charts.elements.text_layout import Span, clean, trimmed, wrapped
from service.charts.elements.theme import BODY_SIZE, LINE_HEIGHT, MARGIN, Element, letters, line

MUSCLE_LEGEND: Final = (
    "Bars: hard sets, direct ones whole and indirect ones by half; lines: from direct sets alone to every set counted "
    "whole; upright marks: the floor of the aim."
)

_NAMES: Final = 168.0  # [px]
_PLOT: Final = 380.0  # [px]
_BAR: Final = 10.0  # [px]
_ROW: Final = LINE_HEIGHT + 6.0  # [px]
_LEAST_SETS: Final = 4.0  # the axis reaches at least so far
_BESIDE: Final = 14.0  # [px]


class MuscleRow(Struct, frozen=True):
    """One muscle.

    Attributes:
        name: of the muscle
        sets: fractional sets a week with their span [count]
        floor: below which they are taken to be too few, None where there is none [count]
        under_floor: whether they are below it
        before: what they were, where that is shown beside [count]
        steadied: what sets that only steady it count beside [count]
    """

    name: str
    sets: Span
    floor: float | None
    under_floor: bool
    before: float | None = None
    steadied: float = 0.0


def muscles_block(rows: Sequence[MuscleRow]) -> Block:
    """The rows on one axis; rows: at least one."""
    words = "; ".join(f"{clean(row.name)} {in_words(row)}" for row in rows)
    return Block(_ROW * len(rows) + LINE_HEIGHT + 6, lambda top: _drawn(rows, top), f"Muscles: {words}.")


def in_words(row: MuscleRow) -> str:
    """The text beside a row: sets, their span, what they were, the floor, and what only steadies."""
    value, low, high = (trimmed(end, 1) for end in (row.sets.value, row.sets.low, row.sets.high))
    parts = [f"{value} sets" + ("" if low == value == high else f" ({low} to {high})")]
    if row.before is not None:
        parts.append(f"before {trimmed(row.before, 1)}")
    if row.floor is not None:
        parts.append(f"{'under the' if row.under_floor else 'floor'} {trimmed(row.floor, 1)}")
    if row.steadied:
        parts.append(f"{trimmed(row.steadied, 1)} steadying")
    return ", ".join(parts)


def _drawn(rows: Sequence[MuscleRow], top: float) -> Iterator[Element]:
    scale, bottom = _axis(rows), top + _ROW * len(rows)
    for tick in ticks(scale.low, scale.high, 8):
        yield line(scale.at(tick), top, scale.at(tick), bottom, "grid")
        yield letters(trimmed(tick), scale.at(tick), bottom + LINE_HEIGHT - 2, "quiet", anchor="middle", size=12)
    yield line(scale.start, bottom, scale.end, bottom, "axis")
    yield letters("sets a week", MARGIN, bottom + LINE_HEIGHT - 2, "quiet", size=12)
    for index, row in enumerate(rows):
        yield from _row(row, scale, top + _ROW * (index + 0.5))


def _axis(rows: Sequence[MuscleRow]) -> Scale:
    ends = [end for row in rows for end in (row.sets.high, row.floor or 0.0, row.before or 0.0)]
    start = MARGIN + _NAMES
    return Scale(0.0, 1.05 * max(_LEAST_SETS, *ends), start, start + _PLOT)


def _row(row: MuscleRow, scale: Scale, middle: float) -> Iterator[Element]:
    yield from lines_of_text(wrapped(row.name, _NAMES - 10, BODY_SIZE, 1), MARGIN, middle)
    yield from lines_of_text([in_words(row)], scale.end + _BESIDE, middle, "strong" if row.under_floor else "")
    if row.before is not None:
        yield bar(row.before, scale, middle, _BAR + 6, "before", data_before=f"{row.before:.6g}")
    yield bar(row.sets.value, scale, middle, _BAR, "kept", data_sets=f"{row.sets.value:.6g}")
    yield from whisker(row.sets, scale, middle)
    if row.floor is not None:
        x = scale.at(row.floor)
        yield line(x, middle - _BAR / 2 - 4, x, middle + _BAR / 2 + 4, "goal", data_floor=f"{row.floor:.6g}")
