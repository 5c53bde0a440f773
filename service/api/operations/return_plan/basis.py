"""Where the answer of a return plan comes from, and the cautions that go with it."""

from __future__ import annotations

from service.adjustment.return_plan.plan import Plan
from service.api.models.clearance import once_confirmed
from service.api.models.common import (
    Basis,
    Caution,
    cautions,
)
from service.api.operations.return_plan.models import (
    ReturnPlan,
)
from service.api.operations.return_plan.planning import PlannedReturn
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.training.return_to_training import judged


def basis_of_return(planned: PlannedReturn) -> Basis:
    """The basis of the answer."""
    case, plan = planned.case, planned.plan
    has_numbers = all(step.has_number for step in plan.steps)
    sources = ["impellizzeri_2020", "acsm_2009", "thomee_1997", "childs_2005", "baechle_earle", "nuzzo_2024"]
    if case.present.uncertain is not None:
        sources += ["de_leva_1996", "winter_2009", "statics"]
    if plan.transition:
        sources.append("caterisano_2019")
    return Basis(
        method="shortest way through lifts, loads, depths, sets, repetitions and days in which one thing is raised at a time and the sore region's demand, of a repetition and of a session, rises by no more than the step a week",
        sources=[*sources, "design_choice"],
        assumptions=[
            "The step a week, the order of the ladder and the share of steps done twice are practice and our own choice.",
            "Of equally short ways the one with the fewest changes is taken, then the one that takes load first, then range of motion, the original lift, sets, days, and the last of the load.",
            f"A load rises by no more than {100 * CHOICES.return_plan.load_step:.0f} % of the original's in a step, or by the smallest that can be put on.",
            f"The original lift is taken up again at {100 * CHOICES.return_plan.first_exposure_margin:.0f} % of what the load so far stands for in it, or at {100 * CHOICES.adjustments.untested_share:.0f} % of its load where no ratio is published.",
            "Repetitions in reserve are expected from the original's sets and the general load–repetition table; at light loads there are at least as many.",
            "A day more adds to the week's sum more than the step; days come one at a time and the week never asks more than the original's.",
            "With one day a week a step takes two weeks, since its gate asks for two sessions.",
        ],
        evidence="practice" if has_numbers else "direction_only",
    )


def cautions_of_return(request: ReturnPlan, planned: PlannedReturn) -> list[Caution]:
    """The cautions of the answer."""
    case, plan = planned.case, planned.plan
    prescriptions = [case.adjusted, *(step.prescription for step in plan.steps)]
    exercises = dict.fromkeys(one.exercise for one in prescriptions)
    without_number = next((step for step in plan.steps if not step.has_number), None)
    unknown_change = len(exercises) > 1 and any(
        step.rise is None and step.changed and (step.week > 1 or not plan.transition) for step in plan.steps
    )
    small = any(step.relative_volume is not None and judged(step.relative_volume) == "low" for step in plan.steps)
    applies = {
        "adjusted_asks_no_less": plan.asks_no_less,
        "no_weekly_rule": True,
        "start_when_adjusted_holds": not plan.transition,
        "change_by_direction": unknown_change,
        "load_stands_for_demand": without_number is not None,
        "transition_was_for_conditioning": bool(plan.transition),
        "first_weeks_small": small,
        "retest_variation": len(exercises) > 1,
        "posture_is_a_rule": case.present.uncertain is not None,
        "lean_disputed": case.region == "low_back" and case.present.uncertain is not None,
        "reserve_assumed": request.original.reps_in_reserve is None or request.adjusted.reps_in_reserve is None,
        "spotter_or_safeties": True,
    }
    general = cautions(
        *(code for code, holds in applies.items() if holds),
        step=f"{100 * case.step:.3g} %",
        before=EXERCISES[case.adjusted.exercise].name.lower(),
        after=EXERCISES[case.original.exercise].name.lower(),
        region=REGIONS[case.region].name.lower(),
        lift="" if without_number is None else EXERCISES[without_number.prescription.exercise].name.lower(),
        low=_lowest_relative_volume(plan),
        reserve=f"{CHOICES.effort.assumed_reserve:g}",
    )
    return [*once_confirmed(planned.circumstances), *general]


def _lowest_relative_volume(plan: Plan) -> str:
    low = next((rule.irv_low for rule in plan.transition if rule.irv_low is not None), None)
    return "" if low is None else f"{low:g}"
