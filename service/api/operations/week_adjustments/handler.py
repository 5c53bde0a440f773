"""The answer of week-adjustments: the decision, the target, and whole new weeks with what each asks and keeps."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from service.adjustment.text.caution import caution
from service.adjustment.text.complaint import asked_first, lasting
from service.adjustment.text.decision import rule_of_pain
from service.adjustment.text.week import aimed_at, goes_by, what_then
from service.api.models.assumed_bar import assumed_bar
from service.api.models.clearance import circumstances_of, once_confirmed
from service.api.models.common import Basis, cautions
from service.api.models.constraints import loads_of
from service.api.models.pause import meanwhile_answer
from service.api.operations._consultation.gate import halted
from service.api.operations.week_adjustments.consultation import WeekConsultation, consult, limits_of_lifts
from service.api.operations.week_adjustments.models import (
    WeekAdjustments,
    WeekAdjustmentsAnswer,
    WeekOption,
    WeekTarget,
)
from service.api.operations.week_adjustments.option import cautions_of, option
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message

AGAINST_NOW: Final = (
    "68 %, one week against the other on average: lengths, masses and habits, as far as they are not shared"
)
SOURCES: Final = [
    "coenen_2012",
    "coenen_2014",
    "pelland_2024",
    "bickel_2011",
    "spiering_2021",
    "andersen_2017",
    "thomee_1997",
    "statics",
    "de_leva_1996",
    "jcgm_100",
    "design_choice",
]


def week_adjustments(request: WeekAdjustments) -> WeekAdjustmentsAnswer:
    """The consultation's answer. A red flag outranks everything else; raises Refusal for what no method covers."""
    verdict = consult(request)
    if isinstance(verdict, WeekConsultation):
        return answered(request, verdict)
    answer = halted(verdict, request.complaint, request.circumstances)
    return WeekAdjustmentsAnswer(
        decision=answer.decision,
        tier=answer.tier,
        why=answer.why,
        signs_to_ask=answer.signs_to_ask,
        referral=answer.referral,
        confirmation=answer.confirmation,
        pause=answer.pause,
        meanwhile=answer.meanwhile,
        options=[],
        considered=0,
        basis=answer.basis,
        cautions=[*answer.confirmed, *cautions()],
    )


def answered(request: WeekAdjustments, verdict: WeekConsultation) -> WeekAdjustmentsAnswer:
    """The answer where options were looked for."""
    case, pain, judgement, weeks = verdict.case, verdict.pain, verdict.judgement, verdict.chosen.weeks
    reached = verdict.chosen.weighting
    options = [option(rank, one, case, reached, request.week) for rank, one in enumerate(weeks, 1)]
    target = WeekTarget(
        region=case.region,
        ratio=round(case.target, 6),
        weighting=verdict.chosen.weighting,
        rule=rule_of_pain(pain, judgement),
    )
    return WeekAdjustmentsAnswer(
        decision="adjust",
        tier=judgement.tier,
        why=[
            *asked_first(verdict.complaint),
            message("region_hurts", region=case.region, pain=pain.in_session),
            *goes_by(pain, judgement),
            *aimed_at(case, verdict.chosen.weighting, verdict.chosen.not_eased),
            *what_then(case, len(options)),
            *lasting(verdict.complaint),
        ],
        signs_to_ask=list(verdict.complaint.signs_to_ask()),
        meanwhile=meanwhile_answer(verdict.meanwhile),
        target=target if case.now() else None,
        options=options,
        considered=verdict.chosen.considered,
        basis=_basis(verdict, _assumed_bar(request, options)),
        cautions=_cautions(request, verdict),
    )


def _assumed_bar(request: WeekAdjustments, options: Sequence[WeekOption]) -> list[Message]:
    """What was assumed of the bar of the lifts of the week, as it is and as it is offered."""
    loads = loads_of(limits_of_lifts(request), request.week[0].prescription.load.unit)
    offered = (lift.prescription for one in options for lift in one.week)
    return assumed_bar(loads, [*(one.prescription for one in request.week), *offered])


def _basis(verdict: WeekConsultation, of_the_bar: Sequence[Message]) -> Basis:
    return Basis(
        method=message("method_week_adjustments"),
        sources=SOURCES,
        assumptions=[
            message("assumed_no_sign"),
            message("assumed_weightings"),
            message("assumed_week_against_now"),
            message("assumed_week_target"),
            message("assumed_fractional_sets", reserve=CHOICES.effort.hard_set_reserve),
            *of_the_bar,
        ],
        evidence="computed" if verdict.case.now() else "practice",
        interval=AGAINST_NOW,
    )


def _cautions(request: WeekAdjustments, verdict: WeekConsultation) -> list[Message]:
    by_code = {
        code: caution(code, change.outcome.case)
        for week in verdict.chosen.weeks
        for change in week.changes
        for code in change.outcome.caution_codes
    }
    shown = {code: by_code[code] for week in verdict.chosen.weeks for code in cautions_of(week)}
    return [
        *once_confirmed(circumstances_of(request.circumstances)),
        *cautions("week_is_no_limit", "half_load_no_pain", "spotter_or_safeties", *shown.values()),
    ]
