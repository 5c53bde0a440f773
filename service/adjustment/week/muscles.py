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
_TRAINED: Final = CHOICES.dose.trained_share


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
        Of the muscles that it trains or steadies, none of what only steadies among them: the published counting
        between the two that it was compared with [count].

    Source: pelland_2024.
    """
    sets = _weekly(week)
    trained = fractional_sets(sets, counting=_of_trained)
    direct = fractional_sets(sets, counting=lambda share: _DIRECT if share >= _DIRECT else 0.0)
    whole = fractional_sets(sets, counting=lambda share: _DIRECT if share >= _TRAINED else 0.0)
    return {
        muscle: Interval(trained[muscle], min(trained[muscle], direct[muscle]), whole[muscle])
        for muscle, value in fractional_sets(sets).items()
        if value
    }


def steadied_sets(week: Iterable[Prescription]) -> dict[str, float]:
    """What the sets of a week that only steady a muscle count for it by our own mark, beside those that train it.

    Args:
        week: the prescriptions of its days, each of one day

    Returns:
        By muscle, of those that it trains or steadies [count].
    """
    return fractional_sets(_weekly(week), counting=lambda share: 0.0 if share >= _TRAINED else share)


def trained_sets(week: Iterable[Prescription]) -> dict[str, float]:
    """Fractional sets of a week by muscle that count towards a floor: direct and indirect, none that only steadies.

    Args:
        week: the prescriptions of its days, each of one day

    Returns:
        Of the muscles that it trains [count]. Steadying counts a quarter by our own mark alone, for which nothing has
        to be given back.

    Source: pelland_2024.
    """
    return {muscle: value for muscle, value in fractional_sets(_weekly(week), counting=_of_trained).items() if value}


def _weekly(week: Iterable[Prescription]) -> list[WeeklySets]:
    return [WeeklySets(one.exercise, hard_sets(one)) for one in week]


def _of_trained(share: float) -> float:
    return share if share >= _TRAINED else 0.0


def floor_of(aim: Aim, training: Training, usual: float) -> float:
    """The fractional sets a week of a muscle that an aim is taken to need.

    Args:
        aim: what the lifter trains for
        training: how long the lifter has trained
        usual: fractional sets that the lifter is used to: those of the present week [count]

    Returns:
        The floor [count]: what is taken to do something, or the part of the usual sets that keeps what there is.
    """
    kept = usual * (_WEEK.keeping_share.novice if training == "novice" else _WEEK.keeping_share.trained)
    if aim in ("maintain", "tendon"):
        return kept
    return max(_WEEK.least_sets.muscle_size if aim == "muscle_size" else _WEEK.least_sets.strength, kept)


def is_under(sets: float, floor: float) -> bool:
    """Whether sets are below a floor, both as they are said: to a tenth of a set.

    Args:
        sets: fractional sets a week of a muscle [count]
        floor: of it [count]
    """
    return round(sets, 1) < round(floor, 1)


def under_floor(sets: Mapping[str, float], floors: Mapping[str, float]) -> list[str]:
    """The muscles whose sets are below their floor, by id.

    Args:
        sets: fractional sets a week by muscle [count]
        floors: by muscle [count]
    """
    return [muscle for muscle, floor in floors.items() if is_under(sets.get(muscle, 0.0), floor)]
