"""The answer of a consultation: the decision, the target, the ranked options and what was ruled out."""

from __future__ import annotations

from math import degrees

from msgspec import UNSET

from service.adjustment.pace import JOINTS
from service.adjustment.present import Present
from service.adjustment.text.complaint import as_told, asked_first, lasting
from service.adjustment.text.decision import first_step, target_rule
from service.adjustment.text.option import first_later
from service.api.models.assumed_bar import assumed_bar, lighter_bar
from service.api.models.base import omitted, or_default
from service.api.models.common import cautions, estimate
from service.api.models.constraints import Constraints, loads_of
from service.api.models.pause import meanwhile_answer
from service.api.operations._consultation.gate import halted
from service.api.operations.adjustments.basis import (
    basis_of_consultation,
    cautions_of_consultation,
)
from service.api.operations.adjustments.consultation import Consultation, consult
from service.api.operations.adjustments.models import (
    Adjustments,
    AdjustmentsAnswer,
    Baseline,
    BaselineMoments,
    TargetAnswer,
)
from service.api.operations.adjustments.option import option
from service.api.operations.adjustments.ruled_out import ruled_out
from service.intervals import exactly


def adjustments(request: Adjustments) -> AdjustmentsAnswer:
    """The consultation's answer. A red flag outranks everything else; raises Refusal for what no method covers."""
    verdict = consult(request)
    if isinstance(verdict, Consultation):
        return _answer(request, verdict)
    answer = halted(verdict, request.complaint, request.circumstances)
    return AdjustmentsAnswer(
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
        ruled_out=[],
        basis=answer.basis,
        cautions=[*answer.confirmed, *cautions()],
    )


def _answer(request: Adjustments, consultation: Consultation) -> AdjustmentsAnswer:
    case, selection, unit = consultation.case, consultation.selection, request.prescription.load.unit
    pain, judgement = consultation.pain, consultation.judgement
    full = not omitted(request.detail)
    loads = loads_of(or_default(request.constraints, Constraints()), unit)
    options = [option(rank, one, case, unit, full=full) for rank, one in enumerate(selection.outcomes, 1)]
    rule = target_rule(case, pain, judgement, tolerated=not omitted(request.complaint.tolerated))
    return AdjustmentsAnswer(
        decision="adjust",
        tier=judgement.tier,
        why=[
            *asked_first(consultation.complaint),
            *first_step(case, pain, judgement, len(options), full=full),
            *([] if options else lighter_bar(loads, request.prescription)),
            *([] if consultation.later is None else [first_later(consultation.later, unit)]),
            *as_told(case),
            *lasting(consultation.complaint),
        ],
        signs_to_ask=list(consultation.complaint.signs_to_ask()),
        referral=None,
        confirmation=None,
        pause=None,
        meanwhile=meanwhile_answer(consultation.meanwhile),
        baseline=_baseline(case.present) if full else None,
        target=TargetAnswer(region=case.region, ratio=round(case.target, 6), rule=rule),
        options=options,
        considered=selection.considered,
        ruled_out=ruled_out(selection.ruled_out, unit, full=full),
        basis=basis_of_consultation(
            case, assumed_bar(loads, [request.prescription, *(one.prescription for one in options)]), full=full
        ),
        cautions=cautions_of_consultation(
            consultation,
            request.prescription,
            dict.fromkeys(code for one in options for code in one.cautions),
            full=full,
        ),
    )


def _baseline(present: Present) -> Baseline:
    if present.uncertain is None:
        moments = {
            JOINTS.get(region, region): estimate(exactly(moment), UNSET, "N·m")
            for region, moment in present.moments.items()
        }
        return Baseline(moments=BaselineMoments(**moments), trunk_lean=None)
    spans = present.uncertain.intervals
    return Baseline(
        moments=BaselineMoments(
            **{joint: estimate(span, UNSET, "N·m") for joint, span in spans.items() if joint != "trunk_lean"}
        ),
        trunk_lean=estimate(spans["trunk_lean"].scaled(degrees(1)), UNSET, "deg"),
    )
