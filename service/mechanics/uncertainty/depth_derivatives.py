"""Derivatives of the thigh angle at the bottom, where depth is not stated as the thigh's own angle.

A stated knee flexion, the seat on a box and straight arms at a bar are conditions that the bottom fulfils for any
inputs. The total derivative of the condition is nil, which gives the derivative of the thigh angle.
"""

from __future__ import annotations

from math import cos, sin

from msgspec import Struct

from service.knowledge.posture_rules import POSTURE_RULES
from service.mechanics.balance import hang_below
from service.mechanics.demand import Demand
from service.mechanics.depth import Depth
from service.mechanics.uncertainty.derivatives import Deviation


class LimbChange(Struct, frozen=True, gc=False):
    """Direct effect of an input on the limbs at an unchanged thigh angle.

    Attributes:
        shank: change of the length [m]
        thigh: change of the length [m]
        trunk: change of the length [m]
        shin: change of the shin angle [rad]
    """

    shank: float = 0.0
    thigh: float = 0.0
    trunk: float = 0.0
    shin: float = 0.0


class Condition(Struct, frozen=True, gc=False):
    """Partial derivatives of the condition that the bottom fulfils, which is a height or an angle.

    Attributes:
        shank: with the length [1]
        thigh: with the length [1]
        trunk: with the length [1]
        shin: with the shin angle [m/rad or 1]
        lean: with the trunk lean that balance requires [m/rad or 1]
        hip_x: with the position of the hip that balance requires [1]
        depth: with the thigh angle, shin, lean and hip following it [m/rad or 1]
    """

    shank: float
    thigh: float
    trunk: float
    shin: float
    lean: float
    hip_x: float
    depth: float

    def shift(self, limbs: LimbChange, deviation: Deviation) -> float:
        """Change of the thigh angle at the bottom.

        Args:
            limbs: direct effect of the input on the limbs
            deviation: response of balance at an unchanged thigh angle

        Returns:
            change of the thigh angle [rad]
        """
        direct = self.shank * limbs.shank + self.thigh * limbs.thigh + self.trunk * limbs.trunk + self.shin * limbs.shin
        return -(direct + self.lean * deviation.trunk_lean + self.hip_x * deviation.hip_x) / self.depth


def is_stated(demand: Demand, depth: Depth | None) -> bool:
    """Whether the thigh angle at the bottom is stated as such, so that no input moves it."""
    if "hip_flexion" in demand.limited_by:
        return True
    if depth is None:
        return POSTURE_RULES[demand.exercise].thigh_angle is not None
    return depth.thigh_below_horizontal is not None


def is_stopped(demand: Demand, depth: Depth | None) -> bool:
    """Whether a box, a bar or the lifter's own hips end the movement, so that the bottom does not scatter."""
    if "hip_flexion" in demand.limited_by:
        return True
    if depth is None:
        return POSTURE_RULES[demand.exercise].thigh_angle is None
    return depth.box_height is not None


def condition_of_bottom(demand: Demand, depth: Depth | None, shin_slope: float, per_depth: Deviation) -> Condition:
    """The derivatives of the condition that the bottom of a setup fulfils.

    Args:
        demand: the setup solved
        depth: as requested
        shin_slope: change of the shin angle at the bottom with the thigh angle [1]
        per_depth: derivatives of the results with the thigh angle
    """
    rule = POSTURE_RULES[demand.exercise]
    if depth is not None and depth.knee_flexion is not None:
        return Condition(0.0, 0.0, 0.0, 1.0, 0.0, 0.0, shin_slope - 1.0)
    body, posture = demand.body, demand.posture
    shank, thigh = cos(posture.shin_angle), sin(posture.thigh_angle)
    shin = -body.shank * sin(posture.shin_angle)
    rise = body.thigh * cos(posture.thigh_angle) + shin * shin_slope
    if depth is not None and depth.box_height is not None and rule.grip_height is None:
        # the step-up's bottom is measured down from the straight trailing leg, which is as long as the leading one
        straight = 1.0 if rule.family == "split" else 0.0
        return Condition(shank - straight, thigh - straight, 0.0, shin, 0.0, 0.0, rise)
    lean_sine, lean_cosine = sin(posture.trunk_lean), cos(posture.trunk_lean)
    behind = posture.shoulder.x - posture.load_point.x
    hang = hang_below(body.arm, behind)
    pull = behind / hang if hang else 0.0
    lean = body.trunk * (pull * lean_cosine - lean_sine)
    return Condition(
        shank - (rule.grip_shank_fraction or 0.0),
        thigh,
        lean_cosine + pull * lean_sine,
        shin,
        lean,
        pull,
        rise + lean * per_depth.trunk_lean + pull * per_depth.hip_x,
    )
