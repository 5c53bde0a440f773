"""The answer of a return plan: the steps with their gates, and the weeks that they take."""

from __future__ import annotations

from typing import Final

from msgspec import UNSET

from service.adjustment.prescription import Prescription
from service.adjustment.return_plan.plan import ByTest, Gate, Plan, Step
from service.adjustment.return_plan.problem import ReturnCase
from service.adjustment.text.return_plan import gate_messages, step_reasons, weeks_meaning
from service.adjustment.triage import Confirmation, Referral
from service.api.models.by_region import DemandByRegion
from service.api.models.clearance import ConfirmationAnswer, confirm
from service.api.models.common import (
    CENTRAL_ONLY,
    ONE_TO_ONE,
    Basis,
    cautions,
    estimate,
    mass_estimate,
    rounded,
)
from service.api.models.prescription_shown import shown
from service.api.models.referral import ReferralAnswer, refer
from service.api.models.way_back import trial_set
from service.api.models.week_of_lift import week_ratio_answer
from service.api.operations.return_plan.basis import basis_of_return, cautions_of_return
from service.api.operations.return_plan.models import (
    ByTrialSetAnswer,
    ExposureAnswer,
    GateAnswer,
    ReturnPlan,
    ReturnPlanAnswer,
    StepAnswer,
    WeeksAnswer,
)
from service.api.operations.return_plan.planning import planned
from service.units import MassUnit
from service.vocabulary import ReturnDecision

BY_TEST: Final = "low: as planned; high: if the test shows that no strength was lost"
"""What the ends of a load by the first test mean."""


def return_plan(request: ReturnPlan) -> ReturnPlanAnswer:
    """The way back. A red flag outranks everything else; raises Refusal for what no method covers."""
    verdict = planned(request)
    if isinstance(verdict, Referral):
        answer, basis = refer(verdict)
        return _without_plan(request, "refer", basis, referral=answer)
    if isinstance(verdict, Confirmation):
        first, basis = confirm(verdict)
        return _without_plan(request, "confirm_first", basis, confirmation=first)
    case, plan = verdict.case, verdict.plan
    return ReturnPlanAnswer(
        decision="plan",
        referral=None,
        confirmation=None,
        region=request.region,
        step=case.step,
        steps=_steps(case, plan, request.original.load.unit),
        weeks=WeeksAnswer(
            low=plan.fewest_weeks,
            high=plan.most_weeks,
            interval=weeks_meaning().text,
        ),
        basis=basis_of_return(request, verdict),
        cautions=cautions_of_return(request, verdict),
    )


def _without_plan(
    request: ReturnPlan,
    decision: ReturnDecision,
    basis: Basis,
    *,
    referral: ReferralAnswer | None = None,
    confirmation: ConfirmationAnswer | None = None,
) -> ReturnPlanAnswer:
    return ReturnPlanAnswer(
        decision=decision,
        referral=referral,
        confirmation=confirmation,
        region=request.region,
        step=None,
        steps=[],
        weeks=None,
        basis=basis,
        cautions=cautions(),
    )


def _steps(case: ReturnCase, plan: Plan, unit: MassUnit) -> list[StepAnswer]:
    before, answers = case.adjusted, []
    for number, step in enumerate(plan.steps):
        last = number + 1 == len(plan.steps)
        answers.append(_step(case, plan, before, step, unit, last=last))
        before = step.prescription
    return answers


def _step(case: ReturnCase, plan: Plan, before: Prescription, step: Step, unit: MassUnit, *, last: bool) -> StepAnswer:
    rule = plan.transition[step.week - 1] if step.week <= len(plan.transition) else None
    return StepAnswer(
        week=step.week,
        prescription=shown(step.prescription, unit),
        changed=list(step.changed),
        demand=DemandByRegion(
            **{
                region: estimate(span, ONE_TO_ONE if region in step.with_interval else CENTRAL_ONLY)
                for region, span in step.demand.items()
            }
        ),
        sore_region=_exposure(step),
        rise=rounded(step.rise),
        over_step=step.over_step,
        of_week=UNSET if case.week is None else None if step.of_week is None else week_ratio_answer(step.of_week),
        test_first=trial_set(case, before, step, unit),
        by_test=_by_test(step.by_test, unit),
        evidence="computed" if step.has_number else "direction_only",
        relative_volume=rounded(step.relative_volume, 1),
        gate=_gate(step.gate, step.fallback, last=last),
        fallback=step.fallback,
        why=step_reasons(case, before, step, rule, unit),
    )


def _exposure(step: Step) -> ExposureAnswer:
    if not step.has_scale:
        return ExposureAnswer(repetition=None, session=None, week=None)
    return ExposureAnswer(repetition=round(step.peak, 4), session=round(step.exposure, 4), week=rounded(step.weekly))


def _by_test(by_test: ByTest | None, unit: MassUnit) -> ByTrialSetAnswer | None:
    if by_test is None:
        return None
    return ByTrialSetAnswer(share=round(by_test.share, 4), load=mass_estimate(by_test.load, unit, BY_TEST))


def _gate(gate: Gate, fallback: int, *, last: bool) -> GateAnswer:
    return GateAnswer(
        sessions=gate.sessions,
        pain_in_session_up_to=gate.pain_in_session,
        next_morning_above_usual_below=gate.pain_above_usual_next_morning,
        stop_above=gate.stop_above,
        reps_in_reserve_at_least=round(gate.reserve, 1),
        text=gate_messages(gate, fallback, last=last),
    )
