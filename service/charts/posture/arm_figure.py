"""One lifter in a press, a pull or a raise drawn to scale, with the load's force and its levers.

Joints are where the model has them. Head, limb thickness, bench and the ends of a bar are there to be recognised: the
model has none.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import Final

import drawsvg as draw

from service.charts.elements.palette import look_of
from service.charts.elements.theme import Element, coordinate, line
from service.charts.posture.arm_geometry import (
    BAR_END,
    HALF_BENCH,
    HALF_TRUNK,
    HEAD_RADIUS,
    LEVERS,
    PLATE,
    ArmPanel,
    Seen,
    Side,
    arrow_end,
    in_plane,
    lever,
    seen_from,
)
from service.charts.posture.figure import Frame, disc, limb
from service.mechanics.posture import Point

# Half widths of the limbs at their two ends, as fractions of stature; for the eye only.
_UPPER_ARM: Final = (0.028, 0.023)
_FOREARM: Final = (0.023, 0.014)
_TRUNK: Final = (0.055, HALF_TRUNK)
_ARROW_HEAD: Final = 6.0  # [px]
_LEAST_LEVER: Final = 0.004  # [m], shorter ones are no line to see
_LYING_UP_TO: Final = 75.0  # [deg]


def drawn_arm(panel: ArmPanel, side: Side, frame: Frame) -> Iterator[Element]:
    """A lifter from one side, from back to front.

    Args:
        panel: the lifter
        side: from which
        frame: of the drawing, its origin between the shoulder joints
    """
    seen = seen_from(panel, side)
    yield from _trunk(panel, seen, side, frame)
    for way in seen.way:
        yield draw.Lines(*(coordinate(value) for point in way for value in frame.at(point)), **look_of("guide"))
    yield from _limbs(panel, seen, frame)
    yield from _load(panel, seen, side, frame)
    for grip, push in zip(seen.grips, seen.force, strict=True):
        yield from _arrow(grip, push, frame)
    for joint, points in zip(LEVERS, (seen.shoulders, seen.elbows), strict=True):
        yield from _lever(joint, points[0], seen, side, frame)


def _trunk(panel: ArmPanel, seen: Seen, side: Side, frame: Frame) -> Iterator[Element]:
    """Bench, trunk, from the front the line of the shoulders, and head."""
    stature = panel.body.stature
    if side == "side":
        yield from _bench(panel, seen, frame)
    if _apart(seen.hip, seen.neck) > 2 * HALF_TRUNK * stature:
        yield limb(seen.hip, seen.neck, (_TRUNK[0] * stature, _TRUNK[1] * stature), frame)
    if side == "front":
        yield limb(seen.shoulders[0], seen.shoulders[1], (_UPPER_ARM[0] * stature, _UPPER_ARM[0] * stature), frame)
    yield disc(seen.head, HEAD_RADIUS * stature, "limb", frame)


def _limbs(panel: ArmPanel, seen: Seen, frame: Frame) -> Iterator[Element]:
    stature = panel.body.stature
    arms = list(zip(seen.shoulders, seen.elbows, seen.wrists, seen.grips, strict=True))
    for shoulder, elbow, wrist, _ in arms:
        for start, end, (near, far) in ((shoulder, elbow, _UPPER_ARM), (elbow, wrist, _FOREARM)):
            if _apart(start, end) > 2 * near * stature:
                yield limb(start, end, (near * stature, far * stature), frame)
    for number, (shoulder, elbow, wrist, grip) in enumerate(arms):
        for name, start, end in (("upper_arm", shoulder, elbow), ("forearm", elbow, wrist), ("hand", wrist, grip)):
            yield line(*frame.at(start), *frame.at(end), "bone", data_segment=f"{name}-{number}")
        for point in (shoulder, elbow, wrist):
            yield disc(point, 0.012, "joint", frame)


def _load(panel: ArmPanel, seen: Seen, side: Side, frame: Frame) -> Iterator[Element]:
    """What the hands hold: from the front a bar from beyond one to beyond the other, or something in each."""
    lift = panel.demand.setup.lift
    plates = _has_plates(panel)
    if side == "side" or lift.hands != "fixed":
        radius = PLATE if plates else PLATE / 2
        for grip in seen.grips:
            yield disc(grip, radius, "load", frame)
            yield disc(grip, radius / 4, "hub", frame)
        return
    out, height = max(abs(grip.x) for grip in seen.grips) + BAR_END, seen.grips[0].y
    yield line(*frame.at(Point(-out, height)), *frame.at(Point(out, height)), "belt")
    for end in (-out, out) if plates else ():
        yield line(*frame.at(Point(end, height - PLATE)), *frame.at(Point(end, height + PLATE)), "belt")


def _has_plates(panel: ArmPanel) -> bool:
    """Whether a loaded bar is what the hands hold."""
    lift = panel.demand.setup.lift
    return lift.hands == "fixed" and lift.pull == "down" and not lift.line


def _bench(panel: ArmPanel, seen: Seen, frame: Frame) -> Iterator[Element]:
    """The bench under a lying trunk, or under the chest of one face down that is carried."""
    stature, lift = panel.body.stature, panel.demand.setup.lift
    behind = lift.trunk_angle < _LYING_UP_TO and lift.pull == "down"
    before = lift.id.startswith("chest_supported")
    if not behind and not before:
        return
    front = in_plane(panel, panel.state.pose.trunk.front, "side")
    off = (HALF_TRUNK + HALF_BENCH) * stature * (1.0 if before else -1.0)
    start, end = (
        Point(one.x + off * front.x, one.y + off * front.y) for one in (seen.hip, seen.head if behind else seen.neck)
    )
    yield limb(start, end, (HALF_BENCH * stature, HALF_BENCH * stature), frame)


def _arrow(grip: Point, push: Point, frame: Frame) -> Iterator[Element]:
    """The load's force on a hand, as far as it shows in the plane."""
    end = arrow_end(grip, push)
    (x1, y1), (x2, y2) = frame.at(grip), frame.at(end)
    size = hypot(x2 - x1, y2 - y1)
    if size < 2 * _ARROW_HEAD:
        return
    yield line(x1, y1, x2, y2, "force", data_force="hand")
    back_x, back_y = _ARROW_HEAD * (x1 - x2) / size, _ARROW_HEAD * (y1 - y2) / size
    corners = [x2, y2]
    for sign in (0.6, -0.6):
        corners += [x2 + back_x + sign * back_y, y2 + back_y - sign * back_x]
    yield draw.Lines(*map(coordinate, corners), close=True, **look_of("balance"))


def _lever(joint: str, point: Point, seen: Seen, side: Side, frame: Frame) -> Iterator[Element]:
    """From a joint to the load's line, which goes on to there."""
    foot = lever(point, seen.grips[0], seen.force[0])
    if _apart(foot, point) < _LEAST_LEVER:
        return
    yield line(*frame.at(seen.grips[0]), *frame.at(foot), f"weight {joint}")
    yield line(*frame.at(point), *frame.at(foot), f"arm {joint}", data_lever=f"{joint}-{side}")


def _apart(one: Point, other: Point) -> float:
    return hypot(other.x - one.x, other.y - one.y)
