"""A week of training as requests describe it."""

from __future__ import annotations

from typing import Annotated

from service.adjustment.week.lifts import PlannedLift
from service.api.models.base import RequestModel
from service.api.models.common import whole
from service.api.models.lifter import Lifter
from service.api.models.prescription import Prescription, lifters_prescription
from service.errors import Refusal

Day = Annotated[float, whole(1, 7, "Day of the week, 1 to 7; the week comes round from 7 to 1.")]


class PlannedSession(RequestModel, kw_only=True, frozen=True):
    """One lift on one day of the week; on two days it stands twice."""

    day: Day
    prescription: Prescription


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
