"""A consultation with the structs that datamodel-code-generator makes, sent by the standard library."""

from __future__ import annotations

import sys
import urllib.error
import urllib.request
from typing import TypeVar

import adjustment_models as models
import msgspec

Answer = TypeVar("Answer", bound=msgspec.Struct)
LIFTER = models.Lifter(body_mass=models.Mass(64, models.MassUnit.kg), stature=models.Length(168, models.LengthUnit.cm))


def squat(sets: int = 4) -> models.Prescription:
    load = models.Mass(62.5, models.MassUnit.kg)
    return models.Prescription(models.ExerciseId.front_squat, sets, load, reps=models.RepRange(5, 6))


def question(complaint: models.Complaint, prescription: models.Prescription) -> models.Adjustments:
    return models.Adjustments(LIFTER, prescription, complaint, models.Aim.strength)


def asked(path: str, body: msgspec.Struct, kind: type[Answer]) -> Answer:
    """The answer as the struct that it is said to be, checked by its types and bounds."""
    request = urllib.request.Request(
        sys.argv[1] + path, msgspec.json.encode(body), {"content-type": "application/json"}
    )
    try:
        with urllib.request.urlopen(request) as answer:
            text = answer.read()
    except urllib.error.HTTPError as refused:
        text = refused.read()
    return msgspec.json.decode(text, type=kind)


def consult() -> dict[str, object]:
    sore = models.Complaint(models.RegionId.low_back, 4)
    answer = asked("/v1/adjustments", question(sore, squat()), models.AdjustmentsAnswer)
    best = answer.options[0].prescription
    assert isinstance(best.reps, models.RepRangeAnswer)
    done = models.SessionDone(1, pain_next_morning=1, reps_done=[best.reps.high] * best.sets)
    review = asked(
        "/v1/session-review",
        models.SessionReview(
            msgspec.convert(msgspec.to_builtins(best), models.Prescription),
            models.RegionId.low_back,
            [done, done],
            original=squat(),
            lifter=LIFTER,
            aim=models.Aim.strength,
            usual_pain=1,
        ),
        models.SessionReviewAnswer,
    )
    sign = models.Complaint(models.RegionId.low_back, 1, signs=[models.SignId.bilateral_leg_symptoms])
    flagged = asked("/v1/adjustments", question(sign, squat()), models.AdjustmentsAnswer)
    refused = asked("/v1/adjustments", question(sore, squat(0)), models.Problem)
    assert isinstance(flagged.referral, models.ReferralAnswer)
    assert isinstance(refused.errors, list)
    return {
        "decision": answer.decision,
        "exercise": best.exercise,
        "load": best.load.value,
        "review": review.decision,
        "next": review.next.load.value if isinstance(review.next, models.PrescriptionAnswer) else None,
        "urgency": flagged.referral.urgency,
        "refused": refused.errors[0].pointer,
    }


if __name__ == "__main__":
    print(msgspec.json.encode(consult()).decode())
