"""session-review: progress, hold, step back, back to the original or refer, from pain, mornings, weeks and work done."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
from msgspec import UNSET, UnsetType

from service.adjustment.clearance import to_confirm
from service.adjustment.meanwhile import meanwhile
from service.adjustment.prescription import Prescription
from service.adjustment.session_review.course import Course
from service.adjustment.session_review.next_prescription import NextStep, next_step
from service.adjustment.session_review.rules import Rule, review
from service.adjustment.text.review_due import review_words
from service.adjustment.text.review_rules import rule_words, would_change
from service.adjustment.text.session_review import stopped_by_pain, why
from service.adjustment.triage import Confirmation
from service.adjustment.week.rise import WeekAround
from service.api.models.assumed_bar import lighter_bar
from service.api.models.clearance import circumstances_of, confirm, once_confirmed
from service.api.models.pause import meanwhile_answer, paused
from service.api.models.prescription_shown import shown
from service.api.models.referral import refer
from service.api.models.way_back import trial_set
from service.api.models.week_of_lift import WeekRatioAnswer, week_ratio_answer
from service.api.operations.session_review.basis import basis_of_review, cautions_of_review
from service.api.operations.session_review.models import (
    ProfessionalReview,
    RuleFired,
    SessionReview,
    SessionReviewAnswer,
)
from service.api.operations.session_review.reading import course_of, gym_of_review, reviewed_of
from service.knowledge.catalogue import EXERCISES
from service.messages import Message, message
from service.training.volume import Reps
from service.units import si


def session_review(request: SessionReview) -> SessionReviewAnswer:
    """The decision about the next session. A red flag outranks everything; raises Refusal for crossed fields."""
    course = course_of(request)
    if course.signs:  # nothing else about the request may stand in the way of a referral
        lift = Prescription(request.prescription.exercise, int(request.prescription.sets), Reps(1, 1), 0.0)
        return _answer(request, NextStep(review(course, lift)), course, lift)
    reviewed = reviewed_of(request)
    present = reviewed.present
    if reviewed.week is not None and reviewed.week.listed and course.days_per_week is None:
        course = msgspec.structs.replace(course, days_per_week=reviewed.week.listed)
    circumstances = circumstances_of(request.circumstances)
    conditions = to_confirm(circumstances)
    if conditions and not circumstances.confirmed:
        step = NextStep(review(course, present))
        by_pain = stopped_by_pain(step, course, request.region)
        return _confirm_first(_answer(request, step, course, present), Confirmation(conditions), by_pain)
    original = None if reviewed.way_back is None else reviewed.way_back.original
    step = next_step(review(course, present, original), course, reviewed)
    answer = _answer(request, step, course, present, reviewed.week)
    return msgspec.structs.replace(answer, cautions=[*once_confirmed(circumstances), *answer.cautions])


def _confirm_first(answer: SessionReviewAnswer, stop: Confirmation, by_pain: Sequence[Message]) -> SessionReviewAnswer:
    """The review of a lifter whose circumstances nobody has confirmed yet: no plan, whatever the sessions were like."""
    first, basis = confirm(stop)
    return msgspec.structs.replace(
        answer,
        decision="confirm_first",
        rule=RuleFired(
            id="confirm_first",
            message=first.stop_rule,
            sources=basis.sources,
            known="design_choice",
        ),
        other_rules=[],
        confirmation=first,
        meanwhile=[],
        professional_review=None,
        next=None,
        changed=[],
        why=[*by_pain, *first.what_to_do],
        would_change=[message("review_confirmation")],
        basis=basis,
    )


def _answer(
    request: SessionReview,
    step: NextStep,
    course: Course,
    present: Prescription,
    week: WeekAround | None = None,
) -> SessionReviewAnswer:
    verdict, unit = step.verdict, request.prescription.load.unit
    stop, way = verdict.referral, step.on_the_way
    first, *others = verdict.rules
    instead = _meanwhile(request, step)
    return SessionReviewAnswer(
        decision=verdict.decision,
        tier=verdict.judgement.tier,
        rule=_fired(first),
        other_rules=[_fired(rule) for rule in others],
        referral=None if stop is None else refer(stop)[0],
        confirmation=None,
        pause=paused(verdict.judgement, request.region) if stop is None or stop.leaves_training else None,
        meanwhile=meanwhile_answer(instead),
        professional_review=None if stop is not None else _professional(step, course),
        good_sessions_in_a_row=verdict.good_sessions,
        next=None if step.prescription is None else shown(step.prescription, unit),
        test_first=None if way is None else trial_set(way.case, way.case.adjusted, way.step, unit),
        changed=list(step.changed),
        of_week=_of_week(request, step),
        why=[
            *why(step, course, present, request.region, unit, something_else=bool(instead), in_week=week is not None),
            *_lighter_bar(request, step),
        ],
        would_change=would_change(step, course),
        basis=basis_of_review(request, step, week),
        cautions=cautions_of_review(request, step, course, present, unit, week),
    )


def _lighter_bar(request: SessionReview, step: NextStep) -> list[Message]:
    """Where a step back leaves nothing of the lift, or the bar alone: that this goes by a bar that was assumed."""
    loads, left = gym_of_review(request), step.prescription
    lowest = step.verdict.decision == "step_back" and (left is None or left.load <= si(loads.bar.empty))
    return lighter_bar(loads, request.prescription) if lowest else []


def _of_week(request: SessionReview, step: NextStep) -> WeekRatioAnswer | UnsetType | None:
    if not request.week:
        return UNSET
    ratio = None if step.of_week is None else step.of_week.ratio
    return None if ratio is None else week_ratio_answer(ratio)


def _meanwhile(request: SessionReview, step: NextStep) -> dict[str, tuple[str, ...]]:
    """What loads none of the region, of what there is to lift with, where a review leaves nothing of the lift.

    The lift itself is none of it: it hurt, whatever the catalogue says of what it loads.
    """
    decision = step.verdict.decision
    if decision != "pause_and_review" and not (decision == "step_back" and step.prescription is None):
        return {}
    loads, stopped = gym_of_review(request), request.prescription.exercise
    return meanwhile({request.region}, [one for one in EXERCISES if one != stopped and loads.can_lift(one)])


def _fired(rule: Rule) -> RuleFired:
    return RuleFired(id=rule.id, message=rule_words(rule), sources=list(rule.sources), known=rule.known)


def _professional(step: NextStep, course: Course) -> ProfessionalReview | None:
    if not step.verdict.review:
        return None
    return ProfessionalReview(
        urgency="hold_and_review",
        what_to_do=message("urgency_hold_and_review"),
        reasons=[review_words(reason, course) for reason in step.verdict.review],
    )
