"""Where the answer of a review comes from, and the cautions that go with it."""

from __future__ import annotations

from collections.abc import Iterator

from service.adjustment.prescription import Prescription, reserve_is_a_bound
from service.adjustment.session_review.course import Course, weekly_rise
from service.adjustment.session_review.next_prescription import NextStep
from service.adjustment.triage import Referral
from service.adjustment.week.rise import WeekAround
from service.api.models.assumed_bar import assumed_bar
from service.api.models.common import Basis, cautions
from service.api.models.gym import is_on_bar
from service.api.models.way_back import cautions_of_keep
from service.api.models.week_of_lift import cautions_of_week
from service.api.operations.session_review.models import SessionReview
from service.api.operations.session_review.reading import gym_of_review
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.units import MassUnit, mass


def basis_of_review(request: SessionReview, step: NextStep, week: WeekAround | None) -> Basis:
    """The basis of an answer; week: that the lift was reviewed in, None by itself."""
    in_week = week is not None
    stop = step.verdict.referral
    signs = () if stop is None else stop.signs
    return Basis(
        method=message("method_session_review"),
        sources=list(
            dict.fromkeys(
                [
                    *(source for sign in signs for source in sign.sources),
                    *(source for rule in step.verdict.rules for source in rule.sources),
                    *("thomee_1997", "silbernagel_2007", "childs_2005", "smith_2019", "farrar_2001"),
                    *(("coenen_2014", "coenen_2012") if in_week else ()),
                    *("baechle_earle", "acsm_2009", "downie_2013", "design_choice"),
                ]
            )
        ),
        assumptions=[
            *_assumptions(),
            *([] if step.prescription is None and step.verdict.decision != "step_back" else _bar(request, step)),
            *([message("assumed_week_step", step=CHOICES.return_plan.step)] if in_week else []),
            *_assumed_of_signs(stop),
        ],
        evidence="practice",
    )


def _bar(request: SessionReview, step: NextStep) -> list[Message]:
    lifts = [request.prescription, request.previous, request.original, step.prescription]
    return assumed_bar(gym_of_review(request), lifts)


def _assumptions() -> list[Message]:
    ours, first = CHOICES.review, CHOICES.adjustments.first_step
    return [
        message("assumed_review_as_prescribed", sessions=ours.good_sessions),
        message("assumed_review_reserve"),
        message(
            "assumed_review_progress",
            most=ours.most_load_step,
            shortest=ours.hold.low,
            longest=ours.hold.high,
            longer=ours.hold.step,
        ),
        message(
            "assumed_review_choices",
            amber=first.amber,
            red=first.red,
            morning=ours.morning_hold,
            count=ours.steps_back.count,
            weeks=ours.steps_back.weeks,
            unsettled=ours.unsettled_weeks,
        ),
        message("assumed_review_improvement", weeks=ours.no_improvement.weeks, green=CHOICES.adjustments.green_up_to),
    ]


def _assumed_of_signs(stop: Referral | None) -> list[Message]:
    if stop is None:
        return [message("assumed_no_sign")]
    return [message("assumed_urgency"), message("assumed_single_sign")]


def cautions_of_review(
    request: SessionReview,
    step: NextStep,
    course: Course,
    present: Prescription,
    unit: MassUnit,
    week: WeekAround | None,
) -> list[Message]:
    """The cautions of an answer."""
    specific: list[str | Message] = []
    if step.verdict.judgement.tier == "red":
        specific.append(message("moderate_pain", limit=CHOICES.adjustments.amber_up_to))
    if weekly_rise(course.weekly_pain) is None:
        specific.append("no_weekly_history")
    if request.region not in EXERCISES[present.exercise].regions:
        specific.append(message("lift_does_not_load_region", exercise=present.exercise, region=request.region))
    if week is not None:
        known = step.of_week is not None or step.verdict.decision != "progress"
        specific += cautions_of_week(week, known=known)
    return cautions(*specific, *_of_next(request, step, present, unit))


def _of_next(request: SessionReview, step: NextStep, present: Prescription, unit: MassUnit) -> Iterator[str | Message]:
    """What to mind with what comes next."""
    if step.on_the_way is not None:
        yield from cautions_of_keep(step.on_the_way.case, request.keep)
    new = step.prescription
    if new is not None:
        if step.changed and step.verdict.decision != "hold" and step.on_the_way is None:
            yield "one_lever_at_a_time"
        if step.verdict.decision == "hold" and step.changed:
            yield "load_not_loadable"
        if new.exercise != present.exercise:
            yield "retest_variation"
        if reserve_is_a_bound(new):
            yield "reserve_is_a_bound"
        loads = gym_of_review(request)
        if not is_on_bar(new):
            step_of_one = loads.step_of(new.exercise, new.implement)
            yield message("loads_without_bar", step=mass(step_of_one, unit))
