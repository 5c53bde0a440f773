"""What a request costs, in units of work: bounded for one request, and charged against the client's quotas.

A unit is a tenth of a millisecond of processor time, about one short question. Each operation states its cost
(service.api.models.operation); a batch or table costs the sum of its questions. A request costs one unit when it arrives; the
rest is charged when it has been read and before anything is computed.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any, Final, TypeAlias

from service.http.problems import HttpProblem

Charging: TypeAlias = Callable[[int], Awaitable[None]]

CHARGE: Final = "charge"
"""Where the layer that knows the client leaves, in the scope, how to charge it for a request of some cost."""
LONG: Final = 20
"""From this cost on, a computation runs beside the event loop: it takes more than a moment, and at worst much more."""


async def charge(scope: Any, cost: int) -> None:  # noqa: ANN401 - the scope of either library
    """Charge a request, of which one unit is charged already. Raises HttpProblem where a quota does not allow it."""
    charging: Charging | None = scope.get(CHARGE)
    if charging is not None and cost > 1:
        await charging(cost)


def check_cost(cost: int, most: int) -> None:
    """Refuse a request (413) whose questions cost more together than one may."""
    if cost > most:
        raise HttpProblem(
            "too-large",
            f"These questions cost {cost} units of work together, and one request may cost {most}: send them in "
            f"{-(-cost // most)} parts. What a question costs is told with its operation, as x-cost.",
        )
