"""Force of the load on the hand, along the load's line and to the side."""

from __future__ import annotations

from typing import Final

from service.interpolation import interpolated
from service.knowledge.arm_figures import HAND_FORCES
from service.mechanics.arm.vectors import Vector

_GRIPS: Final = [row.grip for row in HAND_FORCES]
_OUTWARD: Final = [row.outward for row in HAND_FORCES]


def hand_force(along: float, outward: float = 0.0) -> Vector:
    """The force on one hand about the axes of `pose` [N].

    Args:
        along: along the load's line, negative for a weight that is held up, positive for a support that pushes or pulls
            the hand up [N]
        outward: how hard the hand pushes what it holds to the outside, over its force along the load's line; a bar that
            joins both hands pushes back [1]
    """
    return Vector(-outward * abs(along), 0.0, along)


def measured_outward(grip: float) -> float:
    """How hard the hands push a bench-pressed bar apart, over their upward force [1].

    Between measured grips by proportion; beyond them that of the nearest.

    Args:
        grip: between the middles of the hands, over biacromial breadth [1]

    Source: Larsen 2021, a preprint of 2023 (hand_force.csv).
    """
    return interpolated(_GRIPS, _OUTWARD, grip)
