"""All computations of the service, in the order in which the description shows them."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Operation
from service.api.operations import (
    bar_loading,
    estimated_max,
    joint_demand,
    leg_distribution,
    load_repetition,
    rest,
    spinal_load,
    tempo,
    volume,
)
from service.api.operations.adjustments import handler as adjustments
from service.api.operations.return_plan import handler as return_plan
from service.api.operations.session_review import handler as session_review

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
