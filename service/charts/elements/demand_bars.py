"""Demand against the present, region by region: a bar with its span, and the verdict as a sign and in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor
from typing import Final

import drawsvg as draw
from msgspec import Struct

from service.charts.elements.axes import Scale, ticks
from service.charts.elements.bars import bar, lines_of_text, whisker
from service.charts.elements.layout import INNER, WIDTH
from service.charts.elements.palette import look_of
from service.charts.elements.text_layout import Span, clean, number, share_in_words, width_of, wrapped
from service.charts.elements.theme import BODY_SIZE, LINE_HEIGHT, MARGIN, Element, coordinate, letters, line
from service.vocabulary import Direction

LABELS: Final = 124.0  # [px]
_LABELS_OF_WIDE: Final = 216.0  # [px], on a sheet wider than a phone
_WORDS: Final = 218.0  # [px], what stands beside a bar, with its sign
_BAR: Final = 14.0  # [px]
_AXIS_SIZE: Final = 12  # [px]
_SIGN: Final = 5.0  # [px], half of a sign's width
_FURTHEST: Final = (-0.5, 2.0)  # ratios beyond which the axis does not go: what does ends in an arrow
_HEADROOM: Final = 1.25  # the axis reaches at least so far, to show that 100 % is not its end
_MOST_GRID_LINES: Final = 6
_NUMBER_ROOM: Final = 52.0  # [px], between two numbers of the axis
_GAP: Final = 14.0  # [px], between two items in a line
_ROUNDING: Final = 1e-6  # of a ratio [1]: less than this from 1 comes from rounding, and no answer shows it
VERDICTS: Final[dict[Direction, str]] = {
    "lower": "lower",
    "higher": "higher",
    "no_clear_difference": "no clear difference",
    "unknown": "not known",
}


class Row(Struct, frozen=True):
    """One region, or the effect kept.

    Attributes:
        name: of the region
        ratio: to the present, None where only a direction is known [1]
        direction: the verdict, None for what is no demand
        target: position of the target's line, None for rows without [1]
    """

    name: str
    ratio: Span | None
    direction: Direction | None = None
    target: float | None = None


def in_words(row: Row) -> str:
    """The text beside a row: per cent of the present, the span, the verdict."""
    verdict = "" if row.direction is None else VERDICTS[row.direction]
    if row.ratio is None:
        return f"{verdict}, no number known" if row.direction != "unknown" else verdict
    if row.direction is not None and all(abs(share - 1.0) < _ROUNDING for share in (row.ratio.low, row.ratio.high)):
        return "100 %, as now"
    return share_in_words(row.ratio) + (f", {verdict}" if verdict else "")


def shared_axis(rows: Sequence[Row], width: float = WIDTH) -> Scale:
    """One axis for the rows of several options, so that their bars can be compared.

    Args:
        rows: of all options
        width: of the sheet [px]
    """
    ratios = [row.ratio for row in rows if row.ratio is not None]
    targets = [row.target for row in rows if row.target is not None]
    low = max(_FURTHEST[0], min([0.0, *(ratio.low for ratio in ratios)]))
    high = min(_FURTHEST[1], max([_HEADROOM, *targets, *(1.05 * ratio.high for ratio in ratios)]))
    start = MARGIN + (LABELS if width == WIDTH else _LABELS_OF_WIDE)
    return Scale(low, high, start, width - MARGIN - (_WORDS if width == WIDTH else 2 * _WORDS))


def rows_height(rows: Sequence[Row], scale: Scale) -> float:
    """Room that the rows and their axis take.

    Args:
        rows: to be drawn
        scale: the axis of all of them

    Returns:
        The height [px].
    """
    return sum(_row_height(row, scale) for row in rows) + LINE_HEIGHT + 6


def drawn_rows(rows: Sequence[Row], scale: Scale, top: float) -> Iterator[Element]:
    """The rows with grid, line of the present and axis.

    Args:
        rows: to be drawn
        scale: the axis of all of them
        top: where they start [px]

    Returns:
        The elements.
    """
    bottom = top + sum(_row_height(row, scale) for row in rows)
    yield from _axis(scale, top, bottom)
    y = top
    for row in rows:
        yield from _row(row, scale, y)
        y += _row_height(row, scale)
    one = scale.at(1.0)
    yield line(one, top, one, bottom, "one")


def directions_height(rows: Sequence[Row]) -> float:
    """Room that rows take of which only the direction is known [px]."""
    return LINE_HEIGHT * max((line for line, _, _ in _side_by_side(rows)), default=-1) + LINE_HEIGHT


def drawn_directions(rows: Sequence[Row], top: float) -> Iterator[Element]:
    """Rows of which only the direction is known, side by side as name, sign and word.

    Args:
        rows: to be drawn
        top: where they start [px]

    Returns:
        The elements.
    """
    for (line_number, x, text), row in zip(_side_by_side(rows), rows, strict=True):
        middle = top + LINE_HEIGHT * (line_number + 0.5)
        yield from sign(row.direction or "unknown", x + _SIGN, middle)
        yield letters(text, x + 3 * _SIGN, middle + 4)


def _side_by_side(rows: Sequence[Row]) -> Iterator[tuple[int, float, str]]:
    """For each row its line, where it starts [px] and its text."""
    line_number, x = 0, MARGIN
    for row in rows:
        text = wrapped(f"{row.name}: {VERDICTS[row.direction or 'unknown']}", INNER - 2 * _GAP, BODY_SIZE, 1)[0]
        width = 4 * _SIGN + width_of(text, BODY_SIZE)
        if x > MARGIN and x + width > MARGIN + INNER:
            line_number, x = line_number + 1, MARGIN
        yield line_number, x, text
        x += width + _GAP


def sign(direction: Direction, x: float, y: float) -> Iterator[Element]:
    """The verdict as a shape: a triangle down or up, two bars for no clear difference, a ring.

    Args:
        direction: the verdict
        x: of its middle [px]
        y: of its middle [px]

    Returns:
        The elements.
    """
    reach = _SIGN
    if direction in ("lower", "higher"):
        up = -1.0 if direction == "higher" else 1.0
        corners = (x - reach, y - up * reach * 0.8, x + reach, y - up * reach * 0.8, x, y + up * reach)
        yield draw.Lines(*map(coordinate, corners), close=True, **look_of(direction), data_sign=direction)
    elif direction == "no_clear_difference":
        for up in (-3.0, 1.0):
            yield draw.Rectangle(
                coordinate(x - reach), coordinate(y + up), 2 * reach, 2, **look_of("unclear"), data_sign=direction
            )
    else:
        yield draw.Circle(coordinate(x), coordinate(y), reach - 1, **look_of("joint"), data_sign=direction)


def _axis(scale: Scale, top: float, bottom: float) -> Iterator[Element]:
    """Grid, axis and its numbers: every half where there is room between them, else every whole."""
    for tick in ticks(scale.low, scale.high, _MOST_GRID_LINES):
        yield line(scale.at(tick), top, scale.at(tick), bottom, "grid")
    yield line(scale.start, bottom, scale.end, bottom, "axis")
    base = bottom + LINE_HEIGHT - 2
    yield letters("share of now", MARGIN, base, "quiet", size=_AXIS_SIZE)
    apart = 0.5 if scale.at(0.5) - scale.at(0.0) >= _NUMBER_ROOM else 1.0
    for index in range(floor(scale.high / apart) + 1):
        text = f"{number(100 * apart * index, 0)} %"
        yield letters(text, scale.at(apart * index), base, "quiet", anchor="middle", size=_AXIS_SIZE)


def _row(row: Row, scale: Scale, top: float) -> Iterator[Element]:
    middle = top + _row_height(row, scale) / 2
    yield from lines_of_text(_label(row, scale), MARGIN, middle, "strong" if row.target is not None else "")
    beside = scale.end + 12
    if row.direction is not None:
        yield from sign(row.direction, beside + _SIGN, middle)
    yield from lines_of_text(_row_text(row, scale), beside + 3 * _SIGN + 2, middle)
    if row.ratio is not None:
        yield bar(row.ratio.value, scale, middle, _BAR, _bar_style(row), data_ratio=f"{row.ratio.value:.6g}")
        yield from whisker(row.ratio, scale, middle)
    if row.target is not None and row.ratio is not None:
        x = scale.at(row.target)
        yield line(x, middle - _BAR / 2 - 4, x, middle + _BAR / 2 + 4, "goal", data_target=f"{row.target:.6g}")


def _bar_style(row: Row) -> str:
    if row.direction is None:
        return "kept"
    return row.direction if row.direction in ("lower", "higher") else "unclear"


def _label(row: Row, scale: Scale) -> list[str]:
    return wrapped(clean(row.name), scale.start - MARGIN - 10, BODY_SIZE)


def _row_text(row: Row, scale: Scale) -> list[str]:
    """In one line, or where that is too long the number above the verdict."""
    text, room = in_words(row), _room(scale) - 14 - 3 * _SIGN
    if width_of(text, BODY_SIZE) <= room:
        return [text]
    return [words for part in text.split(", ") for words in wrapped(part, room, BODY_SIZE)]


def _room(scale: Scale) -> float:
    """Beside the bars [px]."""
    return _WORDS if scale.end <= WIDTH - MARGIN - _WORDS else 2 * _WORDS


def _row_height(row: Row, scale: Scale) -> float:
    return max(_BAR + 10, LINE_HEIGHT * max(len(_label(row, scale)), len(_row_text(row, scale))) + 6)
