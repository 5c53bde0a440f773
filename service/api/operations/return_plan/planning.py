"""From the request to what the domain makes of it: a referral, something to confirm, or the case of a return with its plan."""

from __future__ import annotations

from typing import TypeAlias

import msgspec
from msgspec import UnsetType
from msgspec.structs import replace

from service.adjustment.clearance import Circumstances
from service.adjustment.demand import peak_moments, present_demand
from service.adjustment.prescription import Prescription, total_load
from service.adjustment.return_plan.plan import Plan, plan
from service.adjustment.return_plan.problem import ReturnCase
from service.adjustment.sore_region import check_comparable, check_loaded, check_measurable
from service.adjustment.triage import Stop, stop_before_planning
from service.api.models.base import or_default, stated, stated_count
from service.api.models.clearance import circumstances_of
from service.api.models.equipment import BarSetup, RoundDown, implement
from service.api.models.lifter import body_of
from service.api.models.prescription import lifters_prescription, load_on
from service.api.models.setup import located
from service.api.operations.return_plan.models import (
    ReturnPlan,
)
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.units import Mass, MassUnit


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
    region = request.region
    check_loaded(request.original.exercise, region, "region")
    body = body_of(request.lifter)
    original = lifters_prescription(request.original, request.lifter, "/original")
    adjusted = _completed(lifters_prescription(request.adjusted, request.lifter, "/adjusted"), original)
    _check_days(request, original, adjusted)
    if not total_load(original, body.mass) and total_load(adjusted, body.mass):
        raise Refusal.one(
            "adjusted/load", "The original has no load, and to none no way back from a load can be measured.", "0"
        )
    try:
        present = present_demand(body, original)
    except Refusal as refusal:
        raise located(refusal, "/original") from None
    try:
        peak_moments(body, adjusted)
    except Refusal as refusal:
        raise located(refusal, "/adjusted") from None
    check_comparable(present, region, "region")
    check_measurable(present, adjusted, region, "adjusted")
    unit = request.original.load.unit
    return ReturnCase(
        present,
        adjusted,
        region,
        or_default(request.step, CHOICES.return_plan.step),
        request.weeks_off,
        _held(request.bar, request.increment, unit),
        _tolerated(request),
    )


def _held(bar: BarSetup | UnsetType, increment: Mass | UnsetType, unit: MassUnit) -> RoundDown:
    try:
        return implement(bar, increment, unit, "")
    except Refusal as refusal:
        raise refusal.at({"//increment": "/increment"}) from None


def _tolerated(request: ReturnPlan) -> float | None:
    """The load of the original lift that is tolerated [kg]; pain above the green band is no tolerance."""
    tolerated = stated(request.tolerated)
    if tolerated is None or or_default(tolerated.pain, 0.0) > CHOICES.adjustments.green_up_to:
        return None
    return load_on(request.original.exercise, tolerated.load, "/tolerated/load")


def _completed(adjusted: Prescription, original: Prescription) -> Prescription:
    """The adjusted prescription with the original's tempo, rest and days where it states none, or the original none."""
    return replace(
        adjusted,
        tempo=adjusted.tempo or original.tempo,
        rest=original.rest if adjusted.rest is None else adjusted.rest,
        days=original.days if original.days is None or adjusted.days is None else adjusted.days,
    )


def _check_days(request: ReturnPlan, original: Prescription, adjusted: Prescription) -> None:
    most = stated(request.days_per_week_max)
    days = max(original.days or 1, adjusted.days or 1)
    if most is not None and days > most:
        raise Refusal.one(
            "days_per_week_max",
            f"One of the two prescriptions is done on {days} days a week, so no way between them has fewer.",
            f"at least {days}",
        )
