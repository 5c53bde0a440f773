"""The ledger of hard sets: what a week's sets count for each muscle, and what fewer or more of them are taken to do.

A set counts for a muscle by the share that its exercise has in it (pelland_2024). That both effects have diminishing
returns, strength much the stronger ones, is published; the forms and their numbers are our own choice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from math import exp
from typing import Final

import msgspec

from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.knowledge.muscles import MUSCLE_SHARES

_DOSE: Final = CHOICES.dose
_SHARES: Final = {
    exercise: {muscle: one.share for muscle, one in shares.items()} for exercise, shares in MUSCLE_SHARES.items()
}
_TRAINED: Final = {
    exercise: tuple(muscle for muscle, share in shares.items() if share >= _DOSE.trained_share)
    for exercise, shares in _SHARES.items()
}


class WeeklySets(msgspec.Struct, frozen=True):
    """Hard sets of an exercise in a week.

    Attributes:
        exercise: id of the exercise
        sets: hard sets a week [count]
    """

    exercise: str
    sets: float


def muscle_shares(exercise: str) -> Mapping[str, float]:
    """The part of a set of an exercise that counts for each muscle [1], for the muscles of which anything is known."""
    return _SHARES.get(exercise, {})


def trained_muscles(exercise: str) -> tuple[str, ...]:
    """The muscles that an exercise trains, directly or indirectly; those that it only steadies are none of them."""
    return _TRAINED.get(exercise, ())


def set_share(reps: int) -> float:
    """The part of a set that counts for size by its repetitions [1].

    Args:
        reps: repetitions of the set [count]

    Source: baz_valle_2021 for the repetitions from which on sets count whole; in proportion below, our own choice.
    """
    return min(1.0, reps / _DOSE.whole_set_reps)


def fractional_sets(week: Iterable[WeeklySets], counting: Callable[[float], float] = float) -> dict[str, float]:
    """What the hard sets of a week count for each muscle.

    Args:
        week: hard sets by exercise
        counting: another way to count the share of a set [1]

    Returns:
        Fractional sets a week by muscle [count].

    Source: pelland_2024 for the counting.
    """
    total: dict[str, float] = {}
    for one in week:
        for muscle, share in muscle_shares(one.exercise).items():
            total[muscle] = total.get(muscle, 0.0) + counting(share) * one.sets
    return total


def size_effect(sets: float, usual: float) -> Interval:
    """What weekly sets of a muscle are taken to do for its size, against the usual ones.

    Args:
        sets: fractional sets a week [count]
        usual: the same as they are now, more than none [count]

    Returns:
        The ratio [1]: by the square root, between in proportion and the weakest fall that is published.
    """
    ratio, power = sets / usual, _DOSE.size_exponent
    values = (ratio**power.value, ratio**power.high, ratio**power.low)
    return Interval(values[0], min(values), max(values))


def strength_effect(sets: float, usual: float) -> Interval:
    """What weekly sets of a lift are taken to do for strength in it, against the usual ones.

    Args:
        sets: sets of the lift a week [count]
        usual: the same as they are now, more than none [count]

    Returns:
        The ratio [1].
    """
    values = [(1 - exp(-sets / over)) / (1 - exp(-usual / over)) for over in _scales()]
    return Interval(values[0], min(values), max(values))


def _scales() -> tuple[float, float, float]:
    return _DOSE.strength_sets.value, _DOSE.strength_sets.low, _DOSE.strength_sets.high
