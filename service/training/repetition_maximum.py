"""Loads, repetitions and maxima for one lifter, with the spread between people as their interval.

The interval follows the published spread: a lifter one standard deviation below or above the mean in repetitions is
assumed to stay so at every load (our assumption), so a set done says less about loads far from it. It covers about two
thirds of people. The interval of a maximum is never narrower than the test of a maximum repeats (grgic_2020), but the
maximum of the day on which the sets were done is at least the heaviest load lifted: neither a value nor an end of its
interval lies below it. The same applies to a load against one lifted for as many repetitions.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Final

import msgspec

from service.errors import Refusal
from service.intervals import Interval, around
from service.knowledge.design_choices import CHOICES
from service.training.individual_profile import OwnCurve
from service.training.load_repetition import (
    Relation,
    maximum,
    person_curve,
    relation_for,
    reps_at_share,
    share_of_max,
)
from service.training.repetition_tables import Z_SCORES

TEST_ERROR: Final = CHOICES.load_repetition.test_error


class People(msgspec.Struct, frozen=True):
    """Shares of the maximum at one number of repetitions, over people.

    Attributes:
        below: share for people one standard deviation below the mean [1]
        mean: share for people at the mean [1]
        above: share for people one standard deviation above the mean [1]
    """

    below: float
    mean: float
    above: float


@lru_cache(maxsize=4096)
def people_at(exercise: str | None, reps: float) -> People:
    """Shares of the maximum that allow some repetitions, over people.

    Args:
        exercise: id; None for any lift
        reps: repetitions to failure [count]

    Source: nuzzo_2024.
    """
    return People(*(person_curve(exercise, z_score).share_at(reps) for z_score in Z_SCORES))


def spread_known_up_to(exercise: str | None) -> float:
    """Repetitions to failure up to which the published range covers people one standard deviation below the mean.

    Args:
        exercise: id; None for any lift

    Returns:
        repetitions to failure [count]

    Source: nuzzo_2024.
    """
    return math.exp(person_curve(exercise, -1).log_reps[-1])


def spread_of_share(value: float, people: People) -> Interval:
    """A relation's share of the maximum with the relative spread between people.

    Args:
        value: share of the maximum by the relation [1]
        people: shares at the same repetitions

    Returns:
        share of the maximum [1]
    """
    return around(value, (value * people.below / people.mean, min(1.0, value * people.above / people.mean)))


def estimate_maximum(relation: Relation, load: float, reps: float, people: People, *, lifted: float) -> Interval:
    """One-repetition maximum from a load and its repetitions to failure.

    A relation other than the default keeps its own value and takes the relative spread of the meta-regression.

    Args:
        relation: any that is computed
        load: mass lifted [kg]
        reps: repetitions to failure [count]
        people: shares at the repetitions done
        lifted: heaviest load lifted in any set [kg]

    Returns:
        one-repetition maximum [kg]

    Source: the relation's own; nuzzo_2024 (people), grgic_2020 (error of a test).
    """
    value = maximum(relation, load, reps)
    mean = people.mean
    return around(
        value,
        (
            value * mean / people.above,
            value * mean / people.below,
            value * (1 - TEST_ERROR),
            value * (1 + TEST_ERROR),
        ),
    ).at_least(lifted)


def estimate_load(
    relation: Relation,
    load: float,
    reps: float,
    target_reps: float,
    people: People,
    target_people: People,
    *,
    lifted: float,
) -> Interval:
    """Load for some repetitions to failure, from a load and its repetitions to failure.

    Args:
        relation: a curve relation
        load: mass lifted [kg]
        reps: repetitions to failure of that load [count]
        target_reps: repetitions to failure wanted [count]
        people: shares at the repetitions done
        target_people: shares at the repetitions wanted
        lifted: heaviest load lifted in any set for at least the repetitions wanted [kg]

    Returns:
        load [kg]

    Source: the relation's own; nuzzo_2024 (people).
    """
    value = load * share_of_max(relation, target_reps) / share_of_max(relation, reps)
    mean = target_people.mean / people.mean
    ratios = (target_people.below / people.below / mean, target_people.above / people.above / mean)
    return around(value, (value * ratios[0], value * ratios[1])).at_least(lifted)


def estimate_reps(
    relation: Relation, exercise: str | None, load: float, reps: float, target_load: float, *, lifted: float
) -> Interval:
    """Repetitions to failure at a load, from another load and its repetitions to failure.

    Args:
        relation: a curve relation
        exercise: id; None for any lift
        load: mass lifted [kg]
        reps: repetitions to failure of that load [count]
        target_load: load whose repetitions are wanted [kg]
        lifted: heaviest load lifted in any set [kg]

    Returns:
        repetitions to failure [count]

    Raises:
        Refusal: where the target load is outside the shares of the maximum that the relation covers

    Source: the relation's own; nuzzo_2024 (people).
    """
    value = reps_at_share(relation, target_load / max(lifted, load / share_of_max(relation, reps)))
    ratio = target_load / load
    below, middle, above = (
        curve.reps_at(curve.share_at(reps) * ratio)
        for curve in (person_curve(exercise, z_score) for z_score in Z_SCORES)
    )
    return around(value, (value * below / middle, value * above / middle))


def own_load(curve: OwnCurve, reps: float, *, lifted: float) -> Interval:
    """Load for some repetitions by the lifter's own curve, plus and minus one standard error of the curve.

    Args:
        curve: the lifter's own
        reps: repetitions to failure [count]
        lifted: heaviest load lifted in any set for at least so many repetitions [kg]

    Returns:
        load [kg]
    """
    load = curve.load_at(reps)
    error = curve.reps_error(load)
    return Interval(load, curve.load_at(reps + error), curve.load_at(reps - error)).at_least(lifted)


def own_maximum(curve: OwnCurve, *, lifted: float) -> Interval:
    """One-repetition maximum by the lifter's own curve, no narrower than the test of a maximum repeats.

    Args:
        curve: the lifter's own
        lifted: heaviest load lifted in any set [kg]

    Returns:
        one-repetition maximum [kg]

    Source: grgic_2020 (error of a test).
    """
    top = own_load(curve, 1, lifted=0)
    ends = (top.low, top.high, top.value * (1 - TEST_ERROR), top.value * (1 + TEST_ERROR))
    return around(top.value, ends).at_least(lifted)


def own_reps(curve: OwnCurve, load: float, *, lifted: float) -> Interval:
    """Repetitions to failure at a load by the lifter's own curve, plus and minus one standard error of the curve.

    Args:
        curve: the lifter's own
        load: mass lifted [kg]
        lifted: heaviest load lifted in any set [kg]

    Returns:
        repetitions to failure [count]

    Raises:
        Refusal: for a load above the maximum
    """
    top = own_maximum(curve, lifted=lifted).value
    if load > top:
        raise Refusal.one("load", "The load is above the maximum of the lifter's own curve.", f"up to {top:.4g} kg")
    reps = max(1.0, curve.reps_at(load))
    error = curve.reps_error(load)
    return Interval(reps, max(1.0, reps - error), reps + error)


def chosen_relation(exercise: str | None, relation: Relation | None) -> Relation:
    """The requested relation, or else the default for the lift."""
    return relation or relation_for(exercise)
