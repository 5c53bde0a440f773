"""All computations of the service, in the order in which the description shows them."""

from __future__ import annotations

from typing import Final

from service.api import (
    adjustments,
    bar_loading,
    joint_demand,
    leg_distribution,
    load_repetition,
    spinal_load,
    tempo,
    volume,
)
from service.api.operation import Operation

OPERATIONS: Final[tuple[Operation, ...]] = (
    *adjustments.OPERATIONS,
    *load_repetition.OPERATIONS,
    *volume.OPERATIONS,
    *leg_distribution.OPERATIONS,
    *spinal_load.OPERATIONS,
    *joint_demand.OPERATIONS,
    *tempo.OPERATIONS,
    *bar_loading.OPERATIONS,
)
