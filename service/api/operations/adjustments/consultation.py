"""From the request to what the domain makes of it: a referral, something to confirm, a pause, no change, or a case with its options."""

from __future__ import annotations

from collections.abc import Collection
from typing import TypeAlias

import msgspec
from msgspec.structs import replace

from service.adjustment.clearance import Circumstances
from service.adjustment.complaint import Complaint
from service.adjustment.consultation import Case
from service.adjustment.demand import region_ratio
from service.adjustment.meanwhile import meanwhile
from service.adjustment.options.selection import Selection, select
from service.adjustment.prescription import Prescription
from service.adjustment.present import Present, present_demand
from service.adjustment.triage import Judgement, Pain, Stop, first_step, judged, stop_before_planning
from service.api.models.base import omitted, or_default, stated, stated_count, stated_si
from service.api.models.clearance import circumstances_of
from service.api.models.gym import GymLoads, check_not_above, gym_of, with_usual_racks
from service.api.models.lifter import body_of
from service.api.models.prescription import lifters_prescription, load_on
from service.api.models.setup import located
from service.api.operations.adjustments.models import Adjustments, Constraints
from service.api.operations.adjustments.models import Complaint as ComplaintModel
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.knowledge.substitutions import SUBSTITUTES
from service.units import MassUnit
from service.vocabulary import LEVERS, Implement


class NoChange(msgspec.Struct, frozen=True):
    """Pain in the tier in which training goes on as it is."""

    judgement: Judgement


class Paused(msgspec.Struct, frozen=True):
    """Pain at which nothing that loads the region is prescribed.

    Attributes:
        judgement: which score, by which rule
        meanwhile: ids of exercises that load none of it, by muscle
    """

    judgement: Judgement
    meanwhile: dict[str, tuple[str, ...]]


class Consultation(msgspec.Struct, frozen=True):
    """A consultation that was searched.

    Attributes:
        case: what was searched
        complaint: as it is told
        pain: as reported
        judgement: what the pain allows
        circumstances: of the lifter; what needs a professional's confirmation has it
        selection: the options and what fell
        meanwhile: where no option is left in the red tier, exercises that do not load the region, by muscle
    """

    case: Case
    complaint: Complaint
    pain: Pain
    judgement: Judgement
    circumstances: Circumstances
    selection: Selection
    meanwhile: dict[str, tuple[str, ...]]


Verdict: TypeAlias = Stop | Paused | NoChange | Consultation


def pain_of(complaint: ComplaintModel) -> Pain:
    """The pain as reported."""
    return Pain(
        complaint.pain_in_session,
        stated(complaint.pain_next_morning),
        stated(complaint.usual_pain),
        stated(complaint.pain_at_rest),
    )


def consult(request: Adjustments) -> Verdict:
    """What the consultation comes to. A red flag outranks everything; raises Refusal for what no method covers."""
    complaint = request.complaint
    circumstances = circumstances_of(request.circumstances)
    stop = stop_before_planning(complaint.signs, circumstances)
    if stop is not None:
        return stop
    told, judgement = told_of(complaint), judged_of(complaint)
    if judgement.tier == "pause":
        return Paused(judgement, _meanwhile(request))
    if judgement.tier == "green" and omitted(complaint.tolerated):
        return NoChange(judgement)
    case = case_of(request, told, judgement)
    selection = select(case, int(request.limit))
    instead = _meanwhile(request) if case.only_sure and not selection.ranked else {}
    return Consultation(case, told, pain_of(complaint), judgement, circumstances, selection, instead)


def judged_of(complaint: ComplaintModel) -> Judgement:
    """What the pain of a complaint allows."""
    return judged(pain_of(complaint), after_adjustment=complaint.after_adjustment)


def _meanwhile(request: Adjustments) -> dict[str, tuple[str, ...]]:
    """What loads neither the sore region nor one to be spared, of what may and can be done, by muscle.

    The present lift is stopped, so it is none of it: it hurt, whatever the catalogue says of what it loads.
    """
    limits = or_default(request.constraints, Constraints())
    loads = _loads(limits, request.prescription.load.unit)
    usable = _allowed(
        limits, [one for one in EXERCISES if one != request.prescription.exercise and loads.can_lift(one)]
    )
    return meanwhile({request.complaint.region, *request.complaint.also, *limits.spare}, usable)


def _loads(limits: Constraints, unit: MassUnit) -> GymLoads:
    return gym_of(limits.gym, unit, "/constraints", bar=limits.bar, increment=limits.increment)


