"""The prescription for next time: one lever changed by what the review decided, with a load that can be loaded.

Progress adds load by the family of the lift (acsm_2009: 2 to 10 %) or one repetition; a step back returns to the
previous prescription or takes off a part of the load. One lever at a time: with two nobody can say which one helped.
"""

from __future__ import annotations

from typing import Final, Protocol

import msgspec
from msgspec.structs import replace

from service.adjustment.prescription import Prescription
from service.adjustment.session_review.rules import RULES, Verdict
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.training.volume import Reps
from service.vocabulary import ReviewChange

_LOAD_TOLERANCE: Final = 1e-9
"""Relative difference below which two loads are one [1]."""


class Loads(Protocol):
    """What can be loaded for an exercise."""

    def down(self, exercise: str, load: float) -> float | None:
        """The heaviest load not above another one.

        Args:
            exercise: id of the exercise
            load: that is not exceeded [kg]

        Returns:
            The load [kg], None where there is none.
        """

    def above(self, exercise: str, load: float) -> float | None:
        """The lightest load heavier than another one.

        Args:
            exercise: id of the exercise
            load: that is exceeded [kg]

        Returns:
            The load [kg], None where there is none.
        """


class NextStep(msgspec.Struct, frozen=True):
    """The prescription for next time.

    Attributes:
        verdict: as it can be carried out
        work: what to do, None where the present one cannot be made smaller, or where a red flag stops it
        changed: what changed in it, None where nothing did
        coarse: whether the load rises by more than its usual step, because nothing between can be loaded
    """

    verdict: Verdict
    work: Prescription | None
    changed: ReviewChange | None
    coarse: bool = False


def asks_no_less(previous: Prescription, present: Prescription) -> bool:
    """Whether a previous prescription of the same lift is no step back from the present one in any respect."""
    days = previous.days, present.days
    return (
        previous.exercise == present.exercise
        and previous.load >= present.load
        and previous.sets >= present.sets
        and previous.reps.high >= present.reps.high
        and (None in days or (previous.days or 0) >= (present.days or 0))
    )


def next_step(verdict: Verdict, present: Prescription, previous: Prescription | None, loads: Loads) -> NextStep:
    """The prescription for next time.

    Args:
        verdict: what the review decided
        present: the prescription under review
        previous: a prescription to go back to, None where none is named
        loads: what can be loaded

    Returns:
        the next prescription with one lever changed at most; its load is loadable and not above what was decided

    Source: acsm_2009 for the span of a load step; the size of steps is our own choice.
    """
    if verdict.decision == "refer":
        return NextStep(verdict, None, None)
    loadable = loads.down(present.exercise, present.load)
    same = None if loadable is None else replace(present, load=loadable)
    if verdict.decision == "step_back":
        return _stepped_back(verdict, present, same, previous, loads)
    if same is None or verdict.decision == "hold":
        return NextStep(verdict, same, None)
    if verdict.rules[0].id == "surplus_reps":
        return _heavier(verdict, same, loads)
    return _more_reps(verdict, same)


def _stepped_back(
    verdict: Verdict, present: Prescription, same: Prescription | None, previous: Prescription | None, loads: Loads
) -> NextStep:
    if previous is not None:
        load = loads.down(previous.exercise, previous.load)
        if load is not None:
            return NextStep(verdict, replace(previous, load=load), "previous")
    lighter = loads.down(present.exercise, present.load * (1 - CHOICES.review.step_back))
    if present.load > 0 and lighter is not None and lighter < present.load:
        return NextStep(verdict, replace(present, load=lighter), "load")
    if same is not None and same.sets > 1:
        return NextStep(verdict, replace(same, sets=same.sets - 1), "sets")
    if same is not None and same.reps.high > 1:
        fewer = Reps(max(1, same.reps.low - 1), same.reps.high - 1)
        return NextStep(verdict, replace(same, reps=fewer), "reps")
    return NextStep(verdict, None, None)


def _heavier(verdict: Verdict, same: Prescription, loads: Loads) -> NextStep:
    if same.load <= 0:
        return _more_reps(verdict, same)
    step = CHOICES.review.load_step[EXERCISES[same.exercise].family]
    target = loads.down(same.exercise, same.load * (1 + step))
    if target is not None and target > same.load * (1 + _LOAD_TOLERANCE):
        return NextStep(verdict, replace(same, load=target), "load")
    nearest = loads.above(same.exercise, same.load)
    if nearest is not None and nearest <= same.load * (1 + CHOICES.review.most_load_step) * (1 + _LOAD_TOLERANCE):
        return NextStep(verdict, replace(same, load=nearest), "load", coarse=True)
    return _more_reps(verdict, same, at_the_top="no_small_plates")


def _more_reps(verdict: Verdict, same: Prescription, at_the_top: str = "top_of_range") -> NextStep:
    low, high = same.reps.low, same.reps.high
    if low < high:
        ruled = replace(verdict, rules=(RULES["one_more_rep"],))
        return NextStep(ruled, replace(same, reps=Reps(low + 1, high)), "reps")
    return NextStep(replace(verdict, decision="hold", rules=(RULES[at_the_top],)), same, None)
