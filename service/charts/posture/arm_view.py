"""Presses, pulls and raises from the side and from the front at one scale, with the levers of the load."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees
from typing import Final

from service.charts.elements.layout import LARGEST, Block
from service.charts.elements.text_layout import clean, number, wrapped
from service.charts.elements.theme import (
    BODY_SIZE,
    HEAD_SIZE,
    LINE_HEIGHT,
    MARGIN,
    Element,
    letters,
)
from service.charts.posture.arm_figure import drawn_arm
from service.charts.posture.arm_geometry import SIDES, ArmPanel, Side, lever_length, room_of
from service.charts.posture.figure import Frame
from service.charts.posture.view import SCALE, View, legend
from service.mechanics.arm.directions import numbered

_COLUMNS: Final = 2
_NARROWEST: Final = 580.0  # [px], of one lifter
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


def arm_view(panels: Sequence[ArmPanel]) -> View:
    """Lifters in presses and pulls, each from two sides, two of them in a row where a sheet is wide enough.

    Args:
        panels: of one lifter or of several

    Returns:
        A block for each row of lifters, and the legend, with the same numbers in their words.

    Raises:
        ValueError: without any panel
    """
    if not panels:
        raise ValueError("There is no lifter to draw.")
    widths = {side: SCALE * max(right - left for left, right, _, _ in _rooms(panels, side)) for side in SIDES}
    width = max(sum(widths.values()) + 3 * MARGIN, _NARROWEST)
    columns = min(len(panels), _COLUMNS if _COLUMNS * width <= LARGEST else 1)
    rows = [_row(panels[first : first + columns], widths, width) for first in range(0, len(panels), columns)]
    return View(columns * width, [*rows, legend(_LEGEND, columns * width)])


def _row(panels: Sequence[ArmPanel], widths: dict[Side, float], width: float) -> Block:
    heads = [wrapped(panel.label, width - 2 * MARGIN, HEAD_SIZE) for panel in panels]
    sides = [room for side in SIDES for room in _rooms(panels, side)]
    highest, lowest = max(room[3] for room in sides), min(room[2] for room in sides)
    above = LINE_HEIGHT * (max(map(len, heads)) + 1) + MARGIN / 2
    below = above + SCALE * (highest - lowest) + MARGIN / 2
    written = [_written(panel, width) for panel in panels]

    def drawn_row(top: float) -> Iterator[Element]:
        for column, (panel, lines, texts) in enumerate(zip(panels, heads, written, strict=True)):
            left = column * width
            for line_number, text in enumerate(lines):
                y = top + LINE_HEIGHT * (line_number + 0.8)
                yield letters(text, left + MARGIN, y, "strong", size=HEAD_SIZE)
            yield from _views(panel, widths, (left, top + above), highest)
            for line_number, (style, text) in enumerate(texts):
                yield letters(text, left + MARGIN, top + below + LINE_HEIGHT * (line_number + 0.8), style)

    return Block(below + LINE_HEIGHT * max(map(len, written)) + MARGIN, drawn_row, " ".join(map(_in_words, panels)))


def _written(panel: ArmPanel, width: float) -> list[tuple[str, str]]:
    """The lines below a lifter, by look."""
    return [(style, line) for style, text in _rows(panel) for line in wrapped(text, width - 2 * MARGIN, BODY_SIZE)]


def _rooms(panels: Sequence[ArmPanel], side: Side) -> list[tuple[float, float, float, float]]:
    return [room_of(panel, side) for panel in panels]


def _views(panel: ArmPanel, widths: dict[Side, float], corner: tuple[float, float], top: float) -> Iterator[Element]:
    """Both views of a lifter, each in the middle of its cell, shoulders at one height."""
    x, y = corner[0] + MARGIN, corner[1]
    for side in SIDES:
        left, right, _, _ = room_of(panel, side)
        middle = x + widths[side] / 2
        yield letters(_SIDE_NAMES[side], middle, y - 6, "quiet", anchor="middle")
        yield from drawn_arm(panel, side, Frame(middle - SCALE * (left + right) / 2, y + SCALE * top, SCALE))
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
