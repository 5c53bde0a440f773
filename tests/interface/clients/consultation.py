"""A course of care with the generated client: a sore low back until all is as before, its red flag, and a batch."""

from __future__ import annotations

import sys

from adjustment_client import Client
from adjustment_client.api.catalogue import get_source
from adjustment_client.api.many_at_once import compute_batch
from adjustment_client.api.the_main_job import compute_adjustments, compute_return_plan, compute_session_review
from adjustment_client.models import (
    AdjustmentDecision,
    Adjustments,
    AdjustmentsAnswer,
    Aim,
    Batch,
    BatchAnswer,
    Complaint,
    DoneSet,
    ExerciseId,
    Length,
    LengthUnit,
    Lifter,
    LoadForReps,
    LoadForRepsItem,
    LoadForRepsResult,
    Mass,
    MassUnit,
    Prescription,
    PrescriptionAnswer,
    ReferralAnswer,
    RegionId,
    RepRange,
    ReturnPlan,
    ReturnPlanAnswer,
    ReviewDecision,
    SessionDone,
    SessionReview,
    SessionReviewAnswer,
    SignId,
    SourceEntry,
    SourceId,
    Target,
)


def kilograms(value: float) -> Mass:
    return Mass(value=value, unit=MassUnit.KG)


LIFTER = Lifter(body_mass=kilograms(64), stature=Length(value=168, unit=LengthUnit.CM))
SQUAT = Prescription(exercise=ExerciseId.FRONT_SQUAT, sets=4, reps=RepRange(low=5, high=6), load=kilograms(62.5))


def question(complaint: Complaint) -> Adjustments:
    return Adjustments(
        lifter=LIFTER,
        prescription=SQUAT,
        complaint=complaint,
        aim=Aim.STRENGTH,
    )


def asked(client: Client, complaint: Complaint) -> AdjustmentsAnswer:
    answer = compute_adjustments.sync(client=client, body=question(complaint))
    assert isinstance(answer, AdjustmentsAnswer), answer
    return answer


def sent_on(answered: PrescriptionAnswer) -> Prescription:
    """An answer's prescription as a question takes it: the same JSON, of which answers may have more one day."""
    return Prescription.from_dict(answered.to_dict())


def weeks_ahead(client: Client, option: Prescription) -> int:
    plan = ReturnPlan(lifter=LIFTER, original=SQUAT, adjusted=option, region=RegionId.LOW_BACK)
    answer = compute_return_plan.sync(client=client, body=plan)
    assert isinstance(answer, ReturnPlanAnswer), answer
    assert answer.weeks is not None
    weeks: int = answer.weeks.low
    return weeks


def reviewed(client: Client, now: Prescription, sessions: list[SessionDone]) -> SessionReviewAnswer:
    review = SessionReview(
        prescription=now,
        original=SQUAT,
        lifter=LIFTER,
        aim=Aim.STRENGTH,
        region=RegionId.LOW_BACK,
        usual_pain=1,
        sessions=sessions[-28:],
    )
    answer = compute_session_review.sync(client=client, body=review)
    assert isinstance(answer, SessionReviewAnswer), answer
    return answer


def course_of_care(client: Client, option: Prescription) -> list[str]:
    """From an option to the original, each prescription sent on as it was answered; what the reviews decided.

    Two good sessions of each prescription but one: the pain of the fifth session leads a step back.
    """
    decisions: list[str] = []
    sessions: list[SessionDone] = []
    now: Prescription | None = option
    while now is not None and ReviewDecision.BACK_TO_ORIGINAL.value not in decisions:
        pain = 6 if len(decisions) == 4 else 1
        reps = now.reps.high if isinstance(now.reps, RepRange) else 1
        sessions.append(SessionDone(pain_in_session=pain, pain_next_morning=1, reps_done=[reps] * int(now.sets)))
        review = reviewed(client, now, sessions)
        decisions.append(review.decision.value)
        if review.changed:
            for session in sessions:
                session.earlier_prescription = True
        now = None if review.next_ is None else sent_on(review.next_)
    return decisions


def batch(client: Client) -> BatchAnswer:
    done = DoneSet(load=kilograms(100), reps=5, reps_in_reserve=1)
    items = [
        LoadForRepsItem(operation="load-for-reps", id=f"row {row}", body=LoadForReps(set_=done, target=Target(reps)))
        for row, reps in ((1, 8), (2, 99))
    ]
    answer = compute_batch.sync(client=client, body=Batch(requests=[*items]))
    assert isinstance(answer, BatchAnswer), answer
    return answer


def consult(address: str) -> None:
    with Client(base_url=address, raise_on_unexpected_status=True) as client:
        found = asked(client, Complaint(region=RegionId.LOW_BACK, pain_in_session=4))
        assert found.decision is AdjustmentDecision.ADJUST
        best = found.options[0]
        print(f"adjust: {best.prescription.exercise}, {best.prescription.load.value:g} {best.prescription.load.unit}")
        print(f"ahead: {weeks_ahead(client, sent_on(best.prescription))} weeks")
        decisions = course_of_care(client, sent_on(best.prescription))
        print(f"course: {', '.join(sorted(set(decisions)))}, ends {decisions[-1]}")
        source = get_source.sync(SourceId(found.basis.sources[0]), client=client)
        assert isinstance(source, SourceEntry)
        print(f"known from: {source.known}")
        flagged = asked(
            client, Complaint(region=RegionId.LOW_BACK, pain_in_session=1, signs=[SignId.BILATERAL_LEG_SYMPTOMS])
        )
        assert flagged.decision is AdjustmentDecision.REFER
        assert isinstance(flagged.referral, ReferralAnswer)
        print(f"refer: {flagged.referral.urgency}")
        for result in batch(client).results:
            if isinstance(result, LoadForRepsResult):
                print(f"{result.id}: answered")
            else:
                print(f"{result.id}: refused, {result.status}")


if __name__ == "__main__":
    consult(sys.argv[1])
