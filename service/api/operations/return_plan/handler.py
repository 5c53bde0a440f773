"""return-plan: the steps from an adjusted prescription back to the original, each with its gate and its fallback."""

from __future__ import annotations

from msgspec import UnsetType
from msgspec.structs import replace

from service.adjustment.demand import peak_moments, present_demand
from service.adjustment.prescription import Prescription, total_load
from service.adjustment.return_plan.plan import Gate, Plan, Step, plan
from service.adjustment.return_plan.problem import CHOICE, ReturnCase
from service.adjustment.sore_region import check_comparable, check_loaded
from service.adjustment.text.return_plan import gate_lines, step_reasons
from service.adjustment.triage import referral
from service.api.models.base import or_default
from service.api.models.clearance import conditions_of, once_confirmed
from service.api.models.common import (
    Basis,
    Caution,
    cautions,
    estimate,
)
from service.api.models.equipment import BarSetup, RoundDown, finely_stepped, implement
from service.api.models.lifter import body_of
from service.api.models.prescription import (
    option_of,
    prescription_of,
    shown,
)
from service.api.models.referral import confirm_first, refer
from service.api.models.setup import located
from service.api.operations.adjustments.handler import CENTRAL, SPAN
from service.api.operations.return_plan.models import (
    ExposureAnswer,
    GateAnswer,
    ReturnPlan,
    ReturnPlanAnswer,
    StepAnswer,
    WeeksAnswer,
)
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.training.return_to_training import judged
from service.units import Mass, MassUnit


def return_plan(request: ReturnPlan) -> ReturnPlanAnswer:
    """The way back. A red flag outranks everything else; raises Refusal for what no method covers."""
    stop = referral(request.signs)
    conditions, confirmed = conditions_of(request.circumstances)
    if stop or (conditions and not confirmed):
        referred, basis = refer(stop) if stop else confirm_first(conditions)
        return ReturnPlanAnswer(
            decision="refer",
            referral=referred,
            region=request.region,
            step=None,
            steps=[],
            weeks=None,
            basis=basis,
            cautions=cautions(),
        )
    case = return_case(request)
    found = plan(case, int(request.longest))
    unit = request.original.load.unit
    return ReturnPlanAnswer(
        decision="plan",
        referral=None,
        region=request.region,
        step=case.step,
        steps=_steps(case, found, unit),
        weeks=WeeksAnswer(
            low=found.fewest_weeks,
            high=found.most_weeks,
            interval=f"low: every gate passed the first time; high: {100 * CHOICE.repeated_share:.0f} % of the weeks done twice (our own choice)",
        ),
        basis=_basis(case, found),
        cautions=[*once_confirmed(conditions), *_cautions(request, case, found)],
    )


def return_case(request: ReturnPlan) -> ReturnCase:
    """The return to be searched. Raises Refusal with pointers into the request."""
    region = request.region
    check_loaded(request.original.exercise, region, "region")
    body = body_of(request.lifter)
    original = prescription_of(request.original, request.lifter, "/original")
    adjusted = _completed(option_of(request.adjusted, request.lifter, "/adjusted"), original)
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
    unit = request.original.load.unit
    return ReturnCase(
        present,
        adjusted,
        region,
        or_default(request.step, CHOICE.step),
        request.weeks_off,
        _held(request.bar, request.increment, unit),
        finely_stepped(request.bar, unit, CHOICE.finer),
    )


def _held(bar: BarSetup | UnsetType, increment: Mass | UnsetType, unit: MassUnit) -> RoundDown:
    try:
        return implement(bar, increment, unit, "")
    except Refusal as refusal:
        raise refusal.at({"//increment": "/increment"}) from None


def _completed(adjusted: Prescription, original: Prescription) -> Prescription:
    """The adjusted prescription with the original's tempo, rest and days where it states none, or the original none."""
    return replace(
        adjusted,
        tempo=adjusted.tempo or original.tempo,
        rest=original.rest if original.rest is None or adjusted.rest is None else adjusted.rest,
        days=original.days if original.days is None or adjusted.days is None else adjusted.days,
    )


def _check_days(request: ReturnPlan, original: Prescription, adjusted: Prescription) -> None:
    if isinstance(request.days_per_week_max, UnsetType):
        return
    asked = max(original.days or 1, adjusted.days or 1)
    if asked > request.days_per_week_max:
        raise Refusal.one(
            "days_per_week_max",
            f"One of the two prescriptions is done on {asked} days a week, so no way between them has fewer.",
            f"at least {asked}",
        )


def _steps(case: ReturnCase, found: Plan, unit: MassUnit) -> list[StepAnswer]:
    before, answers = case.adjusted, []
    for number, step in enumerate(found.steps):
        last = number + 1 == len(found.steps)
        answers.append(_step(case, found, before, step, unit, last=last))
        before = step.prescription
    return answers


