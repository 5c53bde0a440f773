"""A consultation with the generated client: a sore low back, its red flag, and two questions in one batch."""

from __future__ import annotations

import sys

from adjustment_client import Client
from adjustment_client.api.catalogue import get_source
from adjustment_client.api.many_at_once import compute_batch
from adjustment_client.api.the_main_job import compute_adjustments
from adjustment_client.models import (
    Adjustments,
    AdjustmentsAim,
    AdjustmentsAnswer,
    AdjustmentsAnswerDecision,
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
    RegionId,
    RepRange,
    SignId,
    SourceEntry,
    SourceId,
    Target,
)


def kilograms(value: float) -> Mass:
    return Mass(value=value, unit=MassUnit.KG)


def question(complaint: Complaint) -> Adjustments:
    return Adjustments(
        lifter=Lifter(body_mass=kilograms(64), stature=Length(value=168, unit=LengthUnit.CM)),
        prescription=Prescription(
            exercise=ExerciseId.FRONT_SQUAT, sets=4, reps=RepRange(low=5, high=6), load=kilograms(62.5)
        ),
        complaint=complaint,
        aim=AdjustmentsAim.STRENGTH,
    )


def asked(client: Client, complaint: Complaint) -> AdjustmentsAnswer:
    answer = compute_adjustments.sync(client=client, body=question(complaint))
    assert isinstance(answer, AdjustmentsAnswer), answer
    return answer


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
        assert found.decision is AdjustmentsAnswerDecision.ADJUST
        best = found.options[0]
        print(f"adjust: {best.prescription.exercise}, {best.prescription.load.value:g} {best.prescription.load.unit}")
        source = get_source.sync(SourceId(found.basis.sources[0]), client=client)
        assert isinstance(source, SourceEntry)
        print(f"known from: {source.known}")
        flagged = asked(
            client, Complaint(region=RegionId.LOW_BACK, pain_in_session=1, signs=[SignId.BILATERAL_LEG_SYMPTOMS])
        )
        assert flagged.decision is AdjustmentsAnswerDecision.REFER
        assert flagged.referral is not None
        print(f"refer: {flagged.referral.urgency}")
        for result in batch(client).results:
            if isinstance(result, LoadForRepsResult):
                print(f"{result.id}: answered")
            else:
                print(f"{result.id}: refused, {result.status}")


if __name__ == "__main__":
    consult(sys.argv[1])
