"""Where the answer of a return plan comes from, and the cautions that go with it."""

from __future__ import annotations

from collections.abc import Iterator

from service.adjustment.prescription import Prescription, reserve_is_a_bound
from service.adjustment.return_plan.plan import Plan
from service.adjustment.return_plan.problem import TOLERANCE, ReturnCase
from service.api.models.assumed_bar import assumed_bar
from service.api.models.clearance import once_confirmed
from service.api.models.common import (
    Basis,
    cautions,
)
from service.api.models.way_back import cautions_of_keep
from service.api.models.week_of_lift import cautions_of_week
from service.api.operations.return_plan.models import (
    ReturnPlan,
)
from service.api.operations.return_plan.planning import PlannedReturn, gym_of_plan
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.training.return_to_training import RULE, judged


def basis_of_return(request: ReturnPlan, planned: PlannedReturn) -> Basis:
    """The basis of the answer."""
    case, plan = planned.case, planned.plan
    has_numbers = all(step.has_number for step in plan.steps)
    sources = [
        "impellizzeri_2020",
        "acsm_2009",
        "thomee_1997",
        "childs_2005",
        "baechle_earle",
        "nuzzo_2024",
        "downie_2013",
    ]
    if case.present.uncertain is not None:
        sources += ["de_leva_1996", "winter_2009", "statics"]
    if case.week is not None:
        sources += ["coenen_2014", "coenen_2012"]
    if plan.transition:
        sources += ["caterisano_2019", "tavares_2017"]
    return Basis(
        method=message("method_return_plan"),
        sources=[*sources, "design_choice"],
        assumptions=[
            *_assumptions(case),
            *assumed_bar(
                gym_of_plan(request), [case.original, case.adjusted, *(step.prescription for step in plan.steps)]
            ),
        ],
        evidence="practice" if has_numbers else "direction_only",
    )


def _assumptions(case: ReturnCase) -> list[Message]:
    choices = CHOICES.return_plan
    return [
        message("assumed_no_sign"),
        message("assumed_return_choices"),
        message("assumed_return_order", more=choices.over_step_costs),
        message("assumed_return_load_step", share=choices.load_step),
        message(
            "assumed_return_first_exposure",
            share=choices.first_exposure_margin,
            untested=CHOICES.adjustments.untested_share,
            lowest=choices.lowest_entry,
        ),
        message("assumed_return_grades"),
        message("assumed_return_reserve", most=CHOICES.effort.hard_set_reserve),
        message("assumed_return_days"),
        message("assumed_return_one_day"),
        *([] if case.week is None else [message("assumed_week_step", step=case.step)]),
        *([message("assumed_return_holds", seconds=choices.rep_seconds)] if case.adjusted.hold is not None else []),
    ]


def cautions_of_return(request: ReturnPlan, planned: PlannedReturn) -> list[Message]:
    """The cautions of the answer."""
    case, plan = planned.case, planned.plan
    prescriptions = [case.adjusted, *(step.prescription for step in plan.steps)]
    exercises = dict.fromkeys(one.exercise for one in prescriptions)
    without_number = next((step for step in plan.steps if step.has_scale and not step.has_number), None)
    unknown_change = len(exercises) > 1 and any(
        step.test is not None and step.test.reason in ("untested", "unknown_demand") and step.rise is None
        for step in plan.steps
    )
    small = any(step.relative_volume is not None and judged(step.relative_volume) == "low" for step in plan.steps)
    adjusted, original, region = case.adjusted.exercise, case.original.exercise, case.region
    specific: list[str | Message] = []
    if plan.asks_no_less:
        specific.append(message("adjusted_asks_no_less", region=region))
    specific.append(message("no_weekly_rule", step=case.step))
    specific += [*_on_the_length(case, plan), *_on_the_week(case, plan), *cautions_of_keep(case, request.keep)]
    if not plan.transition:
        specific.append("start_when_adjusted_holds")
    if unknown_change:
        specific.append(message("change_by_direction", before=adjusted, after=original, region=region))
    if without_number is not None:
        lift = without_number.prescription.exercise
        specific.append(message("load_stands_for_demand", lift=lift, region=region))
    if plan.transition:
        weeks, lost = case.weeks_off, RULE.strength_lost
        specific.append(message("loads_from_test", weeks=weeks, lost=lost.share, measured=lost.weeks))
        specific.append("transition_was_for_conditioning")
    if small:
        specific.append(message("first_weeks_small", low=_lowest_relative_volume(plan)))
    if len(exercises) > 1:
        specific.append("retest_variation")
    if case.present.uncertain is not None:
        specific += ["posture_is_a_rule", *(["lean_disputed"] if region == "low_back" else [])]
        specific += case.present.uncertain.demand.of_seen
    specific += _on_the_reserve(request, prescriptions)
    limits = CHOICES.adjustments
    specific.append(
        message(
            "pause_on_the_way",
            region=region,
            limit=limits.red_up_to,
            at_rest=limits.at_rest_up_to,
            again=limits.amber_up_to,
        )
    )
    return [*once_confirmed(planned.circumstances), *cautions(*specific, "spotter_or_safeties")]


def _on_the_reserve(request: ReturnPlan, prescriptions: list[Prescription]) -> Iterator[str | Message]:
    """Where what is left in reserve was not stated, or is more than anybody has published."""
    if request.original.reps_in_reserve is None or request.adjusted.reps_in_reserve is None:
        yield message("reserve_assumed", reserve=CHOICES.effort.assumed_reserve)
    if any(map(reserve_is_a_bound, prescriptions)):
        yield "reserve_is_a_bound"


def _on_the_length(case: ReturnCase, plan: Plan) -> list[str | Message]:
    """Where the plan goes beyond its step, takes more steps than are aimed at, or may not be the shortest."""
    rises = [step.rise for step in plan.steps if step.over_step and step.rise is not None]
    larger = [rise for rise in rises if rise > case.step + TOLERANCE]
    aim, number = CHOICES.return_plan.aim_steps, len(plan.steps)
    said: list[str | Message] = [message("step_larger", step=case.step, most=max(larger))] if larger else []
    if number > aim:
        missing = max(0.0, 1.0 - min(plan.steps[0].peak, plan.steps[0].exposure))
        said.append(message("many_steps", steps=number, aim=aim, missing=missing, step=case.step))
    return [*said, "direct_way"] if plan.direct else said


def _on_the_week(case: ReturnCase, plan: Plan) -> list[str | Message]:
    if case.week is None:
        return []
    above = [one.of_week.largest for one in plan.steps if one.over_week and one.of_week is not None]
    allowed = 1.0 + case.step
    larger = [message("week_step_larger", most=max(above), region=case.region, allowed=allowed)] if above else []
    held = plan.steps[1:] if plan.transition else plan.steps  # the first after a break follows nothing
    return [
        *larger,
        "week_weeks_of_one_lift",
        *cautions_of_week(case.week, known=all(step.of_week is not None for step in held)),
    ]


def _lowest_relative_volume(plan: Plan) -> float:
    return next(rule.irv_low for rule in plan.transition if rule.irv_low is not None)
