"""Lifters side by side at one scale, with the plumb line over the balance point and the moment arms to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, degrees, sin
from typing import Final

import drawsvg as draw

from service.charts.elements.layout import LARGEST, Block, gap
from service.charts.elements.palette import look_of
from service.charts.elements.text_layout import clean, number, width_of, wrapped
from service.charts.elements.theme import (
    BODY_SIZE,
    HEAD_SIZE,
    LINE_HEIGHT,
    MARGIN,
    Element,
    coordinate,
    letters,
    line,
)
from service.charts.posture.figure import (
    ARM_JOINTS,
    Extent,
    Frame,
    Panel,
    arm_end,
    drawn,
    extent,
    heel_lift,
    joint_of,
)
from service.charts.posture.view import SCALE, View, legend
from service.mechanics.posture import Point

JOINT_NAMES: Final = {"knee": "knee", "hip": "hip", "lumbosacral": "lower back"}

_LEFT: Final = 170.0  # [px], room for the labels of hip, lower back and trunk lean
_RIGHT: Final = 116.0  # [px], room for the label of the knee
_UNDER: Final = 42.0  # [px], floor and what is written below it
_LEAN_ARC: Final = 0.55  # of the trunk's length
_LEAST_LIFT: Final = 1e-6  # [m]
_LEGEND: Final = (
    "Dashed: plumb line over the balance point of the feet. Thick: moment arms, from knee and hip to the plumb line, "
    "from the lower back to the line of all weight above it (short dashes); negative where they load the flexors."
)


def side_view(panels: Sequence[Panel]) -> View:
    """Lifters seen from their right side, to one scale, with trunk lean and moment arms.

    Args:
        panels: of the lifters, as many of which stand side by side as a sheet is wide

    Returns:
        A block for each row of lifters, and the legend, with the same numbers in their words.

    Raises:
        ValueError: without any panel
    """
    if not panels:
        raise ValueError("There is no lifter to draw.")
    rooms = [extent(panel) for panel in panels]
    room = Extent(min(one.left for one in rooms), max(one.right for one in rooms), max(one.top for one in rooms))
    width = _LEFT + SCALE * (room.right - room.left) + _RIGHT
    columns = min(len(panels), int(LARGEST // width))
    rows = [_row(panels[first : first + columns], room, width) for first in range(0, len(panels), columns)]
    return View(columns * width, [*rows, gap(MARGIN / 2), legend(_LEGEND, columns * width)])


def _row(panels: Sequence[Panel], room: Extent, width: float) -> Block:
    heads = [_head(panel, width) for panel in panels]
    head = LINE_HEIGHT * max(map(len, heads)) + MARGIN

    def drawn_row(top: float) -> Iterator[Element]:
        for column, (panel, lines) in enumerate(zip(panels, heads, strict=True)):
            left = column * width
            for number_of_line, (text, style, size) in enumerate(lines):
                y = top + LINE_HEIGHT * (number_of_line + 0.8)
                yield letters(text, left + MARGIN, y, style, size=size)
            frame = Frame(left + _LEFT - SCALE * room.left, top + head + SCALE * room.top, SCALE)
            yield from _panel(panel, frame, left, left + width, top + head)

    return Block(head + SCALE * room.top + _UNDER, drawn_row, " ".join(map(_in_words, panels)))


def _head(panel: Panel, width: float) -> list[tuple[str, str, int]]:
    """The lines above a lifter, each with its look and its size [px]."""
    return [
        *((text, "strong", HEAD_SIZE) for text in wrapped(panel.label, width - 2 * MARGIN, HEAD_SIZE)),
        *((text, "quiet", BODY_SIZE) for text in _remarks(panel)),
    ]


def _remarks(panel: Panel) -> list[str]:
    sentences = []
    if panel.posture.limited_by:
        sentences.append("limited by " + ", ".join(limit.replace("_", " ") for limit in panel.posture.limited_by))
    if panel.lead_leg:
        sentences.append("lead leg only")
    return sentences


def _panel(panel: Panel, frame: Frame, left: float, right: float, top: float) -> Iterator[Element]:
    posture = panel.posture
    yield line(left + MARGIN, frame.y, right - MARGIN, frame.y, "floor")
    yield from drawn(panel, frame)
    balance_x, floor = frame.at(Point(posture.balance_point, 0.0))
    yield line(balance_x, top, balance_x, floor, "plumb")
    yield draw.Lines(
        *map(coordinate, (balance_x, floor + 2, balance_x - 6, floor + 12, balance_x + 6, floor + 12)),
        close=True,
        **look_of("balance"),
    )
    for joint in ARM_JOINTS:
        yield from _arm(panel, joint, frame)
    yield from _lean(panel, frame)
    yield from _labels(panel, frame, left)
    lift = heel_lift(panel)
    if lift > _LEAST_LIFT:
        yield letters(f"heel lift {number(100 * lift)} cm", frame.x - 8, floor + LINE_HEIGHT, "quiet", anchor="end")


def _arm(panel: Panel, joint: str, frame: Frame) -> Iterator[Element]:
    """A moment arm: a thick line from the joint to the line of the weight, with a tick at that end."""
    point = joint_of(panel.posture, joint)
    x1, y = frame.at(point)
    x2, _ = frame.at(Point(arm_end(panel, joint), point.y))
    yield line(x1, y, x2, y, f"arm {joint}", data_arm=joint)
    if joint == "lumbosacral":
        yield line(x2, y - 34, x2, y + 8, f"weight {joint}")
    else:
        yield line(x2, y - 5, x2, y + 5, f"arm {joint}")


def _lean(panel: Panel, frame: Frame) -> Iterator[Element]:
    """The vertical through the hip and the arc from it to the trunk."""
    posture = panel.posture
    reach = _LEAN_ARC * panel.body.trunk
    x, y = frame.at(posture.hip)
    high_x, high_y = frame.at(Point(posture.hip.x, posture.hip.y + 1.15 * reach))
    yield line(x, y, high_x, high_y, "guide")
    steps = 16
    arc = [
        frame.at(Point(posture.hip.x + reach * sin(angle), posture.hip.y + reach * cos(angle)))
        for angle in (posture.trunk_lean * step / steps for step in range(steps + 1))
    ]
    yield draw.Lines(*(coordinate(value) for point in arc for value in point), **look_of("bone"))


def _labels(panel: Panel, frame: Frame, left: float) -> Iterator[Element]:
    """Hip, lower back and lean in a column on the left, the knee on the right; each with a thin line to its joint."""
    posture = panel.posture
    reach = _LEAN_ARC * panel.body.trunk
    column = [
        ("hip", _arm_text(panel, "hip"), frame.at(posture.hip)),
        ("lumbosacral", _arm_text(panel, "lumbosacral"), frame.at(posture.lumbosacral)),
        ("", f"trunk lean {_degrees(posture.trunk_lean)}", frame.at(Point(posture.hip.x, posture.hip.y + reach))),
    ]
    base = float("inf")
    for style, text, (x, y) in column:
        base = min(base - LINE_HEIGHT, y + (LINE_HEIGHT if style == "hip" else 0.0))
        end = max(left + MARGIN + width_of(text, BODY_SIZE), left + _LEFT - 22)
        yield line(end + 4, base - 4, x, y, "leader")
        yield letters(text, end, base, style, anchor="end")
    x, y = frame.at(posture.knee)
    end, _ = frame.at(Point(arm_end(panel, "knee"), posture.knee.y))
    far = max(x + 0.066 * panel.body.stature * frame.scale, end + 10)
    yield line(x, y, far, y, "leader")
    yield letters(_arm_text(panel, "knee"), far + 4, y + 4, "knee")


def _arm_text(panel: Panel, joint: str) -> str:
    return f"{JOINT_NAMES[joint]} {number(100 * panel.moment_arms[joint])} cm"


def _degrees(angle: float) -> str:
    return f"{number(degrees(angle), 0)}°"


def _in_words(panel: Panel) -> str:
    posture = panel.posture
    sentences = [
        f"trunk lean {_degrees(posture.trunk_lean)}",
        f"shin angle {_degrees(posture.shin_angle)}",
        f"knee flexion {_degrees(posture.knee_flexion)}",
        *(f"moment arm of the {_arm_text(panel, joint)}" for joint in ARM_JOINTS),
    ]
    lift = heel_lift(panel)
    if lift > _LEAST_LIFT:
        sentences.append(f"heel lift {number(100 * lift)} cm")
    return f"{clean(panel.label)}: " + ", ".join([*sentences, *_remarks(panel)]) + "."
