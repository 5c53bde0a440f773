"""A step on seen from the whole week: no larger than its bound, and one a week."""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from service.adjustment.prescription import Prescription
from service.adjustment.return_plan.plan import Step
from service.adjustment.return_plan.plan import next_step as next_on_the_way
from service.adjustment.return_plan.problem import ReturnCase
from service.adjustment.session_review.course import Course
from service.adjustment.session_review.progression import smaller_steps
from service.adjustment.week.rise import WeekAround, WeekRatio
from service.knowledge.design_choices import CHOICES


class StepInWeek(msgspec.Struct, frozen=True):
    """What a step adds to the whole week.

    Attributes:
        step: most that the week may rise [1]
        ratio: of the week with the step to the present one, None where no step is taken or it is not known
        too_much: the same for the step that is not taken since it would raise the week by more, None where none would
    """

    step: float
    ratio: WeekRatio | None
    too_much: WeekRatio | None = None


def week_is_over(course: Course, present: Prescription, week: WeekAround) -> bool:
    """Whether the present prescription was done on as many days as it has in a week: one change a week.

    Args:
        course: the sessions so far
        present: the prescription under review
        week: of which the lift is a part
    """
    return len(course.of_present) >= (present.days or week.days)


def within_week(
    week: WeekAround | None, present: Prescription, new: Prescription
) -> tuple[Prescription | None, StepInWeek | None]:
    """A step on, or a smaller one where the whole week asks for it.

    Args:
        week: of which the lift is a part, None where it is reviewed by itself
        present: what was done
        new: the step that the lift by itself allows

    Returns:
        the step, None where none is small enough, and what it adds to the week, None where that is not known
    """
    ratio = None if week is None else week.change(present, new)
    if week is None or ratio is None:
        return new, None
    step = CHOICES.return_plan.step
    if not ratio.is_above(step):
        return new, StepInWeek(step, ratio)
    for smaller in smaller_steps(present, new):
        less = week.change(present, smaller)
        if less is not None and not less.is_above(step):
            return smaller, StepInWeek(step, less, ratio)
    return None, StepInWeek(step, None, ratio)


def step_in_week(way_back: ReturnCase, step: Step) -> StepInWeek | None:
    """What a step of a way back adds to the whole week, and what the one would have that the lift by itself allows.

    Args:
        way_back: the return, in its week
        step: its next step
    """
    week = way_back.week
    if week is None or step.of_week is None:
        return None
    if step.over_week and step.prescription.exercise == way_back.adjusted.exercise:
        return StepInWeek(way_back.step, None, step.of_week)
    alone = next_on_the_way(replace(way_back, week=None))
    wished = None if alone is None else week.change(way_back.adjusted, alone.prescription)
    too_much = wished if wished is not None and wished.is_above(way_back.step) else None
    return StepInWeek(way_back.step, step.of_week, None if step.over_week else too_much)
