"""The picture of a return: its staircase, or in plain words that it has to wait and what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.adjustment.demand import present_demand, region_ratio
from service.adjustment.text.prescription import prescription_words
from service.api.models.lifter import body_of
from service.api.models.prescription import option_of, prescription_of
from service.api.operations.adjustments.chart import meant, referral_notice
from service.charts.staircase.chart import Step, staircase
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS

if TYPE_CHECKING:
    from service.api.operations.return_plan.models import ReturnPlan, ReturnPlanAnswer, StepAnswer


def picture(request: ReturnPlan, answer: ReturnPlanAnswer) -> str:
    """The answer as SVG text, with the numbers that it gives."""
    if answer.referral is not None:
        return referral_notice(answer.referral, answer.cautions)
    region = REGIONS[answer.region].name.lower()
    lift = EXERCISES[request.original.exercise].name.lower()
    weeks = "" if answer.weeks is None else f": {answer.weeks.low} to {answer.weeks.high} weeks"
    steps = [_step(step, request) for step in answer.steps]
    return staircase(
        f"Back to the {lift}, sore {region}{weeks}",
        region,
        # after weeks off nobody stands on the adjusted prescription
        steps if request.weeks_off else [_start(request), *steps],
        [*answer.steps[0].gate.text[1:-1], *(caution.text for caution in answer.cautions)],
    )


def _start(request: ReturnPlan) -> Step:
    """The adjusted prescription, from which the way leads."""
    adjusted = option_of(request.adjusted, request.lifter, "/adjusted")
    original = prescription_of(request.original, request.lifter, "/original")
    ratio = region_ratio(present_demand(body_of(request.lifter), original), adjusted, request.region)
    demand = None if ratio is None else Interval(ratio, ratio, ratio)
    return Step(0, demand, f"As adjusted: {prescription_words(adjusted, request.original.load.unit)}")


def _step(step: StepAnswer, request: ReturnPlan) -> Step:
    found = step.demand.get(request.region)
    return Step(
        step.week,
        None if found is None else Interval(found.value, found.low, found.high),
        prescription_words(meant(step.prescription, request.lifter), request.original.load.unit),
        ", ".join(lever.replace("_", " ") for lever in step.changed),
        step.gate.text[0],
        f"back to week {step.fallback}" if step.fallback else "back to the adjusted prescription",
        # without a number of the region the session's sum stands for its load only
        None if found is None else step.sore_region.session,
    )
