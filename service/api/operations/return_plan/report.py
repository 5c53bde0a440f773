"""The report of a way back: the first step, when to go on, and all steps in a table."""

from __future__ import annotations

from typing import Final

from service.adjustment.text.watch import what_to_watch
from service.api.models.report import Report, Table
from service.api.operations.return_plan.handler import return_plan
from service.api.operations.return_plan.models import ReturnPlan, ReturnPlanAnswer, StepAnswer
from service.api.reports.parts import (
    HEADLINES,
    basis_lines,
    lifters_cautions,
    percent,
    region_name,
    signs_of,
    source_names,
    stop_lines,
    stopped,
    texts,
)
from service.knowledge.catalogue import EXERCISES
from service.messages import Message

_GO_BACK: Final = frozenset({"gate_step_back", "gate_to_adjusted"})
"""The part of a gate that says when to stop."""


def return_plan_report(request: ReturnPlan) -> Report:
    """The way back for people. Raises Refusal as the answer does."""
    return report_of(request, return_plan(request))


def report_of(request: ReturnPlan, answer: ReturnPlanAnswer) -> Report:
    """The report of an answer."""
    region = answer.region
    title = f"Back to the {EXERCISES[request.original.exercise].in_a_sentence}, sore {region_name(region).lower()}"
    halted = stopped(
        title,
        region,
        referral=answer.referral,
        confirmation=answer.confirmation,
        circumstances=request.circumstances,
        basis=answer.basis,
        cautions=answer.cautions,
    )
    if halted is not None:
        return halted
    if not answer.steps or answer.weeks is None:
        raise TypeError("a plan without steps")
    first, weeks = answer.steps[0], answer.weeks
    how_long = f"{weeks.low} weeks" if weeks.low == weeks.high else f"{weeks.low} to {weeks.high} weeks"
    return Report(
        title=title,
        decision=f"{HEADLINES['plan']}: {how_long}",
        what_to_do=[*(_test(first)), first.why[0].text, *texts(_gate(first, back=False))],
        when_to_stop=[*texts(_gate(first, back=True)), *stop_lines(region)[2:]],
        why=texts(first.why[1:]),
        watch=texts(what_to_watch()),
        signs=signs_of(region, request.circumstances),
        tables=[_steps(answer), _numbers(answer)],
        basis=basis_lines(answer.basis),
        sources=source_names(answer.basis.sources),
        cautions=texts(answer.cautions),
        lifters_cautions=lifters_cautions(answer.cautions),
    )


def _gate(step: StepAnswer, *, back: bool) -> list[Message]:
    return [one for one in step.gate.text if (one.code in _GO_BACK) == back]


def _test(step: StepAnswer) -> list[str]:
    return [] if step.test_first is None else texts(step.test_first.text)


def _steps(answer: ReturnPlanAnswer) -> Table:
    rows = []
    for one in answer.steps:
        week, _, what = one.why[0].text.partition(": ")
        back = f"week {one.fallback}" if one.fallback else "as adjusted"
        test = [] if one is answer.steps[0] else _test(one)  # what is to be done first says it
        rows.append([week, " ".join([what, *test]), back])
    return Table(
        "All steps: each only when the one before went well",
        ["First in", "What to do", "If not, back to"],
        rows,
        for_lifter=True,
    )


def _numbers(answer: ReturnPlanAnswer) -> Table:
    rows = []
    for one in answer.steps:
        sore = one.sore_region
        rise = "–" if one.rise is None else f"{100 * one.rise:+.0f} points"
        marked = f"{rise}, more than wished for" if one.over_step else rise
        rows.append([str(one.week), percent(sore.repetition), percent(sore.session), percent(sore.week), marked])
    name = region_name(answer.region).lower()
    return Table(
        f"Demand of the {name} against the original", ["Week", "A repetition", "A session", "A week", "Rise"], rows
    )
