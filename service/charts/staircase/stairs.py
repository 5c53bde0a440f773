"""The stairs of a return as they are drawn: treads, rises, spans, gates, and the line of the original."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, floor
from typing import Final

import drawsvg as draw
from msgspec import Struct

from service.charts.elements.axes import Scale, tick_step, ticks
from service.charts.elements.layout import INNER
from service.charts.elements.palette import look_of
from service.charts.elements.text_layout import number, width_of
from service.charts.elements.theme import BODY_SIZE, LINE_HEIGHT, MARGIN, Element, backing, coordinate, letters, line
from service.intervals import Interval

_LEFT: Final = 52.0  # [px], the axis of the demand with its numbers
_HEIGHT: Final = 230.0  # [px], from the top to the axis of the weeks
STAIRS_HEIGHT: Final = _HEIGHT + 2 * LINE_HEIGHT + MARGIN  # [px]
_HEADROOM: Final = 26.0  # [px], for the value over the highest tread
_AXIS_SIZE: Final = 12  # [px]
_MOST_WEEKS_MARKED: Final = 16
_GATE: Final = 6.0  # [px], half of a gate's mark
_KEY: Final = 26.0  # [px], a line or mark of the key
_LEAST_DIFFERENCE: Final = 0.005  # shares that differ by less are drawn as one
_FLOOR_STEP: Final = 0.1  # the axis starts at a tenth below the lowest demand


class Step(Struct, frozen=True):
    """One step.

    Attributes:
        week: in which it starts [count]
        demand: of the sore region in a repetition against the original's, None where no number is known [1]
        label: its prescription in short
        changed: against the step before, in words, empty for the first
        gate: when to go on, empty where there is none
        fallback: where to go back to, in words
        session: the same demand summed over a session, None where no number is known [1]
        test: what has to go well before, in words, empty where nothing has
    """

    week: int
    demand: Interval | None
    label: str
    changed: str = ""
    gate: str = ""
    fallback: str = ""
    session: float | None = None
    test: str = ""


class _Tread(Struct, frozen=True):
    """A step as drawn.

    Attributes:
        start: left end [px]
        end: right end [px]
        y: height on the sheet [px]
        span: ends of its span on the sheet, None where it has none [px]
        step: what is drawn
    """

    start: float
    end: float
    y: float
    span: tuple[float, float] | None
    step: Step


def drawn_stairs(steps: Sequence[Step], top: float) -> Iterator[Element]:
    """The stairs with both axes.

    Args:
        steps: in order of weeks, the original last
        top: where they start [px]

    Returns:
        The elements.
    """
    bottom = top + _HEIGHT
    across = Scale(steps[0].week, steps[-1].week + 1, MARGIN + _LEFT, MARGIN + INNER - 8)
    levels = _levels(steps)
    upwards = _upwards(steps, levels, Scale(0.0, 1.0, bottom, top + _HEADROOM))
    treads = list(_treads(steps, levels, across, upwards))
    yield from _grid(steps, across, upwards, bottom)
    for tread in treads:
        if tread.span is not None:
            high, low = sorted(tread.span)
            yield draw.Rectangle(
                coordinate(tread.start),
                coordinate(high),
                coordinate(tread.end - tread.start),
                coordinate(low - high),
                **look_of("band"),
            )
    original = upwards.at(levels[-1] if steps[-1].demand is None else 1.0)
    yield line(across.start, original, across.end, original, "one")
    if _shows_sessions(steps):
        yield from _sessions(treads, upwards)
    for earlier, later in pairwise(treads):
        yield line(later.start, earlier.y, later.start, later.y, "riser")
    for tread in treads:
        yield from _tread(tread, original)
    if shows_gates(steps):
        for tread in treads:
            if tread.step.gate:
                yield _gate(tread.end, tread.y, min(_GATE, (tread.end - tread.start) / 3))


def drawn_key(top: float, steps: Sequence[Step]) -> Iterator[Element]:
    """What the lines and marks mean, in one line; only those that are drawn.

    Args:
        top: where the line starts [px]
        steps: that are drawn

    Returns:
        The elements.
    """
    middle, x = top + LINE_HEIGHT / 2, MARGIN
    shown = {
        "one": "original",
        "gate": "gate" if shows_gates(steps) else "",
        "band": "span" if any(step.demand and step.demand.low < step.demand.high for step in steps) else "",
        "session": "a session" if _shows_sessions(steps) else "",
        "untold": "no number known" if any(step.demand is None for step in steps) else "",
    }
    for style, text in shown.items():
        if not text:
            continue
        if style == "gate":
            yield _gate(x + 10, middle, _GATE)
        elif style == "band":
            yield draw.Rectangle(coordinate(x), coordinate(middle - 6), 20, 12, **look_of("band"))
        else:
            yield line(x, middle, x + 20, middle, style)
        yield letters(text, x + _KEY, middle + 4, "quiet")
        x += _KEY + width_of(text, BODY_SIZE) + MARGIN


def percent(demand: Interval | None) -> str:
    """A demand in per cent of the original.

    Args:
        demand: against the original's [1]; None where no number is known

    Returns:
        The text, empty where no number is known.
    """
    return "" if demand is None else f"{number(100 * demand.value, 0)} %"


def shows_gates(steps: Sequence[Step]) -> bool:
    """Whether gates are drawn: treads narrower than two of them would vanish behind.

    Args:
        steps: that are drawn
    """
    room = (INNER - _LEFT - 8) / (steps[-1].week + 1 - steps[0].week)
    return any(step.gate for step in steps) and room >= 4 * _GATE


def _levels(steps: Sequence[Step]) -> list[float]:
    """Where each step stands [1]: its demand; without one, halfway between its neighbours that have one, or alike."""
    known = {index: step.demand.value for index, step in enumerate(steps) if step.demand is not None}
    if not known:
        return [(index + 1) / len(steps) for index in range(len(steps))]
    levels = []
    for index in range(len(steps)):
        before = [other for other in known if other <= index][-1:]
        after = [other for other in known if other >= index][:1]
        around = [known[other] for other in (*before, *after)]
        levels.append(sum(around) / len(around))
    return levels


def _upwards(steps: Sequence[Step], levels: Sequence[float], room: Scale) -> Scale:
    spans = [end for step in steps if step.demand is not None for end in (step.demand.low, step.demand.high)]
    if _shows_sessions(steps):
        spans += [step.session for step in steps if step.session is not None]
    if not spans:
        return Scale(0.0, 1.0, room.start, room.end)
    low = floor(min(spans) / _FLOOR_STEP - 1) * _FLOOR_STEP
    return Scale(max(0.0, low) if min(spans) >= 0 else low, max(1.0, *spans, *levels), room.start, room.end)


def _treads(steps: Sequence[Step], levels: Sequence[float], across: Scale, upwards: Scale) -> Iterator[_Tread]:
    ends = [*(step.week for step in steps[1:]), steps[-1].week + 1]
    for step, level, end in zip(steps, levels, ends, strict=True):
        span = None
        if step.demand is not None and step.demand.low < step.demand.high:
            span = (upwards.at(step.demand.low), upwards.at(step.demand.high))
        yield _Tread(across.at(step.week), across.at(end), upwards.at(level), span, step)


def _grid(steps: Sequence[Step], across: Scale, upwards: Scale, bottom: float) -> Iterator[Element]:
    if any(step.demand is not None for step in steps):
        for tick in ticks(upwards.low, upwards.high, 6):
            y = upwards.at(tick)
            yield line(across.start, y, across.end, y, "grid")
            yield letters(f"{number(100 * tick, 0)} %", across.start - 8, y + 4, "quiet", anchor="end", size=_AXIS_SIZE)
    apart = ceil(tick_step(across.low, across.high, _MOST_WEEKS_MARKED))
    for week in range(steps[0].week, steps[-1].week + 1, apart):
        x = across.at(week)
        yield line(x, bottom, x, bottom + 5, "axis")
        yield letters(str(week), x, bottom + LINE_HEIGHT, "quiet", anchor="middle", size=_AXIS_SIZE)
    yield line(across.start, bottom, across.end, bottom, "axis")
    yield letters("start of week", across.end, bottom + 2 * LINE_HEIGHT - 2, "quiet", anchor="end", size=_AXIS_SIZE)


def _tread(tread: _Tread, original: float) -> Iterator[Element]:
    """A tread, and its demand above it where it is long enough to hold that; original: height of its line [px]."""
    demand, names = tread.step.demand, {"data_week": str(tread.step.week)}
    if demand is None:
        yield line(tread.start, tread.y, tread.end, tread.y, "untold", **names)
        return
    yield line(tread.start, tread.y, tread.end, tread.y, "tread", data_ratio=f"{demand.value:.6g}", **names)
    text = percent(demand)
    if width_of(text, BODY_SIZE) + 4 <= tread.end - tread.start:
        middle, base = (tread.start + tread.end) / 2, tread.y - 7
        if base - BODY_SIZE < original < base + 3:
            yield backing(text, middle, base, anchor="middle")
        yield letters(text, middle, base, anchor="middle")


def _gate(x: float, y: float, reach: float) -> Element:
    corners = (x, y - reach, x + reach, y, x, y + reach, x - reach, y)
    return draw.Lines(*map(coordinate, corners), close=True, **look_of("gate"))


def _sessions(treads: Sequence[_Tread], upwards: Scale) -> Iterator[Element]:
    """The session's demand as a thin line of steps, broken where no number is known."""
    known = [(tread, upwards.at(tread.step.session)) for tread in treads if tread.step.session is not None]
    for tread, y in known:
        yield line(tread.start, y, tread.end, y, "session", data_session=f"{tread.step.session:.6g}")
    for (earlier, y1), (later, y2) in pairwise(known):
        if earlier.end == later.start:
            yield line(later.start, y1, later.start, y2, "session")


def _shows_sessions(steps: Sequence[Step]) -> bool:
    """Whether a session's demand goes another way than that of a repetition."""
    return any(
        step.session is not None
        and step.demand is not None
        and abs(step.session - step.demand.value) > _LEAST_DIFFERENCE
        for step in steps
    )