def _allowed(limits: Constraints, possible: Collection[str]) -> frozenset[str]:
    """Ids of the exercises that may and can be done; possible: those for which there is something to lift."""
    return (frozenset(or_default(limits.exercises, EXERCISES)) - set(limits.exclude)).intersection(possible)


def told_of(complaint: ComplaintModel) -> Complaint:
    """The complaint as the domain takes it. Raises Refusal for a further region that is named already."""
    for index, region in enumerate(complaint.also):
        if region in (complaint.region, *complaint.also[:index]):
            raise Refusal.one(f"complaint/also/{index}", "This region is named already.", "another region, or none")
    return Complaint(
        complaint.region,
        tuple(complaint.also),
        stated(complaint.side),
        tuple(dict.fromkeys(complaint.provoked_by)),
        stated(complaint.painful_range),
        stated(complaint.weeks),
        stated(complaint.onset),
    )


def case_of(request: Adjustments, told: Complaint, judgement: Judgement) -> Case:
    """The case to be searched. Raises Refusal with pointers into the request."""
    body = body_of(request.lifter)
    now = lifters_prescription(request.prescription, request.lifter)
    region, limits = told.region, or_default(request.constraints, Constraints())
    try:
        present = present_demand(body, now, *told.also, *limits.spare, sore=region)
    except Refusal as refusal:
        raise located(refusal, "/prescription", request.prescription, request.lifter) from None
    unit = request.prescription.load.unit
    loads = _loads(limits, unit)
    check_not_above(loads, now, unit, "prescription")
    loads = with_usual_racks(loads, now)
    implements = _implements(loads, now.exercise)
    lightest = stated_si(limits.lightest_load) or 0.0
    of_tolerated = _tolerated_ratio(request, present)
    return Case(
        present,
        region,
        _target_ratio(request, present, judgement, of_tolerated, lightest),
        request.aim,
        frozenset(or_default(limits.levers, LEVERS)),
        _allowed(limits, implements),
        _most_days(limits, now),
        lightest or -body.mass,
        loads.down,
        now.exercise in limits.exclude or not loads.holds(now),
        {exercise: implement for exercise, implement in implements.items() if implement is not None},
        judgement.pain,
        CHOICES.adjustments.most_session_exposure,
        frozenset((*limits.spare, *told.also)),
        told.also,
        told.sore_side,
        told.rules(now.exercise),
        () if now.exercise in limits.exclude else loads.others_for(now),
        only_sure=judgement.tier == "red",
        load_relieves=of_tolerated is None or of_tolerated < 1.0,
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


def _target_ratio(
    request: Adjustments, present: Present, judgement: Judgement, tolerated: float | None, lightest: float
) -> float:
    """The share to which the demand is brought [1]: of the tolerated load, else by the pain; not below the lightest load's.

    A lift near its maximum is done in another posture, so that less load may ask a region for more: then neither load
    says how much is to come off.

    tolerated: demand with the tolerated load [1], None where none is told; lightest: load below which none is tried [kg].
    """
    target = first_step(judgement.tier) if tolerated is None or tolerated >= 1.0 else tolerated
    if not lightest:
        return target
    if lightest >= present.prescription.load:
        raise Refusal.one(
            "constraints/lightest_load", "Nothing lighter than now would be left to try.", "less than prescription/load"
        )
    least = _ratio_at(request, present, lightest, "/constraints/lightest_load")
    return target if least >= 1.0 else max(target, least)


def _tolerated_ratio(request: Adjustments, present: Present) -> float | None:
    """Demand of the sore region with the tolerated load against the present [1], None where no load is told."""
    tolerated = stated(request.complaint.tolerated)
    if tolerated is None:
        return None
    load = load_on(present.prescription.exercise, tolerated.load, "/complaint/tolerated/load")
    if load >= present.prescription.load:
        raise Refusal.one(
            "complaint/tolerated/load",
            "The tolerated load must be lighter than the prescribed one.",
            "less than prescription/load",
        )
    return _ratio_at(request, present, load, "/complaint/tolerated/load")


def _ratio_at(request: Adjustments, present: Present, load: float, pointer: str) -> float:
    """Demand of the sore region with another load [kg] of the same lift, against the present [1].

    In proportion to the load where nothing is computed.
    """
    try:
        ratio = region_ratio(present, replace(present.prescription, load=load), request.complaint.region)
    except Refusal as refusal:
        raise refusal.at({fault.pointer: pointer for fault in refusal.faults}) from None
    return load / present.prescription.load if ratio is None else ratio
