"""A week of training as requests describe it."""

from __future__ import annotations

from typing import Annotated, Any, Final

from msgspec import Meta

from service.adjustment.prescription import Prescription as InSi
from service.adjustment.week.lifts import Asked, PlannedLift, asked_of_regions
from service.api.models.base import RequestModel
from service.api.models.common import whole
from service.api.models.lifter import Lifter
from service.api.models.prescription import Prescription, lifters_prescription
from service.api.models.setup import located
from service.errors import Refusal
from service.mechanics.body import Body

Day = Annotated[float, whole(1, 7)]


MOST_LIFTS: Final = 40


class PlannedSession(RequestModel, kw_only=True, frozen=True):
    """One lift on one day of the week; on two days it stands twice.

    Attributes:
        day: Day of the week, 1 to 7; the week comes round from 7 to 1.
        prescription: What is done on that day, without `days_per_week`.
    """

    day: Day
    prescription: Prescription


Week = Annotated[list[PlannedSession], Meta(min_length=1, max_length=MOST_LIFTS)]


def planned_lifts(week: list[PlannedSession], lifter: Lifter) -> list[PlannedLift]:
    """The lifts of a week in SI.

    Raises Refusal with pointers under /week for days a week, which a week has of its own, and for what cannot be done.
    """
    return [_planned(one, lifter, f"/week/{entry}/prescription") for entry, one in enumerate(week)]


def _planned(one: PlannedSession, lifter: Lifter, where: str) -> PlannedLift:
    if one.prescription.days_per_week is not None:
        raise Refusal.one(
            f"{where.lstrip('/')}/days_per_week", "In a week each lift stands on its own day.", "left out"
        )
    return PlannedLift(int(one.day), lifters_prescription(one.prescription, lifter, where, as_basis=False))


def asked_of_week(
    body: Body, lifts: list[PlannedLift], week: list[PlannedSession], lifter: Lifter
) -> list[dict[str, Asked]]:
    """What a repetition of each lift asks of every region, of the same on several days worked out once.

    Raises Refusal with pointers under /week for a posture that cannot be had.
    """
    by_lift: dict[InSi, dict[str, Asked]] = {}
    for entry, one in enumerate(lifts):
        if one.prescription not in by_lift:
            by_lift[one.prescription] = _asked(body, one, week[entry], lifter, f"/week/{entry}/prescription")
    return [by_lift[one.prescription] for one in lifts]


def _asked(body: Body, one: PlannedLift, session: PlannedSession, lifter: Lifter, where: str) -> dict[str, Asked]:
    try:
        return asked_of_regions(body, one.prescription)
    except Refusal as refusal:
        raise located(refusal, where, session.prescription, lifter) from None


def _lift(day: int, exercise: str, sets: int, low: int, high: int, load: float, reserve: float) -> dict[str, Any]:
    return {
        "day": day,
        "prescription": {
            "exercise": exercise,
            "sets": sets,
            "reps": {"low": low, "high": high},
            "load": {"value": load, "unit": "kg"},
            "reps_in_reserve": reserve,
        },
    }


DEMO_WEEK: Final = [
    _lift(1, "front_squat", 4, 5, 6, 62.5, 2),
    _lift(1, "barbell_row", 3, 8, 10, 42.5, 2),
    _lift(3, "deadlift_conventional", 3, 5, 5, 95, 2),
    _lift(5, "front_squat", 3, 6, 8, 57.5, 3),
    _lift(5, "romanian_deadlift", 3, 8, 8, 70, 2),
]
"""The week of the demo scenario."""
