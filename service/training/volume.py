"""Volume load, and repetitions that keep it when load or sets change.

Volume load = sets × repetitions × load (hornsby_2018). In a range the new low end is rounded up and the new high end
down, so that the new range stays inside the old volume; where they cross, the nearest whole repetition is taken.
"""

from __future__ import annotations

import math

import msgspec

ROUNDING_DECIMALS = 9


class Reps(msgspec.Struct, frozen=True):
    """A range of whole repetitions.

    Attributes:
        low: fewest repetitions [count]
        high: most repetitions [count]
    """

    low: int
    high: int


def volume_load(sets: float, reps: float, load: float) -> float:
    """Volume load: sets × repetitions × load.

    Args:
        sets: sets [count]
        reps: repetitions of each set [count]
        load: mass lifted [kg]

    Returns:
        volume load [kg]

    Source: hornsby_2018.
    """
    return sets * reps * load


def equal_volume_reps(sets: float, reps: Reps, load: float, new_sets: float, new_load: float) -> Reps:
    """Whole repetitions of each set that keep the volume load when sets or load change; at least one.

    Args:
        sets: sets before [count]
        reps: repetitions of each set before
        load: mass lifted before [kg]
        new_sets: sets after [count]
        new_load: mass lifted after [kg]
    """
    factor = sets * load / (new_sets * new_load)
    # rounded first, so that a product of 6.000000001 does not become 7
    low = math.ceil(round(reps.low * factor, ROUNDING_DECIMALS))
    high = math.floor(round(reps.high * factor, ROUNDING_DECIMALS))
    if low > high:
        low = high = round(round((reps.low + reps.high) / 2 * factor, ROUNDING_DECIMALS))
    return Reps(max(1, low), max(1, high))


def spread_evenly(total: int, days: int) -> tuple[int, ...]:
    """Sets of each day when a week's sets are spread as evenly as whole sets allow, fuller days first.

    Args:
        total: sets of the week [count]
        days: training days of the week [count]

    Returns:
        sets of each day [count]
    """
    each, rest = divmod(total, days)
    return tuple(each + (day < rest) for day in range(days))
