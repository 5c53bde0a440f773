"""Where the joints of one lifter in a press, a pull or a raise are, as seen from the side or from the front."""

from __future__ import annotations

from math import cos, hypot, radians, sin
from typing import Final, Literal

from msgspec import Struct

from service.mechanics.arm.lifts import ArmState, state_at
from service.mechanics.arm.segments import Arm, arm_of
from service.mechanics.arm.uncertain import UncertainArm
from service.mechanics.arm.vectors import Vector, times
from service.mechanics.body import Body
from service.mechanics.posture import Point

Side = Literal["side", "front"]
SIDES: Final[tuple[Side, Side]] = ("side", "front")
LEVERS: Final = ("shoulder", "elbow")

# Sizes for the eye only: the model has none. Fractions of stature unless said.
HALF_TRUNK: Final = 0.066
HALF_BENCH: Final = 0.018
HEAD_RADIUS: Final = 0.055
PLATE: Final = 0.05  # [m]
BAR_END: Final = 0.16  # [m], beyond the hands
ARROW: Final = 0.16  # [m]
_NECK: Final = 0.03
_AROUND_LIMBS: Final = 0.06  # [m]
_WAYS: Final = 8


class ArmPanel(Struct, frozen=True):
    """One lifter to draw, where most is asked of the shoulder.

    Attributes:
        label: of the setup
        body: of the lifter
        arm: of the lifter
        demand: of the lift
        state: the arm there
        way: the arm in parts of the repetition
    """

    label: str
    body: Body
    arm: Arm
    demand: UncertainArm
    state: ArmState
    way: tuple[ArmState, ...]


class Seen(Struct, frozen=True):
    """A lifter from one side, in its plane.

    Attributes:
        shoulders: the joint, from the front that of both arms
        elbows: likewise
        wrists: likewise
        grips: middles of the hands
        hip: of the trunk
        neck: of the trunk
        head: middle of the head
        force: direction of the load on each hand, as long as it shows in the plane
        way: of the hand
    """

    shoulders: list[Point]
    elbows: list[Point]
    wrists: list[Point]
    grips: list[Point]
    hip: Point
    neck: Point
    head: Point
    force: list[Point]
    way: list[list[Point]]


def arm_panel(label: str, body: Body, demand: UncertainArm) -> ArmPanel:
    """The panel that shows a lift where most is asked of the shoulder.

    Args:
        label: of the setup
        body: of the lifter
        demand: of the lift
    """
    arm = arm_of(body)
    state, *way = (
        state_at(body, arm, demand.setup, part)
        for part in (demand.demand.shoulder.part, *(step / _WAYS for step in range(_WAYS + 1)))
    )
    return ArmPanel(label, body, arm, demand, state, tuple(way))


def seen_from(panel: ArmPanel, side: Side) -> Seen:
    """A lifter from one side: forward to the right, or both arms about the midline.

    Args:
        panel: the lifter
        side: from which
    """
    pose, force = panel.state.pose, panel.state.force
    size = hypot(force.x, force.y, force.z) or 1.0
    push = times(1.0 / size, force)
    down = times(-panel.body.trunk, pose.trunk.head)
    above = times((_NECK + HEAD_RADIUS) * panel.body.stature, pose.trunk.head)
    origin = Vector(0.0, 0.0, 0.0)

    def both(one: Vector, *, place: bool = True) -> list[Point]:
        flat = in_plane(panel, one, side)
        if side == "side":
            return [flat]
        offset = panel.arm.shoulder_offset if place else 0.0
        return [Point(flat.x + offset, flat.y), Point(-flat.x - offset, flat.y)]

    return Seen(
        shoulders=both(origin),
        elbows=both(pose.elbow),
        wrists=both(pose.wrist),
        grips=both(pose.grip),
        hip=_middle(panel, down, side),
        neck=_middle(panel, origin, side),
        head=_middle(panel, above, side),
        force=both(push, place=False),
        way=[list(points) for points in zip(*(both(state.pose.grip) for state in panel.way), strict=True)],
    )


def lever(joint: Point, grip: Point, force: Point) -> Point:
    """The point of the load's line that is nearest to a joint.

    Args:
        joint: where it is
        grip: where the load pulls
        force: its direction
    """
    size = hypot(force.x, force.y)
    if size == 0.0:
        return grip
    x, y = force.x / size, force.y / size
    along = (joint.x - grip.x) * x + (joint.y - grip.y) * y
    return Point(grip.x + along * x, grip.y + along * y)


def lever_length(panel: ArmPanel, joint: str, side: Side) -> float:
    """How far the load's line passes a joint, as seen from one side [m].

    Args:
        panel: the lifter
        joint: one of LEVERS
        side: from which
    """
    seen = seen_from(panel, side)
    point = (seen.shoulders if joint == "shoulder" else seen.elbows)[0]
    foot = lever(point, seen.grips[0], seen.force[0])
    return hypot(foot.x - point.x, foot.y - point.y)


def room_of(panel: ArmPanel, side: Side) -> tuple[float, float, float, float]:
    """How much room a lifter takes from one side: left, right, bottom and top [m].

    Args:
        panel: the lifter
        side: from which
    """
    seen, stature = seen_from(panel, side), panel.body.stature
    trunk = (HALF_TRUNK + 2 * HALF_BENCH) * stature
    limbs = [*seen.elbows, *seen.wrists, *(point for way in seen.way for point in way)]
    around = [(seen.head, HEAD_RADIUS * stature), (seen.hip, trunk), (seen.neck, trunk)]
    around += [(point, _AROUND_LIMBS) for point in limbs]
    around += [(arrow_end(grip, push), PLATE / 2) for grip, push in zip(seen.grips, seen.force, strict=True)]
    if side == "front":
        end = max(abs(grip.x) for grip in seen.grips) + BAR_END
        around += [(Point(x, seen.grips[0].y), PLATE) for x in (-end, end)]
    return (
        min(point.x - by for point, by in around),
        max(point.x + by for point, by in around),
        min(point.y - by for point, by in around),
        max(point.y + by for point, by in around),
    )


def arrow_end(grip: Point, push: Point) -> Point:
    """Where the arrow of a force ends.

    Args:
        grip: where it acts
        push: its direction, as long as it shows
    """
    return Point(grip.x + ARROW * push.x, grip.y + ARROW * push.y)


def in_plane(panel: ArmPanel, one: Vector, side: Side) -> Point:
    """A point about the axes of `pose` in the plane of a view, the load's line turned to where it is.

    Args:
        panel: the lifter
        one: the point or direction
        side: from which it is seen
    """
    turn = radians(panel.demand.setup.lift.line)
    up = one.z * cos(turn) - one.y * sin(turn)
    back = one.y * cos(turn) + one.z * sin(turn)
    return Point(-back, up) if side == "side" else Point(one.x, up)


def _middle(panel: ArmPanel, one: Vector, side: Side) -> Point:
    flat = in_plane(panel, one, side)
    return flat if side == "side" else Point(0.0, flat.y)
