"""The report of a way back: the first step, when to go on, and all steps in a table."""

from __future__ import annotations

from typing import Final

from service.adjustment.text.watch import what_to_watch
from service.api.models.report import Report, Table
from service.api.operations.return_plan.handler import return_plan
from service.api.operations.return_plan.models import ReturnPlan, ReturnPlanAnswer, StepAnswer
from service.api.reports.parts import (
    basis_lines,
    lifters_cautions,
    percent,
    signs_of,
    source_names,
    stop_lines,
    stopped,
    texts,
    words,
)
from service.messages import Message

_GO_BACK: Final = frozenset({"gate_step_back", "gate_to_adjusted"})
"""The part of a gate that says when to stop."""


def return_plan_report(request: ReturnPlan) -> Report:
    """The way back for people. Raises Refusal as the answer does."""
    return report_of(request, return_plan(request))


def report_of(request: ReturnPlan, answer: ReturnPlanAnswer) -> Report:
    """The report of an answer."""
    region = answer.region
    title = words("about_way_back", exercise=request.original.exercise, region=region)
    halted = stopped(title, region, answer, request.circumstances)
    if halted is not None:
        return halted
    if not answer.steps or answer.weeks is None:
        raise TypeError("a plan without steps")
    first, weeks = answer.steps[0], answer.weeks
    one = weeks.low == weeks.high
    return Report(
        title=title,
        decision=words("headline_plan_of", weeks=weeks.low)
        if one
        else words("headline_plan", low=weeks.low, high=weeks.high),
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
        back = words("table_back_to_week", week=one.fallback) if one.fallback else words("table_back_to_adjusted")
        test = [] if one is answer.steps[0] else _test(one)  # what is to be done first says it
        rows.append([week, " ".join([what, *test]), back])
    return Table(
        words("table_steps"),
        [words("table_first_in"), words("heading_what_to_do"), words("table_if_not")],
        rows,
        for_lifter=True,
    )


def _numbers(answer: ReturnPlanAnswer) -> Table:
    rows = []
    for one in answer.steps:
        sore = one.sore_region
        shares = [percent(share) for share in (sore.repetition, sore.session, sore.week)]
        rows.append([str(one.week), *shares, _rise(one)])
    heading = ("table_week", "table_a_repetition", "table_a_session", "table_a_week", "table_rise")
    return Table(words("table_of_original", region=answer.region), [words(code) for code in heading], rows)


def _rise(step: StepAnswer) -> str:
    if step.rise is None:
        return f"–, {words('table_over')}" if step.over_step else "–"
    return words("table_points_over" if step.over_step else "table_points", points=round(100 * step.rise))
