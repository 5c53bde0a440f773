"""What a week gives each muscle in fractional sets, and the floors below which it is taken to give too little."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from service.adjustment.prescription import Prescription
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.training.fractional_sets import WeeklySets, fractional_sets
from service.vocabulary import Aim, Training

_WEEK: Final = CHOICES.week
_DIRECT: Final = 1.0
_INDIRECT: Final = 0.5


def hard_sets(prescription: Prescription) -> float:
    """Sets of a day that count for size [count]: none far from failure, few repetitions in part, holds whole."""
    if prescription.counted_reserve > CHOICES.effort.hard_set_reserve:
        return 0.0
    return prescription.sets * prescription.share_of_set


def sets_of_muscles(week: Iterable[Prescription]) -> dict[str, Interval]:
    """Fractional sets of a week by muscle, from direct sets alone to every set that trains the muscle counted whole.

    Args:
        week: the prescriptions of its days, each of one day

    Returns:
        The published counting between the two that it was compared with [count].

    Source: pelland_2024.
    """
    sets = [WeeklySets(one.exercise, hard_sets(one)) for one in week]
    counted = fractional_sets(sets)
    direct = fractional_sets(sets, counting=lambda share: _DIRECT if share >= _DIRECT else 0.0)
    whole = fractional_sets(sets, counting=lambda share: _DIRECT if share >= _INDIRECT else share)
    return {
        muscle: Interval(value, min(value, direct[muscle]), whole[muscle]) for muscle, value in counted.items() if value
    }


def trained_sets(week: Iterable[Prescription]) -> dict[str, float]:
    """Fractional sets of a week by muscle that count towards a floor: direct and indirect, none that only steadies.

    Args:
        week: the prescriptions of its days, each of one day

    Returns:
        Of the muscles that it trains [count]. Steadying counts a quarter by our own mark alone, for which nothing has
        to be given back.

    Source: pelland_2024.
    """
    sets = [WeeklySets(one.exercise, hard_sets(one)) for one in week]
    counted = fractional_sets(sets, counting=lambda share: share if share >= CHOICES.dose.trained_share else 0.0)
    return {muscle: value for muscle, value in counted.items() if value}


def floor_of(aim: Aim, training: Training, usual: float | None) -> float | None:
    """The fractional sets a week of a muscle that an aim is taken to need.

    Args:
        aim: what the lifter trains for
        training: how long the lifter has trained
        usual: fractional sets that the lifter is used to, None where they are not known [count]

    Returns:
        The floor [count], never above what is usual; None where it depends on the usual sets alone and they are not
        known.
    """
    share = _WEEK.keeping_share.novice if training == "novice" else _WEEK.keeping_share.trained
    kept = None if usual is None else share * usual
    if aim in ("maintain", "tendon"):
        return kept
    least = _WEEK.least_sets.muscle_size if aim == "muscle_size" else _WEEK.least_sets.strength
    return least if kept is None or usual is None else min(usual, max(least, kept))


def under_floor(sets: Mapping[str, float], floors: Mapping[str, float]) -> list[str]:
    """The muscles whose sets are below their floor, by id.

    Args:
        sets: fractional sets a week by muscle [count]
        floors: by muscle [count]
    """
    return [muscle for muscle, floor in floors.items() if sets.get(muscle, 0.0) < floor]
