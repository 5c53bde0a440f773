"""One lifter drawn to scale from a posture: limbs, head, load, floor, plumb line and moment arms.

Joints are where the model has them. Limb thickness, head and hands are there to be recognised: the model has none.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import asin, cos, hypot, sin
from typing import Final

import drawsvg as draw
from msgspec import Struct
from msgspec.structs import replace

from service.charts.elements.palette import look_of
from service.charts.elements.theme import Element, coordinate, line
from service.knowledge.posture_rules import CarryKind
from service.mechanics.body import Body
from service.mechanics.demand import Demand
from service.mechanics.posture import Point, Posture

ARM_JOINTS: Final = ("knee", "hip", "lumbosacral")

# Half widths of the limbs at their two ends, as fractions of stature; for the eye only.
_SHANK: Final = (0.019, 0.031)
_THIGH: Final = (0.034, 0.050)
_TRUNK: Final = (0.055, 0.066)
_FOOT: Final = 0.009
_HEAD_SHARE: Final = 0.70  # of what is above the shoulder, the rest being neck
_ABOVE_SHOULDER: Final = (0.14, 0.22)  # of stature, whatever the measured lengths leave
_LOAD_RADIUS: Final = 0.05  # [m]


class Panel(Struct, frozen=True):
    """One lifter to draw.

    Attributes:
        label: of the setup
        posture: as solved
        body: of the lifter
        moment_arms: of knee, hip and lumbosacral joint, positive where they load the extensors [m]
        carry: how the load is carried
        load: on the implement; none is drawn at nil [kg]
        lead_leg: whether the leg drawn is the lead leg of a split stance
    """

    label: str
    posture: Posture
    body: Body
    moment_arms: Mapping[str, float]
    carry: CarryKind = "trunk"
    load: float = 1.0
    lead_leg: bool = False


class Frame(Struct, frozen=True):
    """From the model's coordinates to those of the drawing.

    Attributes:
        x: of the model's origin, the heel [px]
        y: of the model's origin, the floor [px]
        scale: of the drawing [px/m]
    """

    x: float
    y: float
    scale: float

    def at(self, point: Point) -> tuple[float, float]:
        """Where a point of the model is drawn.

        Args:
            point: of the model [m]

        Returns:
            Its coordinates across and down [px].
        """
        return self.x + self.scale * point.x, self.y - self.scale * point.y


class Extent(Struct, frozen=True):
    """How far a drawn lifter reaches.

    Attributes:
        left: of the heel, negative behind it [m]
        right: of the heel [m]
        top: above the floor [m]
    """

    left: float
    right: float
    top: float


def panel_for(label: str, body: Body, demand: Demand) -> Panel:
    """The panel that shows a demand's posture at the bottom, with its moment arms."""
    return Panel(
        label,
        # the demand also knows the limits that stopped the descent
        replace(demand.posture, limited_by=demand.limited_by),
        body,
        {joint: getattr(demand.moments, f"{joint}_arm") for joint in ARM_JOINTS},
        demand.setup.carry.kind,
        demand.load,
        demand.family == "split",
    )


def heel_lift(panel: Panel) -> float:
    """Height of the solid lift under the heel, from how far the foot is tipped.

    Args:
        panel: the lifter

    Returns:
        The height [m].
    """
    return panel.body.ball_from_heel * sin(_pitch(panel.posture))


def joint_of(posture: Posture, joint: str) -> Point:
    """Where a joint is."""
    point: Point = getattr(posture, joint)
    return point


def arm_end(panel: Panel, joint: str) -> float:
    """Where a moment arm ends: a line behind the knee loads it, one ahead of the other joints.

    Args:
        panel: the lifter
        joint: one of ARM_JOINTS

    Returns:
        The distance ahead of the heel [m].
    """
    forward = -1.0 if joint == "knee" else 1.0
    return joint_of(panel.posture, joint).x + forward * panel.moment_arms[joint]


def extent(panel: Panel) -> Extent:
    """How much room a lifter takes.

    Args:
        panel: the lifter

    Returns:
        Its ends [m].
    """
    posture, body = panel.posture, panel.body
    half = body.stature * max(_TRUNK)
    centre, radius = _head(panel)
    load = load_centre(panel)
    hands = [point for point in (_hands(panel),) if point is not None]
    xs = [
        0.0,
        body.foot,
        posture.hip.x - half,
        posture.knee.x + half,
        posture.shoulder.x - half,
        posture.shoulder.x + half,
        centre.x - radius,
        centre.x + radius,
        load.x - _LOAD_RADIUS,
        load.x + _LOAD_RADIUS,
        *(hand.x for hand in hands),
        *(arm_end(panel, joint) for joint in ARM_JOINTS),
    ]
    return Extent(min(xs), max(xs), max(centre.y + radius, posture.hip.y + half, load.y + _LOAD_RADIUS))


def load_centre(panel: Panel) -> Point:
    """Where the load is drawn: where it acts, or in the hands below the shoulder where it hangs freely."""
    point = panel.posture.load_point
    return Point(point.x, point.y - panel.body.arm) if panel.carry == "hands_at_shoulder" else point


