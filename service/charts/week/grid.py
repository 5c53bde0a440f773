"""The week of one region as a grid: days across, lifts down, in each cell the three shares of the week as bars.

Which bar is which is said by its name at the left of its row; which days are heavy and which lifts changed by a word.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil
from typing import Final

import drawsvg as draw
from msgspec import Struct

from service.charts.elements.axes import Scale
from service.charts.elements.bars import bar, whisker
from service.charts.elements.layout import Block
from service.charts.elements.palette import look_of
from service.charts.elements.text_layout import Span, clean, number, wrapped
from service.charts.elements.theme import BODY_SIZE, LINE_HEIGHT, MARGIN, Element, coordinate, letters, line
from service.intervals import exactly
from service.vocabulary import WEIGHTINGS, Weighting

WIDTH: Final = 960.0  # [px], of a sheet with a week
WEIGHTING_WORDS: Final[dict[Weighting, str]] = {
    "linear": "all alike",
    "squared": "heavier more",
    "tenth_power": "heaviest most",
}

_STYLES: Final[dict[Weighting, str]] = {"linear": "linear", "squared": "squared", "tenth_power": "tenth"}
_DAYS: Final = range(1, 8)
_NAMES: Final = 168.0  # [px], column of the lifts
_WORDS: Final = 96.0  # [px], column of the weightings
_RESTING: Final = 32.0  # [px], column of a day without training
_SIZE: Final = 12  # [px], of numbers and words in cells
_PITCH: Final = 15.0  # [px], from one bar to the next
_BAR: Final = 9.0  # [px]
_NUMBER: Final = 44.0  # [px], column of the numbers in a cell
_LEAST: Final = 0.005  # share below which only that it is smaller is written
_PADDING: Final = 5.0  # [px], above and below a row, and beside what is in a cell
_HEAD: Final = 2 * LINE_HEIGHT + _PADDING
_HIGHEST: Final = 860.0  # [px], of the rows of one block: with what stands above it, it still has room on a sheet


class Cell(Struct, frozen=True):
    """One lift on one day.

    Attributes:
        shares: part of the region's week, by weighting; None where nothing is drawn [1]
        before: what it was, where that is shown beside [1]
        notes: lines of words below the bars
    """

    shares: Mapping[Weighting, Span] | None
    before: Mapping[Weighting, float] | None = None
    notes: Sequence[str] = ()


class LiftRow(Struct, frozen=True):
    """One lift.

    Attributes:
        name: of the lift
        cells: by day of the week [days]
        strong: whether it is more than one lift
    """

    name: str
    cells: Mapping[int, Cell]
    strong: bool = False


class Grid(Struct, frozen=True):
    """The week of one region.

    Attributes:
        rows: of the lifts
        days: part of the week on each day that loads the region, by weighting [1]
        trained: days on which anything is trained, for other regions too [days]
        heavy: days that are marked as heavy ones [days]
        before: parts of the days before, where those are shown beside [1]
    """

    rows: Sequence[LiftRow]
    days: Mapping[int, Mapping[Weighting, float]]
    trained: frozenset[int]
    heavy: Sequence[int]
    before: Mapping[int, Mapping[Weighting, float]] | None = None


def grid_blocks(grid: Grid) -> list[Block]:
    """The grid with its lifts and, where more than one lift loads the region, the whole of each day.

    Returns:
        One block, or where the grid is too high for a sheet several of about one height, each with the head.
    """
    rows = _all_rows(grid)
    heights = [_row_height(row) for row in rows]
    blocks = ceil(sum(heights) / _HIGHEST)
    cuts = [0] + [
        next(index for index in range(len(rows) + 1) if sum(heights[:index]) >= sum(heights) * part / blocks - 1e-9)
        for part in range(1, blocks + 1)
    ]
    words = [*(_lift_in_words(row) for row in grid.rows), _days_in_words(grid)]
    words += [""] * (len(rows) - len(grid.rows))
    return [
        _block(grid, rows[first:last], " ".join(filter(None, words[first : None if last == len(rows) else last])))
        for first, last in pairwise(cuts)
    ]


def _block(grid: Grid, rows: Sequence[LiftRow], words: str) -> Block:
    height = _HEAD + sum(map(_row_height, rows)) + _PADDING
    return Block(height, lambda top: _drawn(grid, rows, top), words)


def _drawn(grid: Grid, rows: Sequence[LiftRow], top: float) -> Iterator[Element]:
    columns = _columns(grid)
    most = max([_LEAST, *(share for cell in _cells(grid) for share in _drawn_shares(cell))])
    yield from _head(grid, columns, top)
    y = top + _HEAD
    for row in rows:
        yield line(MARGIN, y, WIDTH - MARGIN, y, "grid")
        yield from _row(row, columns, most, y)
        y += _row_height(row)
    yield line(MARGIN, y, WIDTH - MARGIN, y, "grid")
    for day in grid.heavy:
        left, right = columns[day]
        yield draw.Rectangle(
            *map(coordinate, (left, top, right - left, y - top)), **look_of("frame"), data_heavy=str(day)
        )


def _lift_in_words(row: LiftRow) -> str:
    cells = [
        (day, [*([_shares_in_words(cell)] if cell.shares else []), *map(clean, cell.notes)])
        for day, cell in row.cells.items()
    ]
    return " ".join(f"{clean(row.name)}, day {day}: {'; '.join(said)}." for day, said in cells)


def _days_in_words(grid: Grid) -> str:
    wholes = [
        (day, _shares_in_words(_whole_of_day(shares, None if grid.before is None else grid.before.get(day))))
        for day, shares in grid.days.items()
    ]
    return " ".join(f"Day {day}{', heavy' if day in grid.heavy else ''}: {whole}." for day, whole in wholes)


def _whole_of_day(shares: Mapping[Weighting, float], before: Mapping[Weighting, float] | None) -> Cell:
    return Cell({weighting: exactly(share) for weighting, share in shares.items()}, before)


def _all_rows(grid: Grid) -> list[LiftRow]:
    """The lifts, and below them the days where these say more."""
    if len(grid.rows) < 2 or not grid.days:  # noqa: PLR2004
        return list(grid.rows)
    before = grid.before or {}
    return [
        *grid.rows,
        LiftRow(
            "The whole day",
            {day: _whole_of_day(shares, before.get(day)) for day, shares in grid.days.items()},
            strong=True,
        ),
    ]


def _cells(grid: Grid) -> Iterator[Cell]:
    for row in _all_rows(grid):
        yield from row.cells.values()


def _drawn_shares(cell: Cell) -> Iterator[float]:
    yield from (share.high for share in (cell.shares or {}).values())
    yield from (cell.before or {}).values()


def _columns(grid: Grid) -> dict[int, tuple[float, float]]:
    """Left and right end of each day [px]: days without training are narrow, so that gaps are still seen."""
    resting = len(_DAYS) - len(grid.trained)
    start = MARGIN + _NAMES + _WORDS
    wide = (WIDTH - MARGIN - start - resting * _RESTING) / max(1, len(grid.trained))
    columns = {}
    for day in _DAYS:
        width = wide if day in grid.trained else _RESTING
        columns[day] = (start, start + width)
        start += width
    return columns


def _head(grid: Grid, columns: Mapping[int, tuple[float, float]], top: float) -> Iterator[Element]:
    yield letters("Day", MARGIN, top + LINE_HEIGHT - 3, "strong")
    for day, (left, right) in columns.items():
        middle = (left + right) / 2
        trained = day in grid.trained
        yield letters(str(day), middle, top + LINE_HEIGHT - 3, "strong" if trained else "quiet", anchor="middle")
        word = "rest" if not trained else "heavy" if day in grid.heavy else ""
        if word:
            style = "quiet" if word == "rest" else "strong"
            yield letters(word, middle, top + 2 * LINE_HEIGHT - 3, style, anchor="middle", size=_SIZE)


def _row(row: LiftRow, columns: Mapping[int, tuple[float, float]], most: float, top: float) -> Iterator[Element]:
    for index, text in enumerate(_name(row)):
        yield letters(text, MARGIN, top + _PADDING + _PITCH * (index + 0.8), "strong" if row.strong else "")
    if any(cell.shares for cell in row.cells.values()):
        for index, weighting in enumerate(WEIGHTINGS):
            base = top + _PADDING + _PITCH * (index + 0.8)
            yield letters(WEIGHTING_WORDS[weighting], MARGIN + _NAMES, base, "quiet", size=_SIZE)
    for day, cell in row.cells.items():
        left, right = columns[day]
        scale = Scale(0.0, most, left + _PADDING, right - _PADDING - _NUMBER)
        yield from _cell(cell, scale, right - _PADDING, top + _PADDING)


def _cell(cell: Cell, scale: Scale, right: float, top: float) -> Iterator[Element]:
    y = top
    if cell.shares is not None:
        for weighting, share in cell.shares.items():
            middle = y + _PITCH / 2
            names = {"data_weighting": weighting, "data_share": f"{share.value:.6g}"}
            if cell.before is not None:
                before = cell.before[weighting]
                yield bar(before, scale, middle, _BAR + 4, "before", data_before=f"{before:.6g}")
            yield bar(share.value, scale, middle, _BAR, _STYLES[weighting], **names)
            yield from whisker(share, scale, middle, 3.0)
            yield letters(_percent(share.value), right, y + 0.8 * _PITCH, anchor="end", size=_SIZE)
            y += _PITCH
    for text in cell.notes:
        yield letters(text, scale.start, y + 0.8 * _PITCH, size=_SIZE)
        y += _PITCH


def _name(row: LiftRow) -> list[str]:
    return wrapped(row.name, _NAMES - 10, BODY_SIZE)


def _row_height(row: LiftRow) -> float:
    lines = max((len(cell.shares or ()) + len(cell.notes) for cell in row.cells.values()), default=0)
    return _PITCH * max(lines, len(_name(row))) + 2 * _PADDING


def _shares_in_words(cell: Cell) -> str:
    parts = []
    for weighting, share in (cell.shares or {}).items():
        span = f" ({number(100 * share.low, 0)} to {number(100 * share.high, 0)})" if share.low < share.high else ""
        before = "" if cell.before is None else f", before {_percent(cell.before[weighting])}"
        parts.append(f"{WEIGHTING_WORDS[weighting]} {_percent(share.value)}{span}{before}")
    return "; ".join(parts)


def _percent(share: float) -> str:
    return "< 1 %" if 0 < share < _LEAST else f"{number(100 * share, 0)} %"
