"""All computations of the service, in the order in which the description shows them."""

from __future__ import annotations

from typing import Final

from service.api import (
    adjustments,
    bar_loading,
    estimated_max,
    joint_demand,
    leg_distribution,
    load_repetition,
    rest,
    return_plan,
    session_review,
    spinal_load,
    tempo,
    volume,
)
from service.api.operation import Operation

OPERATIONS: Final[tuple[Operation, ...]] = (
    *adjustments.OPERATIONS,
    *session_review.OPERATIONS,
    *return_plan.OPERATIONS,
    *load_repetition.OPERATIONS,
    *estimated_max.OPERATIONS,
    *volume.OPERATIONS,
    *leg_distribution.OPERATIONS,
    *spinal_load.OPERATIONS,
    *joint_demand.OPERATIONS,
    *tempo.OPERATIONS,
    *rest.OPERATIONS,
    *bar_loading.OPERATIONS,
)
