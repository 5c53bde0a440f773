"""Load against repetitions to failure: the central curve, the band between people, what was done and what is wanted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, floor
from typing import Final, Literal

import drawsvg as draw
from msgspec import Struct
from msgspec.structs import replace

from service.charts.elements.axes import Scale, ticks
from service.charts.elements.layout import Sheet
from service.charts.elements.palette import look_of
from service.charts.elements.text_layout import Span, clean, number, trimmed, width_of, wrapped
from service.charts.elements.theme import (
    BODY_SIZE,
    HEAD_SIZE,
    LINE_HEIGHT,
    MARGIN,
    Element,
    backing,
    coordinate,
    letters,
    line,
)

TITLE: Final = "Load against repetitions to failure"

_WIDTH: Final = 640.0  # [px]
_HEIGHT: Final = 440.0  # [px]
_LEFT: Final = 74.0  # [px], the load's axis with its numbers
_TOP: Final = 72.0  # [px]
_BOTTOM: Final = 62.0  # [px], the repetitions' axis with its numbers
_HEADROOM: Final = 0.28  # of the range of loads, kept free above it for the labels of the marks
_WHOLE_FROM: Final = 100.0  # [kg or lb], from which estimated loads are written without decimals
_MOST_COUNTS: Final = 24  # numbers at the axis of the repetitions
_DESCRIBED: Final = 8  # points of the curve in the text alternative


class CurvePoint(Struct, frozen=True):
    """A point of the central curve.

    Attributes:
        reps: repetitions to failure [count]
        load: in the unit of the chart [kg or lb]
    """

    reps: float
    load: float


class BandPoint(Struct, frozen=True):
    """The band at one number of repetitions.

    Attributes:
        reps: repetitions to failure [count]
        low: lowest load, in the unit of the chart [kg or lb]
        high: highest load, in the unit of the chart [kg or lb]
    """

    reps: float
    low: float
    high: float


class Mark(Struct, frozen=True):
    """A marked set.

    Attributes:
        label: in one line
        reps: repetitions to failure [count]
        load: in the unit of the chart [kg or lb]
        kind: whether it was done or is aimed at
        span: of the load, where it is an estimate [kg or lb]
        reserve: how many of the repetitions to failure are left [count]
    """

    label: str
    reps: float
    load: float
    kind: Literal["done", "target"] = "done"
    span: Span | None = None
    reserve: float = 0.0


class _Axes(Struct, frozen=True):
    reps: Scale
    load: Scale

    def at(self, reps: float, load: float) -> tuple[float, float]:
        return coordinate(self.reps.at(reps)), coordinate(self.load.at(load))


def load_curve(
    points: Sequence[CurvePoint], band: Sequence[BandPoint], marks: Sequence[Mark], unit: str
) -> list[Sheet]:
    """The curve with its band, and the marked sets with their values.

    Args:
        points: of the curve, in order of repetitions
        band: in order of repetitions
        marks: the sets
        unit: of every load

    Returns:
        The sheet, with the same numbers in its text alternative.

    Raises:
        ValueError: with fewer than two points
    """
    if len(points) < 2:  # noqa: PLR2004
        raise ValueError("A curve needs at least two points.")
    axes = _axes(points, band, marks)
    return [
        Sheet(
            TITLE,
            _in_words(points, band, marks, unit),
            _WIDTH,
            _HEIGHT,
            lambda top: _drawn(points, band, marks, unit, _lowered(axes, top)),
        )
    ]


def _lowered(axes: _Axes, top: float) -> _Axes:
    return _Axes(axes.reps, replace(axes.load, start=axes.load.start + top, end=axes.load.end + top))


def _drawn(
    points: Sequence[CurvePoint], band: Sequence[BandPoint], marks: Sequence[Mark], unit: str, axes: _Axes
) -> Iterator[Element]:
    yield letters(TITLE, MARGIN, axes.load.end - _TOP + MARGIN + HEAD_SIZE, "head", size=HEAD_SIZE)
    yield from _grid(axes, unit)
    if band:
        outline = [axes.at(row.reps, row.high) for row in band] + [axes.at(row.reps, row.low) for row in reversed(band)]
        yield draw.Lines(*(value for point in outline for value in point), close=True, **look_of("band"))
    drawn = [axes.at(point.reps, point.load) for point in points]
    yield draw.Lines(*(value for point in drawn for value in point), **look_of("curve"))
    for mark in marks:
        yield from _mark(mark, axes)
    yield from _mark_labels(points, band, marks, unit, axes)


def _axes(points: Sequence[CurvePoint], band: Sequence[BandPoint], marks: Sequence[Mark]) -> _Axes:
    loads = [point.load for point in points] + [mark.load for mark in marks]
    loads += [load for row in band for load in (row.low, row.high)]
    loads += [load for mark in marks if mark.span is not None for load in (mark.span.low, mark.span.high)]
    reps = [point.reps for point in points] + [row.reps for row in band] + [mark.reps for mark in marks]
    margin = 0.05 * (max(loads) - min(loads)) or 0.1 * max(loads)
    low, high = min(loads) - margin, max(loads) + margin
    if min(loads) >= 0:  # less than nothing is assistance, which only lifts of one's own body have
        low = max(0.0, low)
    first, last = min(reps), max(reps)
    beside = 0.03 * (last - first)
    return _Axes(
        Scale(first - beside, last + beside, _LEFT, _WIDTH - MARGIN),
        Scale(low, high + _HEADROOM * (high - low), _HEIGHT - _BOTTOM, _TOP),
    )


def _grid(axes: _Axes, unit: str) -> Iterator[Element]:
    left, right, bottom, top = axes.reps.start, axes.reps.end, axes.load.start, axes.load.end
    for tick in ticks(axes.load.low, axes.load.high, 6):
        y = axes.load.at(tick)
        yield line(left, y, right, y, "grid")
        yield letters(trimmed(tick), left - 8, y + 4, "quiet", anchor="end")
    apart = ceil((axes.reps.high - axes.reps.low) / _MOST_COUNTS)
    for tick in range(ceil(axes.reps.low), floor(axes.reps.high) + 1, apart):
        x = axes.reps.at(tick)
        yield line(x, bottom, x, bottom + 5, "axis")
        yield letters(trimmed(tick), x, bottom + LINE_HEIGHT + 2, "quiet", anchor="middle")
    yield line(left, bottom, right, bottom, "axis")
    yield line(left, bottom, left, top, "axis")
    yield letters("repetitions to failure", right, bottom + 2 * LINE_HEIGHT + 4, "quiet", anchor="end")
    added = " added to body mass; below 0: assistance" if axes.load.low < 0 else ""
    yield letters(f"load [{clean(unit)}]{added}", MARGIN, top - 10, "quiet")


def _mark(mark: Mark, axes: _Axes) -> Iterator[Element]:
    x, y = axes.at(mark.reps, mark.load)
    yield line(x, y, x, axes.load.start, "guide")
    yield line(x, y, axes.reps.start, y, "guide")
    if mark.span is not None:
        low, high = axes.load.at(mark.span.low), axes.load.at(mark.span.high)
        yield line(x, low, x, high, "error")
        for end in (low, high):
            yield line(x - 10, end, x + 10, end, "error")
    if mark.kind == "done":
        yield draw.Circle(x, y, 5.5, **look_of("done"))
    else:
        yield draw.Lines(*map(coordinate, (x, y - 7, x + 7, y, x, y + 7, x - 7, y)), close=True, **look_of("target"))


def _mark_labels(
    points: Sequence[CurvePoint], band: Sequence[BandPoint], marks: Sequence[Mark], unit: str, axes: _Axes
) -> Iterator[Element]:
    """Labels above the falling curve, moved up until clear of band and of each other, each with a line to its mark."""
    taken: list[tuple[float, float, float]] = []  # left, right, base line
    for mark in sorted(marks, key=lambda one: -one.reps):
        values = _values(mark, unit)
        room = axes.reps.end - axes.reps.start - 12 - width_of(f": {values}", BODY_SIZE)
        text = f"{wrapped(mark.label, room, BODY_SIZE, 1)[0]}: {values}"
        x, y = axes.at(mark.reps, mark.load)
        width = width_of(text, BODY_SIZE)
        left = max(axes.reps.start + 6, min(x + 6, axes.reps.end - width))
        top = y if mark.span is None else min(y, axes.load.at(mark.span.high))
        base = min(_highest(points, band, left, left + width, axes), top) - 14
        for other_left, other_right, other_base in sorted(taken, key=lambda box: -box[2]):
            apart = left > other_right or left + width < other_left
            if not apart and abs(base - other_base) < LINE_HEIGHT:
                base = other_base - LINE_HEIGHT
        taken.append((left, left + width, base))
        yield line(x, y - 8, min(max(x, left), left + width), base + 4, "leader")
        yield backing(text, left, base)
        yield letters(text, left, base)


def _highest(points: Sequence[CurvePoint], band: Sequence[BandPoint], left: float, right: float, axes: _Axes) -> float:
    """The uppermost point of curve or band between two positions, one neighbour beyond either end included [px]."""
    upper = [axes.at(row.reps, row.high) for row in band] or [axes.at(point.reps, point.load) for point in points]
    inside = [number for number, (x, _) in enumerate(upper) if left <= x <= right]
    before = [number for number, (x, _) in enumerate(upper) if x < left][-1:]
    after = [number for number, (x, _) in enumerate(upper) if x > right][:1]
    return min(upper[number][1] for number in (*before, *inside, *after))


def _values(mark: Mark, unit: str) -> str:
    reps = _reps(mark.reps - mark.reserve) + (f" and {trimmed(mark.reserve, 1)} left" if mark.reserve else "")
    if mark.span is None:
        return f"{reps}, {trimmed(mark.load)} {clean(unit)}"
    load, low, high = (_rounded(end) for end in (mark.load, mark.span.low, mark.span.high))
    return f"{reps}, {load} {clean(unit)} ({low} to {high})"


def _rounded(load: float) -> str:
    """An estimated load, to no more digits than it is known to."""
    return number(load, 0 if abs(load) >= _WHOLE_FROM else 1)


def _reps(count: float) -> str:
    return f"{trimmed(count, 1)} {'repetition' if count == 1 else 'repetitions'}"


def _in_words(points: Sequence[CurvePoint], band: Sequence[BandPoint], marks: Sequence[Mark], unit: str) -> str:
    sentences = [f"{TITLE}."]
    sentences += [f"{clean(mark.label)}: {_values(mark, unit)}." for mark in marks]
    step = -(-len(points) // _DESCRIBED)
    curve = "; ".join(f"{_reps(point.reps)} {number(point.load)} {clean(unit)}" for point in points[::step])
    sentences.append(f"Curve: {curve}.")
    if band:
        step = -(-len(band) // _DESCRIBED)
        rows = "; ".join(
            f"{_reps(row.reps)} {number(row.low)} to {number(row.high)} {clean(unit)}" for row in band[::step]
        )
        sentences.append(f"Band: {rows}.")
    return " ".join(sentences)
