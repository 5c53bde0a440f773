"""A lifter's own measurements of the arm."""

from __future__ import annotations

from msgspec import Struct


class ArmLengths(Struct, frozen=True, gc=False):
    """A lifter's own measurements; None where none was taken.

    Attributes:
        shoulder_breadth: acromion to acromion [m]
        upper_arm: shoulder joint to elbow joint [m]
        forearm: elbow joint to wrist joint [m]
    """

    shoulder_breadth: float | None = None
    upper_arm: float | None = None
    forearm: float | None = None
