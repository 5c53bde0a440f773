"""Volume load, and repetitions that keep it when load or sets change.

Volume load = sets × repetitions × load (hornsby_2018). In a range the new low end is rounded up and the new high end
down, so that the new range stays inside the old volume; where they cross, the nearest whole repetition is taken.
"""

from __future__ import annotations

import math

import msgspec


class Reps(msgspec.Struct, frozen=True):
    """A range of whole repetitions (or sets)."""

    low: int
    high: int


def volume_load(sets: float, reps: float, load: float) -> float:
    """Volume load [kg] of sets × repetitions × load [kg]."""
    return sets * reps * load


def equal_volume_reps(sets: float, reps: Reps, load: float, new_sets: float, new_load: float) -> Reps:
    """Whole repetitions per set that keep the volume load when sets or load [kg] change; at least one."""
    factor = sets * load / (new_sets * new_load)
    # the rounding forgives arithmetic dust, so that an exact 6.000000001 does not become 7
    low = math.ceil(round(reps.low * factor, 9))
    high = math.floor(round(reps.high * factor, 9))
    if low > high:
        low = high = round(round((reps.low + reps.high) / 2 * factor, 9))
    return Reps(max(1, low), max(1, high))


def spread_evenly(total: int, days: int) -> tuple[int, ...]:
    """Sets a day when a week's sets are spread over days as evenly as whole sets allow, fuller days first."""
    each, rest = divmod(total, days)
    return tuple(each + (day < rest) for day in range(days))
