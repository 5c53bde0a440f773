"""What `session-review` is asked: a prescription with the response to it, and its way into SI."""

from __future__ import annotations

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from service.adjustment import prescription as domain
from service.adjustment.session_review.course import Course, Session
from service.adjustment.session_review.next_prescription import asks_no_less
from service.adjustment.sore_region import check_loaded
from service.api.models.base import RequestModel, ResponseModel, omitted, or_default, stated, stated_count
from service.api.models.clearance import Circumstances, ConfirmationAnswer
from service.api.models.common import (
    Basis,
    positive,
    whole,
)
from service.api.models.equipment import STEP, Bar, BarSetup, GymLoads, bar_of
from service.api.models.ids import SignId
from service.api.models.prescription import Prescription, prescription_of
from service.api.models.referral import ReferralAnswer
from service.errors import Fault, Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.records import Known
from service.knowledge.signs import SIGNS
from service.messages import Message
from service.units import SI, Mass
from service.vocabulary import Band, Region, ReviewChange, ReviewDecision

PainFelt = Annotated[
    float, Meta(ge=0, le=10, description="Pain from 0 (none) to 10 (worst imaginable); decimals are fine.")
]


class SessionDone(RequestModel, kw_only=True, frozen=True):
    """One session of the lift and its night. pain_in_session is the worst in its working sets; reps_done are those of each set, in order."""

    pain_in_session: PainFelt
    pain_next_morning: PainFelt | UnsetType = UNSET
    swelling: bool = False
    sleep_lost: bool = False
    new_stiffness: bool = False
    form_lost: bool = False
    reps_done: (
        Annotated[
            list[Annotated[float, whole(0, 100, "Whole repetitions, 0 to 100.")]], Meta(min_length=1, max_length=50)
        ]
        | UnsetType
    ) = UNSET


class SessionReview(RequestModel, kw_only=True, frozen=True):
    """How a prescription was tolerated; the sessions of the last weeks with the newest last, of which the last two were done at this prescription."""

    prescription: Prescription
    region: Region
    sessions: Annotated[list[SessionDone], Meta(min_length=1, max_length=12)]
    usual_pain: PainFelt | UnsetType = UNSET
    weekly_pain: (
        Annotated[list[PainFelt], Meta(max_length=52, description="Mean pain of each week, oldest first.")] | UnsetType
    ) = UNSET
    weeks_since_start: (
        Annotated[float, Meta(ge=0, le=520, description="Weeks since the plan began, 0 to 520.")] | UnsetType
    ) = UNSET
    pain_at_start: PainFelt | UnsetType = UNSET
    signs: Annotated[list[SignId], Meta(max_length=len(SIGNS))] = []
    circumstances: Circumstances | UnsetType = UNSET
    previous: Prescription | None = None
    bar: BarSetup | UnsetType = UNSET
    increment: (
        Annotated[Mass, Meta(description="Step of the load where no bar is used, as from dumbbell to dumbbell.")]
        | UnsetType
    ) = UNSET


def course_of(request: SessionReview) -> Course:
    """The response so far as the rules take it."""
    days = request.prescription.days_per_week
    return Course(
        sessions=tuple(
            Session(
                one.pain_in_session,
                stated(one.pain_next_morning),
                one.swelling,
                one.sleep_lost,
                one.new_stiffness,
                one.form_lost,
                None if omitted(one.reps_done) else tuple(int(reps) for reps in or_default(one.reps_done, ())),
            )
            for one in request.sessions
        ),
        usual_pain=stated(request.usual_pain),
        weekly_pain=tuple(or_default(request.weekly_pain, ())),
        weeks_since_start=stated(request.weeks_since_start),
        pain_at_start=stated(request.pain_at_start),
        days_per_week=stated_count(days),
        signs=tuple(request.signs),
    )


def works_of(request: SessionReview) -> tuple[domain.Prescription, domain.Prescription | None, GymLoads]:
    """The prescription, the previous one if there is one, and what can be loaded. Raises Refusal with every fault."""
    unit = request.prescription.load.unit
    bar = bar_of(request.bar, unit)
    prescriptions = {"prescription": request.prescription, "previous": request.previous}
    faults = [
        Fault(
            f"/sessions/{index}/reps_done",
            "Repetitions are given for more sets than were prescribed.",
            f"1 to {request.prescription.sets:g} items",
        )
        for index, one in enumerate(request.sessions)
        if len(or_default(one.reps_done, ())) > request.prescription.sets
    ]
    try:
        check_loaded(request.prescription.exercise, request.region, "region")
    except Refusal as refusal:
        faults.extend(refusal.faults)
    step = STEP[unit] * SI[unit]
    increment = stated(request.increment)
    if increment is not None:
        try:
            step = positive(increment, "/increment")
        except Refusal as refusal:
            faults.extend(refusal.faults)
    works: list[domain.Prescription] = []
    for name, prescription in prescriptions.items():
        try:
            works.extend([] if prescription is None else [_loaded(prescription, name, bar)])
        except Refusal as refusal:
            faults.extend(refusal.faults)
    if not faults and works[1:] and asks_no_less(works[1], works[0]):
        faults.append(
            Fault(
                "/previous",
                "The previous prescription asks no less than the present one: it is no step back.",
                "a lighter load, fewer sets, repetitions or days, or another exercise",
            )
        )
    if faults:
        raise Refusal(tuple(faults))
    return works[0], works[1] if works[1:] else None, GymLoads(bar, step, tuple(work.load for work in works))


def _loaded(prescription: Prescription, name: str, bar: Bar) -> domain.Prescription:
    work = prescription_of(prescription, f"/{name}")
    on_the_bar = EXERCISES[work.exercise].bar and work.load > 0
    if on_the_bar and None in (bar.nearest(work.load, "down"), bar.nearest(work.load, "up")):
        raise Refusal.one(f"{name}/load", "The bar and its plates hold no such load.", bar.span)
    return work


class RuleFired(ResponseModel, kw_only=True, frozen=True):
    """A rule that fired; its id is stable. known says how far its source is known to us."""

    id: str
    text: str
    sources: list[str]
    known: Known


class ReviewReasonAnswer(ResponseModel, kw_only=True, frozen=True):
    """One reason for a review by a professional; the id is stable."""

    id: str
    text: str


class ProfessionalReview(ResponseModel, kw_only=True, frozen=True):
    """A doctor or physical therapist should look at this before anything is added."""

    urgency: str
    what_to_do: Message
    reasons: list[ReviewReasonAnswer]


class SessionReviewAnswer(ResponseModel, kw_only=True, frozen=True):
    """The decision and the rule behind it; the prescription for next time, null on referral or where nothing smaller is left.

    light: of the last session; other_rules: further rules that lead to the same decision; changed: what was changed in
    the prescription, null where nothing was.
    """

    decision: ReviewDecision
    light: Band
    rule: RuleFired
    other_rules: list[RuleFired]
    referral: ReferralAnswer | None
    confirmation: ConfirmationAnswer | None
    professional_review: ProfessionalReview | None
    good_sessions_in_a_row: int
    next: Prescription | None
    changed: ReviewChange | None
    why: list[str]
    would_change: list[str]
    basis: Basis
    cautions: list[Message]
