"""rest: repetitions kept over the sets at a rest interval, or the load drop that keeps them."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Operation
from service.api.operations.rest.examples import EXAMPLES
from service.api.operations.rest.handler import rest
from service.api.operations.rest.models import (
    RestAnswer,
    RestInterval,
)

OPERATION: Final = Operation(
    name="rest",
    tag="Volume",
    summary="Repetitions kept at a rest, or the load drop that keeps them",
    description="For 1 to 5 sets with one rest (60 to 300 s, in s or min) between them: the repetitions of each set, all of them as a fraction of sets × the first "
    "set's, on request against another rest, and the load drop from set to set that keeps the repetitions, with loads (kg or lb) where one is given. "
    "Bracketed by measured results, for no formula is published; first sets of 8 to 16 repetitions to failure, at most 2 of them in reserve.",
    request=RestInterval,
    answer=RestAnswer,
    compute=rest,
    cost=2,
    examples=EXAMPLES,
)
