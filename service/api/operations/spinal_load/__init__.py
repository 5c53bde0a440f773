"""spinal-load: the load path through the spine and the lumbosacral demand of setups, against the first one."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Operation
from service.api.operations.spinal_load.chart import spinal_load_chart
from service.api.operations.spinal_load.examples import EXAMPLES
from service.api.operations.spinal_load.handler import spinal_load
from service.api.operations.spinal_load.models import (
    MOST_SETUPS,
    SpinalLoad,
    SpinalLoadAnswer,
)

OF_A_SETUP: Final = 1
"""What each setup costs, most of it a posture with its uncertainty [0.1 ms]."""

OPERATION: Final = Operation(
    name="spinal-load",
    tag="Mechanics",
    summary="Load through the spine and lumbosacral demand of setups",
    description="Two to ten setups of one lifter against the first: load that passes through the spine, lumbosacral moment (N·m), compression and shear (N) by a "
    "single-muscle model, as ratios with their span over the stated uncertainties. Trunk lean (0 to 80 deg, from the vertical) is taken from the "
    "request; else it is computed for the lifter; without a lifter it is the exercise's stated default, which is an assumption and is said so.",
    request=SpinalLoad,
    answer=SpinalLoadAnswer,
    compute=spinal_load,
    cost=MOST_SETUPS * OF_A_SETUP,
    cost_of=lambda asked: len(asked.setups) * OF_A_SETUP,
    picture_cost=30,
    picture=spinal_load_chart,
    examples=EXAMPLES,
)
