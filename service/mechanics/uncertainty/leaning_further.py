"""What pulls have of leaning further, where a light load would let the lifter tip backward.

There the shoulder goes further ahead until the foot is stood on. Some lifters are at that limit and others are not, and
no input decides it alone. So each is moved with the limit left out, and what leaning further adds goes with the balance
point as far as lifters are expected to be at the limit: for a normal balance point, the mean and the slope of what is
below the limit (statistical linearisation).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import erf, exp, pi, sqrt
from typing import Final

from service.knowledge.posture_rules import POSTURES
from service.mechanics.uncertainty.intervals import MEAN_SIZE
from service.mechanics.uncertainty.scopes import Columns, columns_of

_LOWEST_BALANCE = POSTURES.limits.balance.low
_HARDLY_ANY = 1e-3
"""Part of lifters at the limit below which it is left out [1]."""
AGAIN: Final = "again_"
"""Begins the names of what differs from one repetition to the next."""


def leaning_further(
    columns: dict[str, Columns], balance: float, own: dict[str, float], repeated: dict[str, float]
) -> dict[str, Columns]:
    """The changes of a pull where lifters who would tip backward lean further.

    Args:
        columns: by input, the last of each the balance point in foot lengths
        balance: balance point without leaning further, in foot lengths [1]
        own: as of changes_by_columns [1]
        repeated: as of changes_by_columns [1]
    """
    spread = sqrt(
        sum(
            even[-1] ** 2 * (1.0 + own.get(name, 0.0) ** 2 + repeated.get(name, 0.0) ** 2)
            for name, (even, _) in columns.items()
        )
    )
    below = (_LOWEST_BALANCE - balance) / spread
    at_limit, density = (1.0 + erf(below / sqrt(2.0))) / 2.0, exp(-below * below / 2.0) / sqrt(2.0 * pi)
    if at_limit < _HARDLY_ANY:
        return columns
    ahead, _ = columns["shoulder_ahead"]
    per_balance = [change / ahead[-1] for change in ahead]
    beyond = spread * (density + below * at_limit - max(0.0, below)) / MEAN_SIZE

    def leaning(both: Columns, part: float, factor: float = 1.0) -> Columns:
        """Changes where a part of lifters leans further, times a factor."""
        even, uneven = both
        return (
            _leaning(even, factor, factor * part * even[-1], per_balance),
            _leaning(uneven, factor, factor * part * uneven[-1], per_balance),
        )

    found = {name: leaning(both, at_limit) for name, both in columns.items()}
    found["leaning_further"] = columns_of(*[[beyond * slope for slope in per_balance]] * 2)
    for name, factor in repeated.items():  # a lifter's repetitions are nearly all at the limit, or none of them
        if name in columns:
            found[f"{AGAIN}{name}"] = leaning(columns[name], 0.0, factor * sqrt(1.0 - at_limit))
            found[f"{AGAIN}{name}_leaning"] = leaning(columns[name], 1.0, factor * sqrt(at_limit))
    return found


def _leaning(column: Sequence[float], factor: float, taken: float, per_balance: list[float]) -> Sequence[float]:
    """Changes times a factor, with what leaning further does where a shift of the balance point is taken back [1]."""
    if taken:
        return [factor * change - taken * slope for change, slope in zip(column, per_balance, strict=True)]
    return column if factor == 1.0 else [factor * change for change in column]
