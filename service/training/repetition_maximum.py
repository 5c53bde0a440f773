"""Loads, repetitions and maxima for one lifter, with the spread between people as their interval.

The interval follows the published spread: a lifter one standard deviation below or above the mean in repetitions is
taken to keep that place at every load (our assumption), so a set done tells less about loads far from it. It holds
about two thirds of people. A maximum is never given more exactly than the test of a maximum itself repeats
(grgic_2020), but that of the day on which the sets were done is at least the heaviest load lifted: neither a value nor
an end of its interval lies below it. The same holds for a load against one lifted for as many repetitions.
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

PLACES: Final = (-1, 0, 1)
TEST_ERROR: Final = CHOICES.load_repetition.test_error


class People(msgspec.Struct, frozen=True):
    """Shares of the maximum [1] at one number of repetitions, for people one SD below the mean, at it and above it."""

    below: float
    mean: float
    above: float


@lru_cache(maxsize=4096)
def people_at(exercise: str | None, reps: float) -> People:
    """Shares of the maximum that allow `reps` to failure [count], over people (nuzzo_2024)."""
    return People(*(person_curve(exercise, place).share_at(reps) for place in PLACES))


def spread_known_up_to(exercise: str | None) -> float:
    """Repetitions to failure [count] up to which the published range holds people one SD below the mean as well."""
    return math.exp(person_curve(exercise, -1).log_reps[-1])


def spread_of_share(value: float, people: People) -> Interval:
    """A relation's own share of the maximum [1] with the relative spread between people."""
    return around(value, (value * people.below / people.mean, min(1.0, value * people.above / people.mean)))


def estimate_maximum(relation: Relation, load: float, reps: float, people: People, *, lifted: float) -> Interval:
    """One-repetition maximum [kg] from a load [kg] and its repetitions to failure [count].

    A relation other than the default keeps its own value and takes the relative spread of the meta-regression; people:
    at the repetitions done; lifted: the heaviest load lifted in any set [kg].
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
    """Load [kg] for `target_reps` to failure, from a load [kg] with `reps` to failure [both count].

    people, target_people: at the repetitions done and at those wanted; lifted: the heaviest load lifted in any set for
    at least `target_reps` [kg].
    """
    value = load * share_of_max(relation, target_reps) / share_of_max(relation, reps)
    mean = target_people.mean / people.mean
    ratios = (target_people.below / people.below / mean, target_people.above / people.above / mean)
    return around(value, (value * ratios[0], value * ratios[1])).at_least(lifted)


def estimate_reps(
    relation: Relation, exercise: str | None, load: float, reps: float, target_load: float, *, lifted: float
) -> Interval:
    """Repetitions to failure [count] at `target_load` [kg], from a load [kg] with `reps` to failure [count].

    lifted: the heaviest load lifted in any set [kg]. Raises Refusal where the target load is outside the shares of the
    maximum that the relation covers.
    """
    value = reps_at_share(relation, target_load / max(lifted, load / share_of_max(relation, reps)))
    ratio = target_load / load
    below, middle, above = (
        curve.reps_at(min(1.0, max(curve.shares[-1], curve.share_at(reps) * ratio)))
        for curve in (person_curve(exercise, place) for place in PLACES)
    )
    return around(value, (value * below / middle, value * above / middle))


def own_load(curve: OwnCurve, reps: float, *, lifted: float) -> Interval:
    """Load [kg] for repetitions to failure [count] by the lifter's own curve; ± one standard error of the curve.

    lifted: the heaviest load lifted in any set for at least so many repetitions [kg].
    """
    load = curve.load_at(reps)
    error = curve.reps_error(load)
    return Interval(load, curve.load_at(reps + error), curve.load_at(reps - error)).at_least(lifted)


def own_maximum(curve: OwnCurve, *, lifted: float) -> Interval:
    """The maximum [kg] by the lifter's own curve, no narrower than the test of a maximum repeats.

    lifted: the heaviest load lifted in any set [kg].
    """
    found = own_load(curve, 1, lifted=0)
    ends = (found.low, found.high, found.value * (1 - TEST_ERROR), found.value * (1 + TEST_ERROR))
    return around(found.value, ends).at_least(lifted)


def own_reps(curve: OwnCurve, load: float, *, lifted: float) -> Interval:
    """Repetitions to failure [count] at a load [kg] by the lifter's own curve; ± one standard error of the curve.

    lifted: the heaviest load lifted in any set [kg]. Raises Refusal for a load above the maximum.
    """
    top = own_maximum(curve, lifted=lifted).value
    if load > top:
        raise Refusal.one("load", "The load is above the maximum of the lifter's own curve.", f"up to {top:.4g} kg")
    reps = max(1.0, curve.reps_at(load))
    error = curve.reps_error(load)
    return Interval(reps, max(1.0, reps - error), reps + error)


def chosen_relation(exercise: str | None, relation: Relation | None) -> Relation:
    """The relation asked for, else the default for the lift."""
    return relation or relation_for(exercise)
