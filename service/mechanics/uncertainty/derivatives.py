"""How one posture answers to small changes of what its statics are made of: the derivatives of balance."""

from __future__ import annotations

from math import cos, sin

from msgspec import Struct

from service.mechanics.body import GRAVITY
from service.mechanics.statics import Solution, Statics

Row = tuple[float, float, float, float, float, float]
"""Changes of the moments at ankle, knee, hip and lumbosacral joint [N·m], of the trunk lean [rad], and of the hip's
place ahead of the load's line [m]."""

NIL: Row = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


class Response(Struct, frozen=True, gc=False):
    """The derivatives at one posture.

    lean_per_moment: change of the trunk lean for each first moment more that the hip has to hold [rad/(kg·m)], nil
    where the lean is chosen; spine_per_lean: of the first moment at the lumbosacral joint for the lean [kg·m/rad]; the
    rest as of LegStatics and UpperBodyStatics.
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
    ) -> Row:
        """The answer to small changes.

        ankle: of the first moment there [kg·m]; ankle_x: of its place ahead of the load's line, knee_reach: of the knee
        ahead of the ankle, thigh_reach: of the hip behind the knee [m]; hip_moment, spine_moment: of what the upper
        body and its load supply at an unchanged lean [kg·m].
        """
        knee = self.knee_per_reach * knee_reach - ankle
        hip = self.both_per_reach * thigh_reach - knee
        hip_x = ankle_x + knee_reach - thigh_reach
        lean = self.lean_per_moment * (hip + self.hanging * hip_x - hip_moment)
        spine = self.spine_per_lean * lean + spine_moment - self.spine_hanging * hip_x
        per_leg = self.per_leg
        return (per_leg * ankle, per_leg * knee, per_leg * hip, GRAVITY * spine, lean, hip_x)


def response_at(statics: Statics, solution: Solution) -> Response:
    """The derivatives at a posture that is not at the edge of tipping, where the lean would answer without bounds."""
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


def with_share(row: Row, other: Row, share: float) -> Row:
    """A row with a multiple of another one added."""
    return (
        row[0] + share * other[0],
        row[1] + share * other[1],
        row[2] + share * other[2],
        row[3] + share * other[3],
        row[4] + share * other[4],
        row[5] + share * other[5],
    )
