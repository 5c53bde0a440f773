"""What the model of one arm says of the setups of data/setups.toml that are presses, pulls or raises, as plain numbers.

It is asked itself and not by an operation, which answers the largest moments of a repetition: studies speak of one part
of a lift, of the force of a hand and of where an elbow is.
"""

from __future__ import annotations

import importlib
from itertools import pairwise
from math import acos, degrees, hypot
from typing import TYPE_CHECKING, Any, Final, Protocol

if TYPE_CHECKING:
    from service.mechanics.arm.lifts import ArmSetup, ArmState

SCAPULAR_PLANE: Final = 30.0
"""Before the frontal plane, by convention [deg]."""

OF_ARM: Final = (
    "shoulder_net",
    "horizontal",
    "lowering",
    "elbow",
    "outward",
    "hand_share",
    "elbow_height",
    "elevation",
    "plane",
    "plane_off_scapular",
    "outward_rotation",
    "outward_rotation_at_90",
    "upper_arm_range",
)
"""Newton metres, metres, degrees and shares [1]: of the setup's point of the lift, or the largest of the repetition."""


class Described(Protocol):
    """What of a setup is of the arm: grip over biacromial breadth [1], hand moved across [m], point of the path."""

    @property
    def exercise(self) -> str: ...

    @property
    def grip(self) -> float | None: ...

    @property
    def touch(self) -> float: ...

    @property
    def point(self) -> int | None: ...


class OneArm:
    """The model of one arm of the process that this is made in; its modules are taken in when it is made."""

    def __init__(self) -> None:
        """Take in the modules."""
        at = "service.mechanics"
        names = ("body", "arm.lifts", "arm.pose", "arm.repetition", "arm.segments", "arm.vectors")
        self._body, self._lifts, self._pose, self._repetition, self._segments, self._vectors = (
            importlib.import_module(f"{at}.{name}") for name in names
        )

    def answer(
        self,
        lifter: dict[str, Any],
        described: Described,
        load: float,
        body_mass: float,
        outward: float = 0.0,
        touch: float = 0.0,
    ) -> dict[str, float]:
        """All numbers of a setup.

        Args:
            lifter: stature [cm] and sex
            described: the setup
            load: in both hands [kg]
            body_mass: of the lifter [kg]
            outward: added to the sideways force of the hand [1]
            touch: by which the hand is moved across besides [m]
        """
        body = self._body.build_body(body_mass, lifter["stature"] / 100, lifter["sex"])
        arm = self._segments.arm_of(body)
        technique = self._lifts.ArmTechnique(grip=described.grip, touch=described.touch + touch, outward_error=outward)
        setup = self._lifts.arm_setup(described.exercise, load, technique)
        whole = self._repetition.repetition(body, arm, setup)
        states = whole
        if described.point is not None:
            states = [self._lifts.state_at(body, arm, setup, part_of(setup, described.point))]
        weight = body.mass * self._body.GRAVITY / 2
        near_90 = min(whole, key=lambda state: abs(self._raised(state) - 90.0))
        first, last = whole[0].pose.upper_arm, whole[-1].pose.upper_arm
        return {
            "shoulder_net": max(state.moments.shoulder for state in states),
            "horizontal": max(abs(state.moments.horizontal) for state in states),
            "lowering": max(-state.moments.elevation for state in states),
            "elbow": max(abs(state.moments.elbow_extension or 0.0) for state in states),
            "outward": self._lifts.outward_of(setup),
            "hand_share": max(abs(state.force.z) for state in states) / weight,
            "elbow_height": min(state.pose.elbow.z for state in states),
            "elevation": max(map(self._raised, states)),
            "plane": max(map(self._plane, states)),
            "plane_off_scapular": max(abs(self._plane(state) - SCAPULAR_PLANE) for state in states),
            "outward_rotation": max(map(self._turned, states)),
            "outward_rotation_at_90": self._turned(near_90),
            "upper_arm_range": degrees(acos(self._vectors.dot(first, last))),
        }

    def _raised(self, state: ArmState) -> float:
        return degrees(self._pose.elevation(state.pose))

    def _plane(self, state: ArmState) -> float:
        return degrees(self._pose.plane_of_elevation(state.pose))

    def _turned(self, state: ArmState) -> float:
        turn = self._pose.outward_rotation(state.pose)
        return -180.0 if turn is None else degrees(turn)


def part_of(setup: ArmSetup, point: int) -> float:
    """Where a point of the lift's path is, of the whole way [1]."""
    path = setup.lift.path
    ways = [hypot(after.across - before.across, after.along - before.along) for before, after in pairwise(path)]
    return sum(ways[:point]) / sum(ways)
