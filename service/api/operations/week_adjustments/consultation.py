"""From the request to what the domain makes of it: why nothing is changed, or a week as a case with its options."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeAlias

import msgspec
from msgspec.structs import replace

from service.adjustment.complaint import Complaint
from service.adjustment.consultation import Case
from service.adjustment.prescription import lifts_the_body
from service.adjustment.triage import Judgement, Pain, first_step
from service.adjustment.week.choosing import Chosen, chosen
from service.adjustment.week.problem import WeekCase
from service.api.models.base import omitted, or_default, stated
from service.api.models.complaint import judged_of, pain_of, told_of
from service.api.models.constraints import Constraints, allowed_of, loads_of
from service.api.models.gym import GymLoads, check_not_above
from service.api.models.lifter import body_of
from service.api.models.week import asked_of_week, planned_lifts
from service.api.operations._consultation.case import LiftAsked, case_of
from service.api.operations._consultation.gate import Halt, halt, without_region
from service.api.operations.week_adjustments.models import WeekAdjustments, WeekConstraints
from service.errors import Refusal, into
from service.knowledge.catalogue import EXERCISES
from service.vocabulary import LEVERS, Implement, Weighting

EVERY_DAY: frozenset[int] = frozenset(range(1, 8))


class WeekConsultation(msgspec.Struct, frozen=True):
    """A week that was searched.

    Attributes:
        case: what was searched
        complaint: as it is told
        pain: as reported
        judgement: what the pain allows
        chosen: the weeks to be offered
        meanwhile: where none is, exercises that do not load the region, by muscle
    """

    case: WeekCase
    complaint: Complaint
    pain: Pain
    judgement: Judgement
    chosen: Chosen
    meanwhile: dict[str, tuple[str, ...]]


Verdict: TypeAlias = Halt | WeekConsultation


def consult(request: WeekAdjustments) -> Verdict:
    """What the consultation comes to. A red flag outranks everything; raises Refusal for what no method covers."""
    complaint, limits = request.complaint, limits_of_lifts(request)
    unit = request.week[0].prescription.load.unit
    stopped = {request.week[int(entry)].prescription.exercise for entry in request.hurts if entry < len(request.week)}
    verdict = halt(complaint, request.circumstances, limits, unit, stopped)
    if verdict is not None:
        return verdict
    if not omitted(complaint.tolerated):
        raise Refusal.one(
            "complaint/tolerated", "A tolerated load is one of a single lift.", "left out, or adjustments of that lift"
        )
    judgement, told = judged_of(complaint), told_of(complaint)
    case = week_case_of(request, limits, told, judgement)
    weeks = chosen(case, int(request.limit))
    nothing = case.only_less and not weeks.weeks
    instead = without_region(complaint, limits, unit, stopped) if nothing else {}
    return WeekConsultation(case, told, pain_of(complaint), judgement, weeks, instead)


def week_case_of(request: WeekAdjustments, limits: Constraints, told: Complaint, judgement: Judgement) -> WeekCase:
    """The week to be searched. Raises Refusal with pointers into the request."""
    constraints = or_default(request.constraints, WeekConstraints())
    lifts, body = planned_lifts(request.week, request.lifter), body_of(request.lifter)
    loads = loads_of(limits, request.week[0].prescription.load.unit)
    for entry, (one, session) in enumerate(zip(lifts, request.week, strict=True)):
        check_not_above(loads, one.prescription, session.prescription.load.unit, f"week/{entry}/prescription")
    return WeekCase(
        body,
        lifts,
        asked_of_week(body, lifts, request.week, request.lifter),
        told.region,
        first_step(judgement.tier),
        weighting_of(told),
        request.aim,
        stated(request.lifter.training) or "trained",
        _entries(constraints.staying, request, "constraints/staying"),
        _singles(request, limits, told, judgement),
        lightest_of(loads, allowed_of(limits, [one for one in EXERCISES if loads.can_lift(one)])),
        hurts=_entries(request.hurts, request, "hurts"),
        spare=frozenset((*constraints.spare, *told.also)),
        only_less=judgement.tier == "red",
        training_days=_days(constraints),
        days_named=not omitted(constraints.days),
    )


def weighting_of(told: Complaint) -> Weighting:
    """Under which weighting the target is meant: near the peak, but the sum where only the amount provokes it."""
    return "linear" if told.provoked_by == ("volume",) else "tenth_power"


def lightest_of(loads: GymLoads, allowed: frozenset[str]) -> Callable[[str], tuple[float, Implement | None] | None]:
    """The lightest load with which a lift can be done, and what it is lifted with; of lifts of the own body none is known."""

    def lightest(exercise: str) -> tuple[float, Implement | None] | None:
        if exercise not in allowed or lifts_the_body(exercise):
            return None
        implement = loads.implement_for(exercise)
        load = loads.above(exercise, 0.0, implement)
        return None if load is None else (load, implement)

    return lightest


def _singles(
    request: WeekAdjustments, limits: Constraints, told: Complaint, judgement: Judgement
) -> Callable[[int, float], Case]:
    """The consultation of each lift by itself, made once and asked with several targets."""
    made: dict[int, Case] = {}

    def single(entry: int, target: float) -> Case:
        if entry not in made:
            prescription, where = request.week[entry].prescription, f"/week/{entry}/prescription"
            asked = LiftAsked(request.lifter, prescription, request.complaint, request.aim, limits, where)
            made[entry] = case_of(asked, told, judgement)
        return replace(made[entry], target=target)

    return single


def limits_of_lifts(request: WeekAdjustments) -> Constraints:
    """What holds for each lift by itself."""
    one = or_default(request.constraints, WeekConstraints())
    return Constraints(levers=one.levers, exercises=one.exercises, exclude=one.exclude, spare=one.spare, gym=one.gym)


def _entries(entries: Sequence[float], request: WeekAdjustments, where: str) -> frozenset[int]:
    for index, entry in enumerate(entries):
        if entry >= len(request.week):
            raise Refusal.one(
                f"{where}/{index}",
                "The week has no lift of this place.",
                f"0 to {len(request.week) - 1}",
                change=into(entry, high=len(request.week) - 1),
            )
    return frozenset(map(int, entries))


def _days(constraints: WeekConstraints) -> frozenset[int]:
    """Days to which lifts may be moved: none where days are not among the levers."""
    if "days" not in or_default(constraints.levers, LEVERS):
        return frozenset()
    return frozenset(map(int, or_default(constraints.days, EVERY_DAY)))
