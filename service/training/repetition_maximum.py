"""Loads, repetitions and maxima for one lifter, with their errors as the interval: 68 %, about two of three.

Three errors are in it, each of its published size: where the lifter stands between people (nuzzo_2024; the place is
assumed to be the same at every load), what was truly left of the reserve as stated, and how repetitions differ from day
to day, both on the day of the set and on that of the answer. People are summed over their distribution, the others are
moved by one standard deviation either way, and all are combined as independent. That more is left than is stated moves
the ends and never the value.

The interval of a maximum is never narrower than the test of a maximum repeats (grgic_2020), but the maximum of the day
on which the sets were done is at least the heaviest load lifted: neither a value nor an end of its interval lies below
it. No other value lies below what was done; on another day less may be possible, which its interval says.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import msgspec

from service.intervals import Interval, around, combined, exactly
from service.knowledge.design_choices import CHOICES
from service.training.done_sets import DoneSet
from service.training.load_repetition import (
    Relation,
    lifters_for,
    maximum,
    person_curve,
    relation_for,
    reps_at_share,
    share_of_max,
)
from service.training.repetition_errors import behind, day_error
from service.training.repetition_tables import Z_SCORES, Curve, two_thirds

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


class Behind(msgspec.Struct, frozen=True):
    """Shares of the maximum at which a set may have been done, by its repetitions to failure on a usual day.

    Attributes:
        stated: at the mean of people with the reserve as stated [1]
        likely: at the mean of people with the reserve that is likely [1]
        least: the same with the errors of reserve and day taken off the repetitions [1]
        greatest: the same with the errors of reserve and day added to them [1]
        people: of each of `Lifters.people` with the reserve that is likely [1]
    """

    stated: float
    likely: float
    least: float
    greatest: float
    people: tuple[float, ...]


@lru_cache(maxsize=4096)
def shares_behind(exercise: str | None, reps: float, reserve: float) -> Behind:
    """Shares of the maximum at which a set may have been done.

    Args:
        exercise: id; None for any lift
        reps: done [count]
        reserve: stated to be left [count]

    Source: nuzzo_2024 (people), mitter_2022 (days), and those of repetition_errors.csv for the reserve.
    """
    failure, lifters = behind(reps, reserve), lifters_for(exercise)
    likely = lifters.mean.share_at(failure.likely.value)
    fewest, most = failure.on_a_day(likely)
    return Behind(
        lifters.mean.share_at(failure.stated),
        likely,
        lifters.mean.share_at(fewest),
        lifters.mean.share_at(most),
        tuple(one.share_at(failure.likely.value) for one in lifters.people),
    )


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
    return person_curve(exercise, -1).reps_at(person_curve(exercise, 0).shares[-1])


@lru_cache(maxsize=4096)
def spread_of_share(exercise: str | None, reps: float) -> Interval:
    """The share of the maximum that allows some repetitions on another day over what it is at the mean of people.

    Args:
        exercise: id; None for any lift
        reps: repetitions to failure [count]

    Returns:
        factor of the share [1]

    Source: nuzzo_2024 (people), mitter_2022 (days).
    """
    if reps == 1:
        return exactly(1.0)  # by definition
    lifters = lifters_for(exercise)
    share = lifters.mean.share_at(reps)
    return combined(
        share, two_thirds([one.share_at(reps) for one in lifters.people]), _on_another_day(lifters.mean, reps)
    ).scaled(1 / share)


def _on_another_day(curve: Curve, reps: float) -> tuple[float, float]:
    """Shares of the maximum that allow some repetitions on a bad and on a good day [1]."""
    day = day_error(curve.share_at(reps))
    return curve.share_at(reps + day), curve.share_at(max(1.0, reps - day))


@lru_cache(maxsize=4096)
def spread_of_maximum(exercise: str | None, reps: float, reserve: float) -> Interval:
    """The maximum behind a set over what it is at the mean of people with the stated reserve.

    Args:
        exercise: id; None for any lift
        reps: done [count]
        reserve: stated to be left [count]

    Returns:
        factor of the maximum, its value that of the likely reserve [1]

    Source: nuzzo_2024 (people and the day).
    """
    failure, mean = behind(reps, reserve), lifters_for(exercise).mean
    likely, people = failure.likely, people_at(exercise, failure.likely.value)
    spread = combined(
        1 / mean.share_at(likely.value),
        (1 / people.above, 1 / people.below),
        (1 / mean.share_at(likely.low), 1 / mean.share_at(likely.high)),
    )
    return spread.scaled(mean.share_at(failure.stated))


def estimate_maximum(relation: Relation, exercise: str | None, done: DoneSet, *, lifted: float) -> Interval:
    """One-repetition maximum from a set.

    A relation other than the default keeps its own value and takes the relative spread of the meta-regression.

    Args:
        relation: any that is computed
        exercise: id; None for any lift
        done: the set
        lifted: heaviest load lifted in any set [kg]

    Returns:
        one-repetition maximum [kg]

    Source: the relation's own; nuzzo_2024 (people and the day), grgic_2020 (error of a test).
    """
    value = maximum(relation, done.load, done.failure)
    spread = spread_of_maximum(exercise, done.reps, done.reserve)
    ends = (spread.low, spread.high, 1 - TEST_ERROR, 1 + TEST_ERROR)
    return around(value, [value * end for end in ends]).at_least(lifted)


@lru_cache(maxsize=4096)
def spread_of_load(exercise: str | None, reps: float, reserve: float, target_reps: float) -> Interval:
    """The load for some repetitions on another day over what it is at the mean of people with the stated reserve.

    Args:
        exercise: id; None for any lift
        reps: done [count]
        reserve: stated to be left [count]
        target_reps: repetitions to failure wanted [count]

    Returns:
        factor of the load, its value that of the likely reserve [1]

    Source: nuzzo_2024 (people), mitter_2022 (days).
    """
    behind_it, lifters = shares_behind(exercise, reps, reserve), lifters_for(exercise)
    there, likely = lifters.mean.share_at(target_reps), behind_it.likely
    bad, good = _on_another_day(lifters.mean, target_reps)
    wanted = [one.share_at(target_reps) for one in lifters.people]
    spread = combined(
        there / likely,
        two_thirds([one / share for one, share in zip(wanted, behind_it.people, strict=True)]),
        (there / behind_it.least, there / behind_it.greatest),
        (bad / likely, good / likely),
    )
    return spread.scaled(behind_it.stated / there)


def estimate_load(
    relation: Relation, exercise: str | None, done: DoneSet, target_reps: float, *, lifted: float
) -> Interval:
    """Load for some repetitions to failure on another day, from a set.

    Args:
        relation: a curve relation
        exercise: id; None for any lift
        done: the set
        target_reps: repetitions to failure wanted [count]
        lifted: heaviest load lifted in any set for at least the repetitions wanted [kg]

    Returns:
        load [kg]

    Source: the relation's own; nuzzo_2024 (people), mitter_2022 (days).
    """
    value = done.load * share_of_max(relation, target_reps) / share_of_max(relation, done.failure)
    spread = spread_of_load(exercise, done.reps, done.reserve, target_reps)
    return around(value, (value * spread.low, value * spread.high)).raised(lifted)


def estimate_reps(
    relation: Relation, exercise: str | None, done: DoneSet, target_load: float, *, lifted: float
) -> Interval:
    """Repetitions to failure at a load on another day, from a set.

    Args:
        relation: a curve relation
        exercise: id; None for any lift
        done: the set
        target_load: load whose repetitions are wanted [kg]
        lifted: heaviest load lifted in any set [kg]

    Returns:
        repetitions to failure [count]

    Raises:
        Refusal: where the target load is outside the shares of the maximum that the relation covers

    Source: the relation's own; nuzzo_2024 (people), mitter_2022 (days).
    """
    top = max(lifted, done.load / share_of_max(relation, done.failure))
    value = reps_at_share(relation, target_load / top, top)
    behind_it, lifters = shares_behind(exercise, done.reps, done.reserve), lifters_for(exercise)
    mean, ratio = lifters.mean, target_load / done.load
    middle, day = mean.reps_at(behind_it.likely * ratio), day_error(behind_it.likely * ratio)
    spread = combined(
        middle,
        two_thirds([one.reps_at(share * ratio) for one, share in zip(lifters.people, behind_it.people, strict=True)]),
        (mean.reps_at(behind_it.least * ratio), mean.reps_at(behind_it.greatest * ratio)),
        (middle - day, middle + day),
    ).scaled(value / mean.reps_at(behind_it.stated * ratio))
    return around(value, (max(0.0, spread.low), spread.high))


def chosen_relation(exercise: str | None, relation: Relation | None) -> Relation:
    """The requested relation, or else the default for the lift."""
    return relation or relation_for(exercise)
