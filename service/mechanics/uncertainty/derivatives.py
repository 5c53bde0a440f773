"""Derivatives of balance: how one posture changes with the terms of its statics."""

from __future__ import annotations

from math import cos, sin

from msgspec import Struct

from service.mechanics.body import GRAVITY
from service.mechanics.statics import Solution, Statics


class Deviation(Struct, frozen=True, gc=False):
    """Changes of the results with one input.

    Attributes:
        ankle: change of the moment, per leg [N·m]
        knee: change of the moment, per leg [N·m]
        hip: change of the moment, per leg [N·m]
        lumbosacral: change of the moment [N·m]
        trunk_lean: change of the trunk's angle [rad]
        hip_x: change of the hip's position ahead of the load's line [m]
    """

    ankle: float
    knee: float
    hip: float
    lumbosacral: float
    trunk_lean: float
    hip_x: float

    def plus(self, other: Deviation, factor: float) -> Deviation:
        """The deviation with a multiple of another one added.

        Args:
            other: the one to add
            factor: its multiple [1], or in the unit of the input where `other` is a derivative
        """
        return Deviation(
            self.ankle + factor * other.ankle,
            self.knee + factor * other.knee,
            self.hip + factor * other.hip,
            self.lumbosacral + factor * other.lumbosacral,
            self.trunk_lean + factor * other.trunk_lean,
            self.hip_x + factor * other.hip_x,
        )


NIL = Deviation(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


class Response(Struct, frozen=True, gc=False):
    """The derivatives at one posture.

    Attributes:
        per_leg: factor from a first moment of the computed legs to a moment per leg [m/s²]
        knee_per_reach: change of the knee's first moment with the knee's reach [kg]
        both_per_reach: change of the sum of the first moments at knee and hip with the thigh's reach [kg]
        hanging: load that keeps to its own plumb line [kg]
        spine_hanging: load on its own plumb line that the spine carries [kg]
        lean_per_moment: change of the trunk lean with the first moment that the hip has to hold, nil where the lean is
            chosen [rad/(kg·m)]
        spine_per_lean: change of the first moment at the lumbosacral joint with the lean [kg·m/rad]
    """

    per_leg: float
    knee_per_reach: float
    both_per_reach: float
    hanging: float
    spine_hanging: float
    lean_per_moment: float
    spine_per_lean: float

    def to(
        self,
        *,
        ankle: float = 0.0,
        ankle_x: float = 0.0,
        knee_reach: float = 0.0,
        thigh_reach: float = 0.0,
        hip_moment: float = 0.0,
        spine_moment: float = 0.0,
    ) -> Deviation:
        """The response to small changes.

        Args:
            ankle: change of the first moment at the ankle [kg·m]
            ankle_x: change of the ankle's position ahead of the load's line [m]
            knee_reach: change of the knee's distance ahead of the ankle [m]
            thigh_reach: change of the hip's distance behind the knee [m]
            hip_moment: change of the first moment about the hip of upper body and load at an unchanged lean [kg·m]
            spine_moment: change of their first moment about the lumbosacral joint at an unchanged lean [kg·m]
        """
        knee = self.knee_per_reach * knee_reach - ankle
        hip = self.both_per_reach * thigh_reach - knee
        hip_x = ankle_x + knee_reach - thigh_reach
        lean = self.lean_per_moment * (hip + self.hanging * hip_x - hip_moment)
        spine = self.spine_per_lean * lean + spine_moment - self.spine_hanging * hip_x
        per_leg = self.per_leg
        return Deviation(per_leg * ankle, per_leg * knee, per_leg * hip, GRAVITY * spine, lean, hip_x)


def response_at(statics: Statics, solution: Solution) -> Response:
    """The derivatives at a posture that is not at the edge of tipping, where the lean changes without bounds."""
    legs, upper = statics.legs, statics.upper
    lean = solution.trunk_lean
    chosen = statics.setup.family == "split"
    return Response(
        statics.per_leg,
        legs.knee_per_reach,
        legs.both_per_reach,
        upper.hanging,
        upper.spine_hanging,
        0.0 if chosen else 1.0 / (upper.amplitude * cos(lean + upper.offset)),
        upper.spine_along * cos(lean) - upper.spine_across * sin(lean),
    )
