"""Whole courses with the service as the only coach, and what must hold in each of them.

Every golden consultation and 200 random ones each time, 2,000 in the group nightly; with three lifters each: one to
whom all goes well, one who gets worse each morning, and a simulated one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from itertools import pairwise
from statistics import median
from typing import Final, Literal, get_args

import pytest

from tests.science.episodes.consultations import MODELS, Case, golden, random_case
from tests.science.episodes.demand import Scale
from tests.science.episodes.episode import Episode, Simulated, episode
from tests.science.episodes.invariants import (
    held_but_changed,
    impossible_prescriptions,
    refusals,
    too_large_steps,
    unnamed_changes,
)
from tests.science.episodes.scripted import AllGoesWell, WorseEachMorning

Lifter = Literal["good", "worse", "simulated"]
LIFTERS: Final[tuple[Lifter, ...]] = get_args(Lifter)
MOST_WEEKS: Final = 12
SHOWN: Final = 20
AS_LONG_AS_A_PLAN: Final = 52 * 7  # [days]
NOT_TAKEN: Final = (
    0.05  # share of random consultations that adjustments may refuse: the lift asks nothing of the region
)

each_lifter = pytest.mark.parametrize("lifter", LIFTERS)
each_number = pytest.mark.parametrize("count", [200, pytest.param(2000, marks=pytest.mark.nightly)])


@cache
def courses(lifter: Lifter, count: int) -> tuple[Episode, ...]:
    """The courses of the golden consultations, for a simulated lifter with each model, and of random ones."""
    models = MODELS if lifter == "simulated" else MODELS[:1]
    cases = [case for model in models for case in golden(model)] + [random_case(number) for number in range(count)]
    taken = [_course(lifter, case) for case in cases]
    return tuple(course for course in taken if course.visits[0].answer is not None)


def _course(lifter: Lifter, case: Case) -> Episode:
    if lifter == "simulated":
        return episode(case, Simulated(case.body))
    return episode(case, AllGoesWell() if lifter == "good" else WorseEachMorning(), AS_LONG_AS_A_PLAN)


def begun(lifter: Lifter, count: int) -> list[Episode]:
    """Courses in which there was something to do."""
    return [course for course in courses(lifter, count) if course.done]


def check(fault: Callable[[Episode], Iterator[str]], lifter: Lifter, count: int) -> None:
    none_of([line for course in courses(lifter, count) for line in fault(course)])


def none_of(lines: list[str]) -> None:
    """Fail with the first of many lines."""
    assert not lines, "\n".join([f"{len(lines)} faults", *lines[:SHOWN]])


@each_number
def test_adjustments_takes_nearly_every_consultation(count: int) -> None:
    assert len(courses("good", count)) >= (1 - NOT_TAKEN) * count
    assert len(begun("good", count)) >= 0.8 * count


@each_number
@each_lifter
def test_every_prescription_is_taken_unchanged_by_every_operation(lifter: Lifter, count: int) -> None:
    check(refusals, lifter, count)


@each_number
def test_a_lifter_to_whom_all_goes_well_gets_back_to_the_original(count: int) -> None:
    lost = [f"{one.case.name}: {one.ending}" for one in begun("good", count) if one.ending != "original"]
    none_of(lost)


@each_number
def test_the_way_back_from_pain_four_takes_twelve_weeks_at_most_for_most(count: int) -> None:
    back = [one.day / 7 for one in begun("good", count) if one.case.request["complaint"]["pain_in_session"] == 4]
    assert len(back) >= 20
    assert median(back) <= MOST_WEEKS


@each_number
def test_a_lifter_who_gets_worse_each_morning_ends_with_a_professional(count: int) -> None:
    lost = [f"{one.case.name}: {one.ending}" for one in begun("worse", count) if one.ending != "professional"]
    none_of(lost)


@each_number
def test_a_lifter_who_gets_worse_each_morning_never_gets_more(count: int) -> None:
    more = []
    for course in begun("worse", count):
        scale = Scale(course.case)
        asked = [scale.of(done.prescription) for done in course.done]
        for before, after in pairwise(asked):
            for name in ("peak", "session"):
                here, there = getattr(before, name), getattr(after, name)
                if here is not None and there is not None and there > here + 1e-6:
                    more.append(f"{course.case.name}: {name} from {here:.3f} to {there:.3f}")
        more += [course.case.name for _, answer in course.reviews if answer["decision"] == "progress"]
    none_of(more)


@each_number
@each_lifter
def test_no_step_is_larger_than_the_one_that_is_stated(lifter: Lifter, count: int) -> None:
    check(too_large_steps, lifter, count)


@each_number
@each_lifter
def test_what_protects_goes_only_by_a_change_that_is_named(lifter: Lifter, count: int) -> None:
    check(unnamed_changes, lifter, count)
    check(held_but_changed, lifter, count)


@each_number
@each_lifter
def test_everything_can_be_loaded_and_ends_far_enough_from_failure(lifter: Lifter, count: int) -> None:
    check(impossible_prescriptions, lifter, count)


def test_courses_are_as_varied_as_they_are_meant_to_be() -> None:
    every = courses("simulated", 400)
    changed = {name for course in every for _, answer in course.reviews for name in answer["changed"]}
    assert {"load", "reps", "range_of_motion", "cues", "tempo"} <= changed
    decisions = {answer["decision"] for course in every for _, answer in course.reviews}
    assert {"progress", "hold", "step_back", "back_to_original"} <= decisions
    assert {course.ending for course in every} >= {"original", "professional", "no_change"}


def test_a_course_is_the_same_every_time() -> None:
    one, other = (episode(random_case(7), Simulated(random_case(7).body)) for _ in range(2))
    assert one.visits == other.visits
    assert one.done == other.done
