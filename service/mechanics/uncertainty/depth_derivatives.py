"""Derivatives of the thigh angle at the bottom, where depth is not stated as the thigh's own angle.

A stated knee flexion and the seat on a box are conditions that the bottom fulfils for any inputs. The total derivative
of the condition is nil, which gives the derivative of the thigh angle.
"""

from __future__ import annotations

from math import cos, sin

from msgspec import Struct

from service.mechanics.demand import Demand
from service.mechanics.depth import Depth


class LimbChange(Struct, frozen=True, gc=False):
    """Direct effect of an input on the limbs at an unchanged thigh angle.

    Attributes:
        shank: change of the length [m]
        thigh: change of the length [m]
        shin: change of the shin angle [rad]
    """

    shank: float = 0.0
    thigh: float = 0.0
    shin: float = 0.0


class Condition(Struct, frozen=True, gc=False):
    """Partial derivatives of the condition that the bottom fulfils, which is a height or an angle.

    Attributes:
        shank: with the length [1]
        thigh: with the length [1]
        shin: with the shin angle [m/rad or 1]
        depth: with the thigh angle, the shin following it [m/rad or 1]
    """

    shank: float
    thigh: float
    shin: float
    depth: float

    def shift(self, limbs: LimbChange) -> float:
        """Change of the thigh angle at the bottom.

        Args:
            limbs: direct effect of the input on the limbs

        Returns:
            change of the thigh angle [rad]
        """
        return -(self.shank * limbs.shank + self.thigh * limbs.thigh + self.shin * limbs.shin) / self.depth


def is_stated(demand: Demand, depth: Depth | None) -> bool:
    """Whether the thigh angle at the bottom is stated as such, so that no input moves it."""
    return "hip_flexion" in demand.limited_by or depth is None or depth.thigh_below_horizontal is not None


def is_stopped(demand: Demand, depth: Depth | None) -> bool:
    """Whether a box or the lifter's own hips end the movement, so that the bottom does not scatter."""
    return "hip_flexion" in demand.limited_by or (depth is not None and depth.box_height is not None)


def condition_of_bottom(demand: Demand, depth: Depth | None, shin_slope: float) -> Condition:
    """The derivatives of the condition that the bottom of a setup fulfils.

    Args:
        demand: the setup solved
        depth: as requested
        shin_slope: change of the shin angle at the bottom with the thigh angle [1]
    """
    if depth is not None and depth.knee_flexion is not None:
        return Condition(0.0, 0.0, 1.0, shin_slope - 1.0)
    body, posture = demand.body, demand.posture
    shank, thigh = cos(posture.shin_angle), sin(posture.thigh_angle)
    shin = -body.shank * sin(posture.shin_angle)
    rise = body.thigh * cos(posture.thigh_angle) + shin * shin_slope
    return Condition(shank, thigh, shin, rise)
