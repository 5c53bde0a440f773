"""The chart of a return: its staircase, or in plain words that it has to wait and what to do."""

from __future__ import annotations

from service.adjustment.demand import region_ratio
from service.adjustment.prescription import Prescription
from service.adjustment.return_plan.plan import Step as PlanStep
from service.adjustment.return_plan.problem import ReturnCase
from service.adjustment.text.prescription import prescription_words
from service.adjustment.text.return_plan import gate_messages, trial_messages
from service.adjustment.triage import Confirmation, Referral
from service.api.models.common import cautions
from service.api.models.prescription import lifters_prescription
from service.api.operations.return_plan.basis import cautions_of_return
from service.api.operations.return_plan.models import ReturnPlan
from service.api.operations.return_plan.planning import PlannedReturn, planned
from service.charts.elements.layout import Sheet
from service.charts.referral import stop_notice
from service.charts.staircase.chart import staircase
from service.charts.staircase.stairs import Step
from service.intervals import exactly
from service.knowledge.catalogue import EXERCISES, REGIONS


def return_plan_chart(request: ReturnPlan) -> list[Sheet]:
    """The return on sheets, with the numbers of its answer. Raises Refusal as the answer does."""
    verdict = planned(request)
    if isinstance(verdict, Referral | Confirmation):
        return stop_notice(verdict, [caution.text for caution in cautions()])
    plan, region = verdict.plan, REGIONS[request.region].name.lower()
    lift = EXERCISES[request.original.exercise].in_a_sentence
    last = len(plan.steps) - 1
    done = [verdict.case.adjusted, *(step.prescription for step in plan.steps)]
    steps = [
        _step(verdict.case, done[number], step, request, last=number == last) for number, step in enumerate(plan.steps)
    ]
    return staircase(
        f"Back to the {lift}, sore {region}: {plan.fewest_weeks} to {plan.most_weeks} weeks",
        region,
        # after weeks off nobody stands on the adjusted prescription
        steps if request.weeks_off else [_start(request, verdict), *steps],
        [
            *_gate_of(plan.steps[0], last=last == 0)[1:-1],
            *(caution.text for caution in cautions_of_return(request, verdict)),
        ],
    )


def _start(request: ReturnPlan, planned_return: PlannedReturn) -> Step:
    """The adjusted prescription, from which the way leads."""
    adjusted = lifters_prescription(request.adjusted, request.lifter, "/adjusted", as_basis=False)
    ratio = region_ratio(planned_return.case.present, adjusted, request.region)
    return Step(
        0,
        None if ratio is None else exactly(ratio),
        f"As adjusted: {prescription_words(adjusted, request.original.load.unit)}",
    )


def _step(case: ReturnCase, before: Prescription, step: PlanStep, request: ReturnPlan, *, last: bool) -> Step:
    demand = step.demand.get(request.region)
    return Step(
        step.week,
        demand,
        prescription_words(step.prescription, request.original.load.unit),
        ", ".join(lever.replace("_", " ") for lever in step.changed),
        _gate_of(step, last=last)[0],
        f"back to week {step.fallback}" if step.fallback else "back to the adjusted prescription",
        # without a number of the region the session's sum stands for its load only
        None if demand is None else step.exposure,
        " ".join(line.text for line in trial_messages(case, before, step, request.original.load.unit)),
    )


def _gate_of(step: PlanStep, *, last: bool) -> list[str]:
    return [line.text for line in gate_messages(step.gate, step.fallback, last=last)]
