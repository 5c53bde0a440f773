"""leg-distribution: what rests on either leg in a split stance, and the load that matches another stance."""

from __future__ import annotations

from typing import Final

from service.api.models.base import stated
from service.api.models.operation import Operation
from service.api.operations.leg_distribution.examples import EXAMPLES
from service.api.operations.leg_distribution.handler import leg_distribution
from service.api.operations.leg_distribution.models import (
    LegDistribution,
    LegDistributionAnswer,
)

OF_A_POSTURE: Final = 3
"""What a question costs whose share follows from a posture, which is solved with its uncertainty [0.1 ms]."""

OPERATION: Final = Operation(
    name="leg-distribution",
    tag="Mechanics",
    summary="Load on lead and trail leg in a split stance",
    description="What rests on either leg, for the load alone (as the trade counts) and for body plus load (as force plates measure), from a published share, a "
    "stated share (0 to 1), or foot spacing and centre of mass (m, cm, in, ft). With `match`, the load in this stance that puts another stance's "
    "load on the lead leg. A kickstand stance has no published share: state it.",
    request=LegDistribution,
    answer=LegDistributionAnswer,
    compute=leg_distribution,
    cost=OF_A_POSTURE,
    cost_of=lambda asked: OF_A_POSTURE if stated(asked.posture) else 1,
    examples=EXAMPLES,
)
