"""From the request to what the domain makes of it: a referral, something to confirm, no change, or a case with its options."""

from __future__ import annotations

from typing import TypeAlias

import msgspec
from msgspec.structs import replace

from service.adjustment.clearance import Circumstances
from service.adjustment.consultation import Case
from service.adjustment.demand import Present, present_demand, region_ratio
from service.adjustment.options.selection import Selection, select
from service.adjustment.prescription import Prescription
from service.adjustment.sore_region import check_comparable, check_loaded
from service.adjustment.triage import Pain, Stop, band, first_step, stop_before_planning
from service.api.models.base import omitted, or_default, stated, stated_count, stated_si
from service.api.models.clearance import circumstances_of
from service.api.models.gym import GymLoads, check_not_above, gym_of, with_usual_racks
from service.api.models.lifter import body_of
from service.api.models.prescription import lifters_prescription, load_on
from service.api.models.setup import located
from service.api.operations.adjustments.models import Adjustments, Constraints
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.knowledge.substitutions import SUBSTITUTES
from service.vocabulary import LEVERS, Band, Implement


class NoChange(msgspec.Struct, frozen=True):
    """Pain in the band in which training goes on as it is."""

    pain: Pain


class Consultation(msgspec.Struct, frozen=True):
    """A consultation that was searched.

    Attributes:
        case: what was searched
        pain: as reported
        level: band of the pain
        circumstances: of the lifter; what needs a professional's confirmation has it
        selection: the options and what fell
    """

    case: Case
    pain: Pain
    level: Band
    circumstances: Circumstances
    selection: Selection


Verdict: TypeAlias = Stop | NoChange | Consultation


def consult(request: Adjustments) -> Verdict:
    """What the consultation comes to. A red flag outranks everything; raises Refusal for what no method covers."""
    complaint = request.complaint
    circumstances = circumstances_of(request.circumstances, stated(complaint.pain_at_rest))
    stop = stop_before_planning(complaint.signs, circumstances)
    if stop is not None:
        return stop
    check_loaded(request.prescription.exercise, complaint.region, "complaint/region")
    pain = Pain(complaint.pain_in_session, stated(complaint.pain_next_morning), stated(complaint.usual_pain))
    level = band(pain)
    if level == "green" and omitted(complaint.tolerated):
        return NoChange(pain)
    case = case_of(request, level)
    return Consultation(case, pain, level, circumstances, select(case, int(request.limit)))


def case_of(request: Adjustments, level: Band) -> Case:
    """The case to be searched. Raises Refusal with pointers into the request."""
    body = body_of(request.lifter)
    now = lifters_prescription(request.prescription, request.lifter)
    region, limits = request.complaint.region, or_default(request.constraints, Constraints())
    try:
        present = present_demand(body, now, region, *limits.spare)
    except Refusal as refusal:
        raise located(refusal, "/prescription") from None
    check_comparable(present, region, "complaint/region")
    unit = request.prescription.load.unit
    loads = gym_of(limits.gym, unit, "/constraints", bar=limits.bar, increment=limits.increment)
    check_not_above(loads, now, unit, "prescription")
    loads = with_usual_racks(loads, now)
    implements = _implements(loads, now.exercise)
    lightest = stated_si(limits.lightest_load) or 0.0
    return Case(
        present,
        region,
        _target_ratio(request, present, level, lightest),
        request.aim,
        frozenset(or_default(limits.levers, LEVERS)),
        (frozenset(or_default(limits.exercises, EXERCISES)) - set(limits.exclude)) & implements.keys(),
        _most_days(limits, now),
        lightest or -body.mass,
        loads.down,
        now.exercise in limits.exclude or not loads.holds(now),
        {exercise: implement for exercise, implement in implements.items() if implement is not None},
        request.complaint.pain_in_session,
        CHOICES.adjustments.most_session_exposure["red" if level == "red" else "amber"],
        frozenset(limits.spare),
        () if now.exercise in limits.exclude else loads.others_for(now),
    )


def _implements(loads: GymLoads, present: str) -> dict[str, Implement | None]:
    """What each substitute that can be done in the gym would be lifted with, None for what it usually is."""
    substitutes = (one.exercise for one in SUBSTITUTES.get(present, ()))
    return {exercise: loads.implement_for(exercise) for exercise in substitutes if loads.can_lift(exercise)}


def _most_days(limits: Constraints, now: Prescription) -> int:
    """Days a week on which the lift may be trained. Raises Refusal where there are too many now and days must stay."""
    most = stated_count(limits.days_per_week_max)
    if most is None:
        return max(CHOICES.adjustments.most_days, now.days or 0)
    fixed = "days" not in or_default(limits.levers, LEVERS)
    if fixed and now.days is not None and now.days > most:
        raise Refusal.one(
            "constraints/days_per_week_max",
            f"The lift is trained on {now.days} days a week now, and days are not among the levers.",
            f"at least {now.days}, or days among constraints/levers",
        )
    return most


def _target_ratio(request: Adjustments, present: Present, level: Band, lightest: float) -> float:
    """The share to which the demand is brought: of the tolerated load, else by the pain; not below the lightest load's."""
    tolerated = stated(request.complaint.tolerated)
    if tolerated is None:
        target = first_step(level)
    else:
        load = load_on(present.prescription.exercise, tolerated.load, "/complaint/tolerated/load")
        if load >= present.prescription.load:
            raise Refusal.one(
                "complaint/tolerated/load",
                "The tolerated load must be lighter than the prescribed one.",
                "less than prescription/load",
            )
        target = _ratio_at(request, present, load, "/complaint/tolerated/load")
    if not lightest:
        return target
    if lightest >= present.prescription.load:
        raise Refusal.one(
            "constraints/lightest_load", "Nothing lighter than now would be left to try.", "less than prescription/load"
        )
    return max(target, _ratio_at(request, present, lightest, "/constraints/lightest_load"))


def _ratio_at(request: Adjustments, present: Present, load: float, pointer: str) -> float:
    """Demand of the sore region with another load [kg] of the same lift, against the present [1].

    In proportion to the load where nothing is computed.
    """
    try:
        ratio = region_ratio(present, replace(present.prescription, load=load), request.complaint.region)
    except Refusal as refusal:
        raise refusal.at({fault.pointer: pointer for fault in refusal.faults}) from None
    return load / present.prescription.load if ratio is None else ratio
