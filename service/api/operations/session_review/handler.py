"""session-review: progress, hold, step back, confirm first or refer, from pain in session, next morning and over weeks."""

from __future__ import annotations

from math import isclose

import msgspec

from service.adjustment.clearance import to_confirm
from service.adjustment.prescription import Prescription
from service.adjustment.session_review.course import Course, weekly_rise
from service.adjustment.session_review.next_prescription import NextStep, next_step
from service.adjustment.session_review.rules import Rule, review
from service.adjustment.text.session_review import CONFIRMATION, review_words, rule_text, why, would_change
from service.adjustment.triage import Confirmation
from service.api.models.base import or_default
from service.api.models.clearance import circumstances_of, confirm, once_confirmed
from service.api.models.common import Basis, cautions
from service.api.models.equipment import STEP
from service.api.models.prescription import shown
from service.api.models.referral import refer
from service.api.operations.session_review.models import (
    ProfessionalReview,
    ReviewReasonAnswer,
    RuleFired,
    SessionReview,
    SessionReviewAnswer,
    course_of,
    works_of,
)
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.knowledge.signs import URGENCIES
from service.messages import Message, message
from service.training.volume import Reps
from service.units import Mass, MassUnit, si


def session_review(request: SessionReview) -> SessionReviewAnswer:
    """The decision about the next session. A red flag outranks everything; raises Refusal for crossed fields."""
    course = course_of(request)
    prescription, unit = request.prescription, request.prescription.load.unit
    if course.signs:  # nothing else about the request may stand in the way of a referral
        lift = Prescription(prescription.exercise, int(prescription.sets), Reps(1, 1), si(prescription.load))
        return _answer(request, NextStep(review(course, lift.sets, lift.reps), None, None), course, lift, unit)
    present, previous, loads = works_of(request)
    step = next_step(review(course, present.sets, present.reps), present, previous, loads)
    answer = _answer(request, step, course, present, unit)
    circumstances = circumstances_of(request.circumstances)
    conditions = to_confirm(circumstances)
    if conditions and not circumstances.confirmed:
        return _confirm_first(answer, Confirmation(conditions))
    return msgspec.structs.replace(answer, cautions=[*once_confirmed(circumstances), *answer.cautions])


def _confirm_first(answer: SessionReviewAnswer, stop: Confirmation) -> SessionReviewAnswer:
    """The review of a lifter whose circumstances nobody has confirmed yet: no plan, whatever the sessions were like."""
    first, basis = confirm(stop)
    return msgspec.structs.replace(
        answer,
        decision="confirm_first",
        rule=RuleFired(id="confirm_first", text=first.stop_rule.text, sources=basis.sources, known="design_choice"),
        other_rules=[],
        confirmation=first,
        professional_review=None,
        next=None,
        changed=None,
        why=[one.text for one in first.what_to_do],
        would_change=[CONFIRMATION],
        basis=basis,
    )


def _answer(
    request: SessionReview, step: NextStep, course: Course, present: Prescription, unit: MassUnit
) -> SessionReviewAnswer:
    verdict = step.verdict
    stop = verdict.referral
    first, *others = verdict.rules
    return SessionReviewAnswer(
        decision=verdict.decision,
        light=verdict.band,
        rule=_fired(first),
        other_rules=[_fired(rule) for rule in others],
        referral=None if stop is None else refer(stop)[0],
        confirmation=None,
        professional_review=None if stop is not None else _professional(step, course),
        good_sessions_in_a_row=verdict.good_sessions,
        next=None if step.work is None else shown(step.work, unit),
        changed=step.changed,
        why=why(step, course, present, REGIONS[request.region].name.lower(), unit),
        would_change=would_change(step),
        basis=_basis(step),
        cautions=_cautions(request, step, course, present, unit),
    )


def _fired(rule: Rule) -> RuleFired:
    return RuleFired(id=rule.id, text=rule_text(rule), sources=list(rule.sources), known=rule.known)


def _professional(step: NextStep, course: Course) -> ProfessionalReview | None:
    if not step.verdict.review:
        return None
    urgency = URGENCIES["hold_and_review"]
    return ProfessionalReview(
        urgency=urgency.id,
        what_to_do=message(f"urgency_{urgency.id}"),
        reasons=[ReviewReasonAnswer(id=reason, text=review_words(reason, course)) for reason in step.verdict.review],
    )


def _basis(step: NextStep) -> Basis:
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
                    *("baechle_earle", "acsm_2009", "design_choice"),
                ]
            )
        ),
        assumptions=_assumptions(),
        evidence="practice",
    )


def _assumptions() -> list[Message]:
    choices = CHOICES.review
    return [
        message("assumed_review_as_prescribed", sessions=choices.good_sessions),
        message("assumed_review_target"),
        message(
            "assumed_review_choices",
            lower=choices.load_step.squat,
            upper=choices.load_step.press,
            back=choices.step_back,
            morning=choices.morning_hold,
            count=choices.steps_back.count,
            weeks=choices.steps_back.weeks,
        ),
        message(
            "assumed_review_improvement", weeks=choices.no_improvement.weeks, green=CHOICES.adjustments.green_up_to
        ),
        message("assumed_urgency"),
    ]


def _cautions(
    request: SessionReview, step: NextStep, course: Course, present: Prescription, unit: MassUnit
) -> list[Message]:
    specific: list[str | Message] = []
    if step.verdict.band == "red":
        specific.append(message("moderate_pain", limit=CHOICES.adjustments.amber_up_to))
    if weekly_rise(course.weekly_pain) is None:
        specific.append("no_weekly_history")
    work = step.work
    if work is not None:
        if step.changed is not None:
            specific.append("one_lever_at_a_time")
        if step.changed in (None, "sets", "reps") and not isclose(work.load, present.load, rel_tol=1e-6):
            specific.append("load_not_loadable")
        if step.coarse:
            usual = CHOICES.review.load_step[EXERCISES[present.exercise].family]
            most, rise = CHOICES.review.most_load_step, work.load / present.load - 1
            specific.append(message("step_larger_than_usual", step=rise, usual=usual, most=most))
        if work.exercise != present.exercise:
            specific.append("retest_variation")
        if not EXERCISES[work.exercise].bar:
            increment = or_default(request.increment, Mass(STEP[unit], unit))
            specific.append(message("loads_without_bar", step=increment))
    return cautions(*specific)
