"""What was seen of a lifter's posture, and how the lifter therefore most probably departs from the posture rule."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from service.mechanics.depth import Depth

SeenBy = Literal["eye", "phone_video", "inclinometer"]


class Seen(Struct, frozen=True, gc=False):
    """Angles at the bottom as they were seen.

    Attributes:
        shin_angle: shin from the vertical [rad]
        trunk_lean: line from hip to shoulder from the vertical [rad]
        thigh_angle: thigh above the horizontal [rad]
        by: how they were seen; None where that is not stated, which is refused
    """

    shin_angle: float | None
    trunk_lean: float | None
    thigh_angle: float | None
    by: SeenBy | None


class Departure(Struct, frozen=True, gc=False):
    """How a lifter departs from the rule of the exercise in which it was seen.

    Attributes:
        exercise: id of its posture rule
        shin_angle: shin at a level thigh beyond the rule [rad]
        depth: thigh above the level asked for [rad]
        balance: balance point beyond the rule, of the foot's length [1]
        proportion: by how much the thigh is longer and the trunk shorter than usual, in standard deviations, as far as
            they are not measured [1]
        asked: depth that was asked for when it was seen, None for the exercise's own
        misfit: furthest that an angle lies from what the others and the rule let expect, in standard deviations [1]
    """

    exercise: str
    shin_angle: float
    depth: float
    balance: float
    proportion: float
    asked: Depth | None = None
    misfit: float = 0.0
