"""What a request costs, in units of work: bounded for one request, and charged against the client's quotas.

A unit is a tenth of a millisecond of processor time, about one short question. Whoever answers states what an answer
costs; many questions in one request cost the sum. A request costs one unit when it arrives; the rest is charged when it
has been read and before anything is computed.

What is charged is charged whole or not at all, in one step of the store, since two requests must not share what is left;
what is refused is not counted, and what no window could ever hold is 413, since waiting would not help. The cost of an
answer is renewed with the benchmark. A way back states more than its mean, so that a full table of the longest that were
met is still done in time.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Final, TypeAlias

from service.http.problems import HttpProblem
from service.http.types import Scope

Charge: TypeAlias = Callable[[int], Awaitable[None]]

CHARGE: Final = "charge"
"""Where the layer that counts quotas leaves, in the scope, the function that charges the request [units of work]."""
LONG: Final = 20
"""From this cost on, a computation runs beside the event loop: it takes more than a moment, and at worst much more."""


async def charge(scope: Scope, cost: int) -> None:
    """Charge a request, of which one unit is charged already. Raises HttpProblem where a quota does not allow it."""
    charge_client: Charge | None = scope.get(CHARGE)
    if charge_client is not None and cost > 1:
        await charge_client(cost)


def check_cost(cost: int, most: int) -> None:
    """Take a request whose questions cost no more together than one may. Raises HttpProblem (413).

    cost: of all of them, or of as many as are too much [units of work].
    """
    if cost > most:
        raise HttpProblem(
            "too-large",
            f"These questions cost {cost} units of work together or more, and one request may cost {most}: send them in "
            f"{-(-cost // most)} parts at least. What a question costs is told with its operation, as x-cost.",
        )
