"""The lifter as now and as changed, side by side at one scale, with trunk lean and moment arms below as a table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees
from typing import Final

import drawsvg as draw

from service.charts.elements.demand_bars import LABELS
from service.charts.elements.layout import INNER
from service.charts.elements.palette import look_of
from service.charts.elements.text_layout import number, wrapped
from service.charts.elements.theme import BODY_SIZE, LINE_HEIGHT, MARGIN, Element, coordinate, letters, line
from service.charts.posture.figure import ARM_JOINTS, Extent, Frame, Panel, arm_end, drawn, extent, heel_lift, joint_of
from service.charts.posture.side_view import JOINT_NAMES
from service.mechanics.posture import Point

LEGEND: Final = (
    "Postures at the bottom, to one scale. Dashed: plumb line over the balance point of the feet. Thick lines: moment "
    "arms, from knee and hip to the plumb line, from the lower back to the line of all weight above it."
)
_HEADING: Final = "Posture at the bottom"
_CELL: Final = (INNER - LABELS) / 2  # [px]
_HIGHEST: Final = 210.0  # [px], of a lifter
_LARGEST: Final = 150.0  # [px/m]
_LEAST_LIFT: Final = 1e-6  # [m]


def common_scale(panels: Sequence[Panel]) -> float:
    """The largest scale at which every lifter fits into its cell.

    Args:
        panels: of all lifters on the sheet

    Returns:
        The scale [px/m].
    """
    rooms = [extent(panel) for panel in panels]
    return min(
        [_LARGEST, *((_CELL - 12) / (one.right - one.left) for one in rooms), *(_HIGHEST / one.top for one in rooms)]
    )


def pair_height(before: Panel, after: Panel, scale: float) -> float:
    """Room that the pair takes.

    Args:
        before: the lifter as now
        after: the lifter as changed
        scale: of both [px/m]

    Returns:
        The height [px].
    """
    return _top(before, after, scale) + LINE_HEIGHT * len(_table(before, after)) + MARGIN / 2


def drawn_pair(before: Panel, after: Panel, scale: float, top: float) -> Iterator[Element]:
    """Both lifters with their labels above and the table below.

    Args:
        before: the lifter as now
        after: the lifter as changed
        scale: of both [px/m]
        top: where the pair starts [px]

    Returns:
        The elements.
    """
    floor = top + _top(before, after, scale) - MARGIN / 2
    for row, text in enumerate(wrapped(_HEADING, LABELS - 10, BODY_SIZE)):
        yield letters(text, MARGIN, top + LINE_HEIGHT * (row + 0.8))
    for column, panel in enumerate((before, after)):
        left = MARGIN + LABELS + column * _CELL
        label = wrapped(panel.label, _CELL - 12, BODY_SIZE, 1)[0]
        yield letters(label, left + _CELL / 2, top + 0.8 * LINE_HEIGHT, "strong", anchor="middle")
        room = extent(panel)
        frame = Frame(left + _CELL / 2 - scale * (room.left + room.right) / 2, floor, scale)
        yield line(left + 6, floor, left + _CELL - 6, floor, "floor")
        yield from drawn(panel, frame)
        yield from _plumb(panel, frame, room)
        for joint in ARM_JOINTS:
            yield from _arm(panel, joint, frame)
    for row, (name, style, values) in enumerate(_table(before, after)):
        y = floor + MARGIN / 2 + LINE_HEIGHT * (row + 0.8)
        yield letters(name, MARGIN, y, style)
        for column, value in enumerate(values):
            yield letters(value, MARGIN + LABELS + (column + 0.5) * _CELL, y, style, anchor="middle")


def pair_in_words(before: Panel, after: Panel) -> str:
    """The table as a sentence."""
    rows = (f"{name} {values[0]} now, {values[1]} then" for name, _, values in _table(before, after))
    return "Posture: " + "; ".join(rows) + "."


def _top(before: Panel, after: Panel, scale: float) -> float:
    """From the labels to below the floor [px]."""
    return LINE_HEIGHT + MARGIN / 2 + scale * max(extent(before).top, extent(after).top) + MARGIN / 2


def _plumb(panel: Panel, frame: Frame, room: Extent) -> Iterator[Element]:
    x, floor = frame.at(Point(panel.posture.balance_point, 0.0))
    _, high = frame.at(Point(0.0, room.top))
    yield line(x, high, x, floor, "plumb")
    yield draw.Lines(
        *map(coordinate, (x, floor + 1, x - 5, floor + 7, x + 5, floor + 7)), close=True, **look_of("balance")
    )


def _arm(panel: Panel, joint: str, frame: Frame) -> Iterator[Element]:
    point = joint_of(panel.posture, joint)
    x1, y = frame.at(point)
    x2, _ = frame.at(Point(arm_end(panel, joint), point.y))
    yield line(x1, y, x2, y, f"arm {joint}", data_arm=joint)
    yield line(x2, y - 5, x2, y + 5, f"arm {joint}")


def _table(before: Panel, after: Panel) -> list[tuple[str, str, tuple[str, str]]]:
    """Rows of name, style and the two values."""
    pair = (before, after)
    rows = [("trunk lean", "", _both(f"{number(degrees(one.posture.trunk_lean), 0)}°" for one in pair))]
    rows += [
        (f"{JOINT_NAMES[joint]} arm", joint, _both(f"{number(100 * one.moment_arms[joint])} cm" for one in pair))
        for joint in ARM_JOINTS
    ]
    if any(heel_lift(one) > _LEAST_LIFT for one in pair):
        rows.append(("heel lift", "", _both(f"{number(100 * heel_lift(one))} cm" for one in pair)))
    if any(one.lead_leg for one in pair):
        rows.append(("leg drawn", "", _both("lead leg" if one.lead_leg else "both alike" for one in pair)))
    return rows


def _both(values: Iterator[str]) -> tuple[str, str]:
    first, second = values
    return first, second
