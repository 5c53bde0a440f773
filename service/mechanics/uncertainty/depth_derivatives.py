"""How far a small change of each input moves the bottom, where the depth is not stated as the thigh's own angle.

A stated knee flexion, the seat on a box or straight arms at a bar is a condition that the bottom fulfils whatever the
inputs are; its total derivative is nil, which gives the thigh angle's derivative.
"""

from __future__ import annotations

from math import cos, sin

from msgspec import Struct

from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.balance import hang_below
from service.mechanics.demand import Demand
from service.mechanics.depth import Depth
from service.mechanics.uncertainty.derivatives import Row


class Moved(Struct, frozen=True, gc=False):
    """What an input does to the limbs at an unchanged thigh angle.

    shank, thigh, trunk: change of the length [m]; shin: of the shin angle [rad].
    """

    shank: float = 0.0
    thigh: float = 0.0
    trunk: float = 0.0
    shin: float = 0.0


class Condition(Struct, frozen=True, gc=False):
    """The derivatives of what the bottom fulfils.

    shank, thigh, trunk: for the lengths; shin: for the shin angle; lean, hip_x: for what balance makes of them; depth:
    for the thigh angle itself, shin, lean and hip going with it.
    """

    shank: float
    thigh: float
    trunk: float
    shin: float
    lean: float
    hip_x: float
    depth: float

    def shift(self, moved: Moved, row: Row) -> float:
        """Change of the thigh angle at the bottom [rad]; row: the answer of balance at an unchanged thigh angle."""
        direct = self.shank * moved.shank + self.thigh * moved.thigh + self.trunk * moved.trunk + self.shin * moved.shin
        return -(direct + self.lean * row[4] + self.hip_x * row[5]) / self.depth


def is_stated(demand: Demand, depth: Depth | None) -> bool:
    """Whether the thigh angle at the bottom is given as such, so that nothing about the lifter moves it."""
    if "hip_flexion" in demand.limited_by:
        return True
    if depth is None:
        return EXERCISE_RULES[demand.exercise].thigh_angle is not None
    return depth.thigh_below_horizontal is not None


def condition_of_bottom(demand: Demand, depth: Depth | None, shin_slope: float, per_depth: Row) -> Condition:
    """The condition that the bottom of a setup fulfils.

    depth: as asked for; shin_slope: change of the shin angle at the bottom with the thigh angle [1]; per_depth: answer
    of balance to the thigh angle [1/rad].
    """
    rule = EXERCISE_RULES[demand.exercise]
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
        rise + lean * per_depth[4] + pull * per_depth[5],
    )
