"""From the request to what the domain makes of it: a referral, something to confirm, or the case of a return with its plan."""

from __future__ import annotations

from typing import TypeAlias

import msgspec

from service.adjustment.clearance import Circumstances
from service.adjustment.prescription import Prescription
from service.adjustment.return_plan.plan import Plan, plan
from service.adjustment.return_plan.problem import ReturnCase
from service.adjustment.triage import Stop, stop_before_planning
from service.api.models.base import or_default, stated, stated_count
from service.api.models.clearance import circumstances_of
from service.api.models.gym import GymLoads, gym_of
from service.api.models.prescription import load_on
from service.api.models.way_back import way_back
from service.api.models.week_of_lift import week_of_lift
from service.api.operations.return_plan.models import (
    ReturnPlan,
)
from service.errors import Refusal, into
from service.knowledge.design_choices import CHOICES


class PlannedReturn(msgspec.Struct, frozen=True):
    """A return that was planned.

    Attributes:
        case: what was searched
        plan: the steps
        circumstances: of the lifter; what needs a professional's confirmation has it
    """

    case: ReturnCase
    plan: Plan
    circumstances: Circumstances


Verdict: TypeAlias = Stop | PlannedReturn


def planned(request: ReturnPlan) -> Verdict:
    """What the request comes to. A red flag outranks everything else; raises Refusal for what no method covers."""
    circumstances = circumstances_of(request.circumstances)
    stop = stop_before_planning(request.signs, circumstances)
    if stop is not None:
        return stop
    case = return_case(request)
    return PlannedReturn(case, plan(case, stated_count(request.longest)), circumstances)


def return_case(request: ReturnPlan) -> ReturnCase:
    """The return to be searched. Raises Refusal with pointers into the request."""
    case = way_back(
        request.lifter,
        request.original,
        request.adjusted,
        request.region,
        loads=gym_of_plan(request),
        step=or_default(request.step, CHOICES.return_plan.step),
        weeks_off=request.weeks_off,
        tolerated=_tolerated(request),
        week=week_of_lift(request.week, request.lifter, request.region, [request.original, request.adjusted]),
        keep=request.keep,
    )
    _check_days(request, case.original, case.adjusted)
    return case


def gym_of_plan(request: ReturnPlan) -> GymLoads:
    """What there is to lift with. Raises Refusal for an impossible gym."""
    return gym_of(request.gym, request.original.load.unit, "", bar=request.bar, increment=request.increment)


def _tolerated(request: ReturnPlan) -> float | None:
    """The load of the original lift that is tolerated [kg]; pain above the green band is no tolerance."""
    tolerated = stated(request.tolerated)
    if tolerated is None or or_default(tolerated.pain, 0.0) > CHOICES.adjustments.green_up_to:
        return None
    return load_on(request.original.exercise, tolerated.load, "/tolerated/load")


def _check_days(request: ReturnPlan, original: Prescription, adjusted: Prescription) -> None:
    most = stated(request.days_per_week_max)
    days = max(original.days or 1, adjusted.days or 1)
    if most is not None and days > most:
        raise Refusal.one(
            "days_per_week_max",
            f"One of the two prescriptions is done on {days} days a week, so no way between them has fewer.",
            f"at least {days}",
            change=into(most, days),
        )
