"""All computations of the service, in the order in which the description shows them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from service.api.operations import (
    adjustments,
    bar_loading,
    estimated_max,
    joint_demand,
    leg_distribution,
    load_for_reps,
    rep_targets,
    reps_for_load,
    rest,
    return_plan,
    session_review,
    session_split,
    spinal_load,
    tempo,
    week_adjustments,
    week_demand,
)

if TYPE_CHECKING:
    from service.api.models.operation import Operation

OPERATIONS: Final[tuple[Operation, ...]] = (
    adjustments.OPERATION,
    session_review.OPERATION,
    return_plan.OPERATION,
    week_demand.OPERATION,
    week_adjustments.OPERATION,
    load_for_reps.OPERATION,
    reps_for_load.OPERATION,
    estimated_max.OPERATION,
    rep_targets.OPERATION,
    session_split.OPERATION,
    leg_distribution.OPERATION,
    spinal_load.OPERATION,
    joint_demand.OPERATION,
    tempo.OPERATION,
    rest.OPERATION,
    bar_loading.OPERATION,
)
