"""Loads, repetitions and maxima by a lifter's own curve, with its error and that of the day as the interval: 68 %.

The error of the curve has that of the stated reserves in it. That more is left than is stated moves the ends and never
the value; and as by the published relations, no maximum is below the heaviest load lifted.
"""

from __future__ import annotations

from math import hypot

from service.errors import Refusal, into
from service.intervals import Interval, around
from service.training.individual_profile import OwnCurve
from service.training.repetition_errors import day_error
from service.training.repetition_maximum import TEST_ERROR


def own_load(curve: OwnCurve, reps: float, *, lifted: float) -> Interval:
    """Load for some repetitions on another day by the lifter's own curve, with the error of the curve and of the day.

    Args:
        curve: the lifter's own
        reps: repetitions to failure [count]
        lifted: heaviest load lifted in any set for at least so many repetitions [kg]

    Returns:
        load [kg]

    Source: mitter_2022 (days).
    """
    load = curve.load_at(reps)
    likely, error = reps - curve.understated, hypot(curve.reps_error(load), _own_day_error(curve, load))
    return around(load, (curve.load_at(likely + error), curve.load_at(likely - error))).raised(lifted)


def own_maximum(curve: OwnCurve, *, lifted: float) -> Interval:
    """One-repetition maximum by the lifter's own curve, no narrower than the test of a maximum repeats.

    Args:
        curve: the lifter's own
        lifted: heaviest load lifted in any set [kg]

    Returns:
        one-repetition maximum [kg]

    Source: grgic_2020 (error of a test).
    """
    top = curve.load_at(1)
    likely, error = 1 - curve.understated, curve.reps_error(top)
    ends = (
        curve.load_at(likely + error),
        curve.load_at(likely - error),
        top * (1 - TEST_ERROR),
        top * (1 + TEST_ERROR),
    )
    return around(top, ends).at_least(lifted)


def own_reps(curve: OwnCurve, load: float, *, lifted: float) -> Interval:
    """Repetitions to failure at a load on another day by the lifter's own curve, with the error of curve and day.

    Args:
        curve: the lifter's own
        load: mass lifted [kg]
        lifted: heaviest load lifted in any set [kg]

    Returns:
        repetitions to failure [count]

    Raises:
        Refusal: for a load above the maximum

    Source: mitter_2022 (days).
    """
    top = own_maximum(curve, lifted=lifted).value
    if load > top:
        detail = "The load is above the maximum of the lifter's own curve."
        raise Refusal.one("load", detail, f"up to {top:.4g} kg", change=into(load, high=top))
    reps = max(1.0, curve.reps_at(load))
    error, likely = hypot(curve.reps_error(load), _own_day_error(curve, load)), reps + curve.understated
    return around(reps, (max(0.0, likely - error), likely + error))


def _own_day_error(curve: OwnCurve, load: float) -> float:
    return day_error(min(1.0, load / curve.load_at(1)))
