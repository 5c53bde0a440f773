"""Presses, pulls and raises from the side and from the front at one scale, with the levers of the load."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees
from typing import Final

from service.charts.elements.text_layout import clean, number, width_of, wrapped
from service.charts.elements.theme import (
    BODY_SIZE,
    HEAD_SIZE,
    LINE_HEIGHT,
    MARGIN,
    Element,
    canvas,
    letters,
    svg,
)
from service.charts.posture.arm_figure import drawn_arm
from service.charts.posture.arm_geometry import SIDES, ArmPanel, Side, lever_length, room_of
from service.charts.posture.figure import Frame
from service.charts.posture.side_view import scale_bar
from service.mechanics.arm.directions import numbered

_SCALE: Final = 230.0  # [px/m], as of the other lifters
_COLUMNS: Final = 2
_LINES: Final = 3  # of what is written below a lifter
_HARDLY: Final = 0.05  # [N·m], less is written as nothing
_LEGEND: Final = (
    "Each lifter where most is asked of the shoulder, seen from the right side and from the front. Arrows: the load's "
    "force on a hand. Thick: its levers, from shoulder and elbow to its line (short dashes). Dots: the way of the "
    "hand. Moments are the largest of one arm, with its own weight."
)
_SIDE_NAMES: Final[dict[Side, str]] = {"side": "from the side", "front": "from the front"}
_LEADING: Final = {
    "raising": "raising the arm",
    "lowering": "lowering the arm",
    "forward": "swinging the arm forward",
    "backward": "swinging the arm backward",
    "inward_rotation": "turning the arm inward",
    "outward_rotation": "turning the arm outward",
}


def arm_view(panels: Sequence[ArmPanel]) -> str:
    """Lifters in presses and pulls, each from two sides, two of them in a row.

    Args:
        panels: of one lifter or of several

    Returns:
        SVG text, with the same numbers in its text alternative.

    Raises:
        ValueError: without any panel
    """
    if not panels:
        raise ValueError("There is no lifter to draw.")
    widths = {side: _SCALE * max(right - left for left, right, _, _ in _rooms(panels, side)) for side in SIDES}
    texts = [_rows(panel) for panel in panels]
    written = max(width_of(text, BODY_SIZE) for rows in texts for _, text in rows)
    width = max(sum(widths.values()) + 3 * MARGIN, written + 2 * MARGIN)
    columns = min(len(panels), _COLUMNS)
    legend = wrapped(_LEGEND, columns * width - 2 * MARGIN, BODY_SIZE, 9)
    elements: list[Element] = []
    below = 0.0
    for first in range(0, len(panels), columns):
        row = panels[first : first + columns]
        heads = [wrapped(panel.label, width - 2 * MARGIN, HEAD_SIZE) for panel in row]
        sides = [room for side in SIDES for room in _rooms(row, side)]
        top, bottom = max(room[3] for room in sides), min(room[2] for room in sides)
        views = below + MARGIN + LINE_HEIGHT * (max(map(len, heads)) + 1) + MARGIN / 2
        foot = views + _SCALE * (top - bottom) + MARGIN / 2
        for column, panel in enumerate(row):
            left = column * width
            for line_number, text in enumerate(heads[column]):
                y = below + MARGIN + LINE_HEIGHT * (line_number + 0.8)
                elements.append(letters(text, left + MARGIN, y, "head", size=HEAD_SIZE))
            elements.extend(_views(panel, widths, (left, views), top))
            for line_number, (style, text) in enumerate(texts[first + column]):
                elements.append(letters(text, left + MARGIN, foot + LINE_HEIGHT * (line_number + 0.8), style))
        below = foot + LINE_HEIGHT * _LINES + MARGIN
    title = "Side and front view: " + ", ".join(clean(panel.label) for panel in panels)
    total = below + MARGIN + LINE_HEIGHT * (len(legend) + 1)
    drawing = canvas(columns * width, total, title, " ".join(map(_in_words, panels)))
    drawing.extend(elements)
    drawing.extend(scale_bar(MARGIN, below))
    for line_number, text in enumerate(legend):
        drawing.append(letters(text, MARGIN, below + LINE_HEIGHT * (line_number + 2), "quiet"))
    return svg(drawing)


def _rooms(panels: Sequence[ArmPanel], side: Side) -> list[tuple[float, float, float, float]]:
    return [room_of(panel, side) for panel in panels]


def _views(panel: ArmPanel, widths: dict[Side, float], corner: tuple[float, float], top: float) -> Iterator[Element]:
    """Both views of a lifter, each in the middle of its cell, shoulders at one height."""
    x, y = corner[0] + MARGIN, corner[1]
    for side in SIDES:
        left, right, _, _ = room_of(panel, side)
        middle = x + widths[side] / 2
        yield letters(_SIDE_NAMES[side], middle, y - 6, "quiet", anchor="middle")
        yield from drawn_arm(panel, side, Frame(middle - _SCALE * (left + right) / 2, y + _SCALE * top, _SCALE))
        x += widths[side] + MARGIN


def _rows(panel: ArmPanel) -> list[tuple[str, str]]:
    """What is written below a lifter, by style."""
    demand = panel.demand.demand
    leading = _LEADING[demand.shoulder.demand.leading]
    behind = number(degrees(demand.postures.behind_the_body), 0)
    known, muscles = numbered(panel.demand.setup), ""
    if "elbow" in known and abs(demand.elbow.value) >= _HARDLY:
        muscles = ", extensors" if demand.elbow.value > 0 else ", flexors"
    shoulder, elbow, wrist = (
        _moment(joint, largest.value) if joint in known else f"{joint} next to nothing"
        for joint, largest in (
            ("shoulder", demand.shoulder_net),
            ("elbow", demand.elbow),
            ("wrist", demand.wrist),
        )
    )
    return [
        ("shoulder", f"{shoulder}, mostly {leading}; {_levers(panel, 'shoulder')}"),
        ("elbow", f"{elbow}{muscles}; {_levers(panel, 'elbow')}"),
        ("plain", f"{wrist}; upper arm {behind}° behind the body at most"),
    ]


def _moment(joint: str, moment: float) -> str:
    return f"{joint} {number(abs(moment))} N·m"


def _levers(panel: ArmPanel, joint: str) -> str:
    sizes = (f"{number(100 * lever_length(panel, joint, side))} cm {_SIDE_NAMES[side]}" for side in SIDES)
    return "lever " + ", ".join(sizes)


def _in_words(panel: ArmPanel) -> str:
    return f"{clean(panel.label)}: " + "; ".join(text for _, text in _rows(panel)) + "."