def _step(case: ReturnCase, found: Plan, before: Prescription, step: Step, unit: MassUnit, *, last: bool) -> StepAnswer:
    rule = found.transition[step.week - 1] if step.week <= len(found.transition) else None
    return StepAnswer(
        week=step.week,
        prescription=shown(step.prescription, unit),
        changed=list(step.changed),
        demand={
            region: estimate(span, SPAN if region in step.swept else CENTRAL) for region, span in step.demand.items()
        },
        sore_region=ExposureAnswer(
            repetition=round(step.peak, 4),
            session=round(step.exposure, 4),
            week=None if step.weekly is None else round(step.weekly, 4),
        ),
        rise=None if step.rise is None else round(step.rise, 4),
        evidence="computed" if step.told else "direction_only",
        relative_volume=None if step.relative_volume is None else round(step.relative_volume, 1),
        gate=_gate(step.gate, step.fallback, last=last),
        fallback=step.fallback,
        why=step_reasons(case, before, step, rule, unit),
    )


def _gate(gate: Gate, fallback: int, *, last: bool) -> GateAnswer:
    return GateAnswer(
        sessions=gate.sessions,
        pain_in_session_up_to=gate.pain_in_session,
        next_morning_above_usual_below=gate.pain_above_usual_next_morning,
        stop_above=gate.stop_above,
        reps_in_reserve_at_least=round(gate.reserve, 1),
        text=gate_lines(gate, fallback, last=last),
    )


def _basis(case: ReturnCase, found: Plan) -> Basis:
    told = all(step.told for step in found.steps)
    sources = ["impellizzeri_2020", "acsm_2009", "thomee_1997", "childs_2005", "baechle_earle", "nuzzo_2024"]
    if case.present.propagated is not None:
        sources += ["de_leva_1996", "winter_2009", "statics"]
    if found.transition:
        sources.append("caterisano_2019")
    return Basis(
        method="shortest way through lifts, loads, depths, sets, repetitions and days in which one thing is raised at a time and the sore region's demand, of a repetition and of a session, rises by no more than the step a week",
        sources=[*sources, "design_choice"],
        assumptions=[
            "The step a week, the order of the ladder and the share of steps done twice are practice and our own choice.",
            "Of equally short ways the one with the fewest changes is taken, then the one that takes load first, then range of motion, the original lift, sets, days, and the last of the load.",
            f"A load rises by no more than {100 * CHOICE.load_step:.0f} % of the original's in a step, or by the smallest that can be put on.",
            f"The original lift is taken up again at {100 * CHOICE.first_exposure_margin:.0f} % of what the load so far stands for in it, or at {100 * CHOICES.adjustments.untested_share:.0f} % of its load where no ratio is published.",
            "Repetitions in reserve are expected from the original's sets and the general load–repetition table; at light loads there are at least as many.",
            "A day more adds to the week's sum more than the step; days come one at a time and the week never asks more than the original's.",
            "With one day a week a step takes two weeks, since its gate asks for two sessions.",
        ],
        evidence="practice" if told else "direction_only",
    )


def _cautions(request: ReturnPlan, case: ReturnCase, found: Plan) -> list[Caution]:
    done = [case.adjusted, *(step.prescription for step in found.steps)]
    exercises = dict.fromkeys(one.exercise for one in done)
    untold = next((step for step in found.steps if not step.told), None)
    unknown_change = len(exercises) > 1 and any(
        step.rise is None and step.changed and (step.week > 1 or not found.transition) for step in found.steps
    )
    small = any(step.relative_volume is not None and judged(step.relative_volume) == "low" for step in found.steps)
    said = {
        "adjusted_asks_no_less": found.asks_no_less,
        "no_weekly_rule": True,
        "start_when_adjusted_holds": not found.transition,
        "change_by_direction": unknown_change,
        "load_stands_for_demand": untold is not None,
        "transition_was_for_conditioning": bool(found.transition),
        "first_weeks_small": small,
        "retest_variation": len(exercises) > 1,
        "posture_is_a_rule": case.present.propagated is not None,
        "lean_disputed": case.region == "low_back" and case.present.propagated is not None,
        "reserve_assumed": isinstance(request.original.reps_in_reserve, UnsetType)
        or request.adjusted.reps_in_reserve is None,
        "spotter_or_safeties": True,
    }
    return cautions(
        *(code for code, holds in said.items() if holds),
        step=f"{100 * case.step:.3g} %",
        before=EXERCISES[case.adjusted.exercise].name.lower(),
        after=EXERCISES[case.original.exercise].name.lower(),
        region=REGIONS[case.region].name.lower(),
        lift="" if untold is None else EXERCISES[untold.prescription.exercise].name.lower(),
        low=_lowest_relative_volume(found),
        reserve=f"{CHOICES.effort.assumed_reserve:g}",
    )


def _lowest_relative_volume(found: Plan) -> str:
    low = next((rule.irv_low for rule in found.transition if rule.irv_low is not None), None)
    return "" if low is None else f"{low:g}"
