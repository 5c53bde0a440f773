"""A consultation with the pydantic models that datamodel-code-generator makes, sent by the standard library."""

from __future__ import annotations

import json
import sys
import urllib.error
import urllib.request
from typing import TypeVar

import adjustment_models as models
from pydantic import BaseModel

Answer = TypeVar("Answer", bound=BaseModel)
LIFTER = models.Lifter(
    body_mass=models.Mass(value=64, unit=models.MassUnit.kg),
    stature=models.Length(value=168, unit=models.LengthUnit.cm),
)
SQUAT = models.Prescription(
    exercise=models.ExerciseId.front_squat,
    sets=4,
    reps=models.RepRange(low=5, high=6),
    load=models.Mass(value=62.5, unit=models.MassUnit.kg),
)


def question(complaint: models.Complaint, prescription: models.Prescription = SQUAT) -> models.Adjustments:
    return models.Adjustments(lifter=LIFTER, prescription=prescription, complaint=complaint, aim=models.Aim.strength)


def asked(path: str, body: BaseModel, kind: type[Answer]) -> Answer:
    """The answer as the model that it is said to be, checked by its types and bounds."""
    text = body.model_dump_json(exclude_unset=True).encode()
    request = urllib.request.Request(sys.argv[1] + path, text, {"content-type": "application/json"})
    try:
        with urllib.request.urlopen(request) as answer:
            return kind.model_validate_json(answer.read())
    except urllib.error.HTTPError as refused:
        return kind.model_validate_json(refused.read())


def consult() -> dict[str, object]:
    sore = models.Complaint(region=models.RegionId.low_back, pain_in_session=4)
    answer = asked("/v1/adjustments", question(sore), models.AdjustmentsAnswer)
    best = answer.options[0].prescription
    assert best.reps is not None
    done = models.SessionDone(pain_in_session=1, pain_next_morning=1, reps_done=[best.reps.high] * best.sets)
    review = asked(
        "/v1/session-review",
        models.SessionReview(
            prescription=models.Prescription.model_validate_json(best.model_dump_json(exclude_unset=True)),
            original=SQUAT,
            lifter=LIFTER,
            aim=models.Aim.strength,
            region=models.RegionId.low_back,
            usual_pain=1,
            sessions=[done, done],
        ),
        models.SessionReviewAnswer,
    )
    sign = sore.model_copy(update={"pain_in_session": 1, "signs": [models.SignId.bilateral_leg_symptoms]})
    flagged = asked("/v1/adjustments", question(sign), models.AdjustmentsAnswer)
    refused = asked("/v1/adjustments", question(sore, SQUAT.model_copy(update={"sets": 0})), models.Problem)
    assert flagged.referral is not None
    assert refused.errors is not None
    return {
        "decision": answer.decision.value,
        "exercise": best.exercise.value,
        "load": best.load.value,
        "review": review.decision.value,
        "next": None if review.next is None else review.next.load.value,
        "urgency": flagged.referral.urgency,
        "refused": refused.errors[0].pointer,
    }


if __name__ == "__main__":
    print(json.dumps(consult()))