def drawn(panel: Panel, frame: Frame) -> Iterator[Element]:
    """The lifter's parts from back to front."""
    posture, stature = panel.posture, panel.body.stature
    centre, radius = _head(panel)
    yield from _foot(panel, frame)
    yield limb(posture.shoulder, centre, (0.02 * stature, 0.02 * stature), frame)
    yield limb(posture.ankle, posture.knee, (_SHANK[0] * stature, _SHANK[1] * stature), frame)
    yield limb(posture.knee, posture.hip, (_THIGH[0] * stature, _THIGH[1] * stature), frame)
    yield limb(posture.hip, posture.shoulder, (_TRUNK[0] * stature, _TRUNK[1] * stature), frame)
    yield disc(centre, radius, "limb", frame)
    for name, start, end in (
        ("shank", posture.ankle, posture.knee),
        ("thigh", posture.knee, posture.hip),
        ("trunk", posture.hip, posture.shoulder),
    ):
        yield line(*frame.at(start), *frame.at(end), "bone", data_segment=name)
    hands = _hands(panel)
    if hands is not None:
        yield line(*frame.at(posture.arms_from), *frame.at(hands), "bone", data_segment="arm")
    for point in (posture.ankle, posture.knee, posture.hip, posture.lumbosacral, posture.shoulder):
        yield disc(point, 0.016, "joint", frame)
    if panel.load > 0.0:
        yield from _load(panel, frame)


def _load(panel: Panel, frame: Frame) -> Iterator[Element]:
    if panel.carry == "pelvis":
        hip, half = panel.posture.hip, _TRUNK[0] * panel.body.stature * 1.15
        lean = panel.posture.trunk_lean
        front = Point(hip.x + half * cos(lean), hip.y - half * sin(lean))
        yield line(*frame.at(Point(hip.x - half * cos(lean), hip.y + half * sin(lean))), *frame.at(front), "belt")
        return
    centre = load_centre(panel)
    yield disc(centre, _LOAD_RADIUS, "load", frame)
    yield disc(centre, _LOAD_RADIUS / 4, "hub", frame)


def _foot(panel: Panel, frame: Frame) -> Iterator[Element]:
    """Heel, ball and toe; the foot is tipped about its ball, and what lies under the heel is drawn solid."""
    body, pitch = panel.body, _pitch(panel.posture)
    lift = heel_lift(panel)
    ball = Point(body.ball_from_heel, 0.0)
    heel = Point(ball.x - body.ball_from_heel * cos(pitch), lift)
    if lift > 0.0:
        yield _outline([heel, Point(heel.x, 0.0), ball], "lift", frame)
    thick = 2 * _FOOT * body.stature
    instep = Point(panel.posture.ankle.x + 0.25 * body.foot, panel.posture.ankle.y * 0.75)
    toe = Point(body.foot, 0.0)
    achilles = Point(heel.x, panel.posture.ankle.y)
    yield _outline([heel, achilles, panel.posture.ankle, instep, Point(toe.x, thick), toe, ball], "limb", frame)


def _head(panel: Panel) -> tuple[Point, float]:
    """Centre and radius [m] of the head: what the segments leave of the stature, less the neck, along the trunk."""
    body, posture = panel.body, panel.posture
    left = body.stature - body.ankle_height - body.shank - body.thigh - body.trunk
    above = min(max(left, _ABOVE_SHOULDER[0] * body.stature), _ABOVE_SHOULDER[1] * body.stature)
    radius = _HEAD_SHARE * above / 2
    reach, lean = above - radius, posture.trunk_lean
    return Point(posture.shoulder.x + reach * sin(lean), posture.shoulder.y + reach * cos(lean)), radius


def _hands(panel: Panel) -> Point | None:
    """Where the hands of straight arms are; none are drawn at a bar on the shoulders."""
    if panel.carry == "trunk":
        return None
    if panel.carry == "pelvis":
        shoulder = panel.posture.shoulder
        return Point(shoulder.x + panel.body.arm, shoulder.y)
    return load_centre(panel)


def _pitch(posture: Posture) -> float:
    return posture.shin_angle - posture.ankle_dorsiflexion


def limb(start: Point, end: Point, half_widths: tuple[float, float], frame: Frame) -> Element:
    """A limb with rounded ends that narrows from one half width to the other: the outline of two discs.

    Args:
        start: of the model
        end: of the model
        half_widths: at its two ends [m]
        frame: of the drawing
    """
    (x1, y1), (x2, y2) = frame.at(start), frame.at(end)
    r1, r2 = (frame.scale * half for half in half_widths)
    length = hypot(x2 - x1, y2 - y1)
    ahead = ((x2 - x1) / length, (y2 - y1) / length)
    slope = asin((r1 - r2) / length)
    path = draw.Path(**look_of("limb"))
    corners = []
    for side in (1.0, -1.0):
        normal = (
            ahead[0] * sin(slope) - side * ahead[1] * cos(slope),
            ahead[1] * sin(slope) + side * ahead[0] * cos(slope),
        )
        corners.append(
            [(x1 + r1 * normal[0], y1 + r1 * normal[1]), (x2 + r2 * normal[0], y2 + r2 * normal[1])],
        )
    (start_one, end_one), (start_two, end_two) = ([(coordinate(x), coordinate(y)) for x, y in side] for side in corners)
    path.M(*start_one).L(*end_one)
    path.A(coordinate(r2), coordinate(r2), 0, int(r2 > r1), 0, *end_two)
    path.L(*start_two)
    path.A(coordinate(r1), coordinate(r1), 0, int(r1 > r2), 0, *start_one)
    return path.Z()


def disc(centre: Point, radius: float, style: str, frame: Frame) -> Element:
    """A disc.

    Args:
        centre: of the model
        radius: of it [m]
        style: names of looks
        frame: of the drawing
    """
    x, y = frame.at(centre)
    return draw.Circle(coordinate(x), coordinate(y), coordinate(frame.scale * radius), **look_of(style))


def _outline(points: list[Point], style: str, frame: Frame) -> Element:
    return draw.Lines(
        *(coordinate(value) for point in points for value in frame.at(point)), close=True, **look_of(style)
    )
