"""One lift that hurts as a case to search."""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from service.adjustment import complaint as domain
from service.adjustment.consultation import Case
from service.adjustment.demand import region_ratio
from service.adjustment.prescription import Prescription as InSi
from service.adjustment.present import Present, present_demand
from service.adjustment.triage import Judgement, first_step
from service.api.models.base import or_default, stated, stated_count, stated_si
from service.api.models.complaint import Complaint
from service.api.models.constraints import Constraints, allowed_of, loads_of
from service.api.models.gym import GymLoads, check_not_above, with_usual_racks
from service.api.models.lifter import Lifter, body_of
from service.api.models.prescription import Prescription, lifters_prescription, load_on
from service.api.models.setup import located
from service.errors import Refusal, into
from service.knowledge.design_choices import CHOICES
from service.knowledge.substitutions import SUBSTITUTES
from service.vocabulary import LEVERS, Aim, Implement


class LiftAsked(msgspec.Struct, frozen=True):
    """A lift that hurts, as a request has it.

    Attributes:
        lifter: who does it
        prescription: as it is now
        complaint: what hurts
        aim: what the lifter trains for
        limits: what may be changed
        where: pointer to the prescription in the request
    """

    lifter: Lifter
    prescription: Prescription
    complaint: Complaint
    aim: Aim
    limits: Constraints
    where: str = "/prescription"


def case_of(asked: LiftAsked, told: domain.Complaint, judgement: Judgement) -> Case:
    """The case to be searched. Raises Refusal with pointers into the request."""
    body = body_of(asked.lifter)
    now = lifters_prescription(asked.prescription, asked.lifter, asked.where)
    region, limits = told.region, asked.limits
    try:
        present = present_demand(body, now, *told.also, *limits.spare, sore=region)
    except Refusal as refusal:
        raise located(refusal, asked.where, asked.prescription, asked.lifter) from None
    unit = asked.prescription.load.unit
    loads = loads_of(limits, unit)
    check_not_above(loads, now, unit, asked.where)
    loads = with_usual_racks(loads, now)
    implements = _implements(loads, now.exercise)
    lightest = stated_si(limits.lightest_load) or 0.0
    of_tolerated = _tolerated_ratio(asked, present)
    target, rules = _target_ratio(asked, present, judgement, of_tolerated, lightest), told.rules(now.exercise)
    return Case(
        present,
        region,
        target,
        asked.aim,
        frozenset(or_default(limits.levers, LEVERS)),
        allowed_of(limits, implements),
        _most_days(limits, now),
        lightest or -body.mass,
        loads.down,
        now.exercise in limits.exclude or not loads.holds(now),
        {exercise: implement for exercise, implement in implements.items() if implement is not None},
        judgement.pain,
        # where it hurts with the amount, no repetition is added to a session that is to ask for less
        target if any(rule.by_session for rule in rules) else CHOICES.adjustments.most_session_exposure,
        frozenset((*limits.spare, *told.also)),
        told.also,
        told.sore_side,
        rules,
        () if now.exercise in limits.exclude else loads.others_for(now),
        only_sure=judgement.tier == "red",
        load_relieves=of_tolerated is None or of_tolerated < 1.0,
    )


def _implements(loads: GymLoads, present: str) -> dict[str, Implement | None]:
    """What each substitute that can be done in the gym would be lifted with, None for what it usually is."""
    substitutes = (one.exercise for one in SUBSTITUTES.get(present, ()))
    return {exercise: loads.implement_for(exercise) for exercise in substitutes if loads.can_lift(exercise)}


def _most_days(limits: Constraints, now: InSi) -> int:
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
            change=into(most, now.days),
        )
    return most


def _target_ratio(
    asked: LiftAsked, present: Present, judgement: Judgement, tolerated: float | None, lightest: float
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
    least = _ratio_at(asked, present, lightest, "/constraints/lightest_load")
    return target if least >= 1.0 else max(target, least)


def _tolerated_ratio(asked: LiftAsked, present: Present) -> float | None:
    """Demand of the sore region with the tolerated load against the present [1], None where no load is told."""
    tolerated = stated(asked.complaint.tolerated)
    if tolerated is None:
        return None
    load = load_on(present.prescription.exercise, tolerated.load, "/complaint/tolerated/load")
    if load >= present.prescription.load:
        raise Refusal.one(
            "complaint/tolerated/load",
            "The tolerated load must be lighter than the prescribed one.",
            "less than prescription/load",
        )
    return _ratio_at(asked, present, load, "/complaint/tolerated/load")


def _ratio_at(asked: LiftAsked, present: Present, load: float, pointer: str) -> float:
    """Demand of the sore region with another load [kg] of the same lift, against the present [1].

    In proportion to the load where nothing is computed.
    """
    try:
        ratio = region_ratio(present, replace(present.prescription, load=load), asked.complaint.region)
    except Refusal as refusal:
        raise refusal.at({fault.pointer: pointer for fault in refusal.faults}) from None
    return load / present.prescription.load if ratio is None else ratio
