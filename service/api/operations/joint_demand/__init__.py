"""joint-demand: posture and moments at the joints of legs, back and arm for one lifter, setup by setup."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Operation
from service.api.operations.joint_demand.chart import joint_demand_chart
from service.api.operations.joint_demand.examples import EXAMPLES
from service.api.operations.joint_demand.handler import joint_demand
from service.api.operations.joint_demand.models import (
    MOST_SETUPS,
    JointDemand,
    JointDemandAnswer,
)
from service.knowledge.catalogue import EXERCISES

BESIDE: Final = 1
OF_A_SETUP: Final = {"squat": 1, "hinge": 3, "split": 5}
OF_ARMS: Final = 10
"""What a question costs besides its setups, and each of them by the family of its lift; what is moved of an arm is solved anew [0.1 ms]."""
OF_A_DRAWING: Final = 11
"""What is drawn of each costs besides [0.1 ms]."""


def _cost(asked: JointDemand) -> int:
    return BESIDE + sum(OF_A_SETUP.get(EXERCISES[one.exercise].family, OF_ARMS) for one in asked.setups)


def _picture_cost(asked: JointDemand) -> int:
    return _cost(asked) + BESIDE + len(asked.setups) * OF_A_DRAWING


OPERATION: Final = Operation(
    name="joint-demand",
    tag="Mechanics",
    summary="Posture and joint moments of one lifter's setups",
    description="One to ten setups of one lifter: posture at the bottom (angles in deg), moment arms (m), and the largest moments through the range at ankle, knee "
    "and hip (per leg), lumbosacral joint and shoulder, elbow and wrist (of one arm) (N·m), with their span, compared with the first setup. Squats of any stance, what their legs hold to the "
    "side included, hinges and split stances; presses, pulls and raises by one arm at rest. An impossible posture is refused with the limit that forbids it and what would make it possible.",
    request=JointDemand,
    answer=JointDemandAnswer,
    compute=joint_demand,
    cost=BESIDE + MOST_SETUPS * OF_ARMS,
    cost_of=_cost,
    picture_cost=2 * BESIDE + MOST_SETUPS * (OF_ARMS + OF_A_DRAWING),
    picture_cost_of=_picture_cost,
    picture=joint_demand_chart,
    examples=EXAMPLES,
)
