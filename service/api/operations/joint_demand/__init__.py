"""joint-demand: posture and moments at the joints of legs, back and arm for one lifter, setup by setup."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Operation
from service.api.operations.joint_demand.chart import joint_demand_chart
from service.api.operations.joint_demand.examples import EXAMPLES
from service.api.operations.joint_demand.handler import joint_demand
from service.api.operations.joint_demand.models import (
    JointDemand,
    JointDemandAnswer,
)

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
    cost=3,
    picture_cost=30,
    picture=joint_demand_chart,
    examples=EXAMPLES,
)
