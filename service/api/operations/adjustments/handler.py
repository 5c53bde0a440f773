"""The answer of a consultation: the decision, the target, the ranked options and what was ruled out."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees

from msgspec import UNSET

from service.adjustment.pace import JOINTS
from service.adjustment.present import Present
from service.adjustment.text.complaint import as_told, asked_first, lasting
from service.adjustment.text.decision import first_step, target_rule, unchanged
from service.adjustment.text.pause import pause_words
from service.adjustment.triage import Confirmation, Judgement, Referral
from service.api.models.base import omitted
from service.api.models.clearance import ConfirmationAnswer, circumstances_of, confirm, once_confirmed
from service.api.models.common import Basis, cautions, estimate
from service.api.models.pause import MeanwhileGroup, PauseAnswer, basis_of_pause, meanwhile_answer, paused
from service.api.models.referral import ReferralAnswer, refer
from service.api.operations.adjustments.basis import (
    basis_of_consultation,
    basis_of_no_change,
    cautions_of_consultation,
)
from service.api.operations.adjustments.consultation import Consultation, Paused, consult, judged_of, told_of
from service.api.operations.adjustments.models import (
    Adjustments,
    AdjustmentsAnswer,
    Baseline,
    TargetAnswer,
)
from service.api.operations.adjustments.option import option
from service.api.operations.adjustments.ruled_out import ruled_out
from service.intervals import exactly
from service.messages import Message
from service.vocabulary import AdjustmentDecision


def adjustments(request: Adjustments) -> AdjustmentsAnswer:
    """The consultation's answer. A red flag outranks everything else; raises Refusal for what no method covers."""
    verdict, region = consult(request), request.complaint.region
    if isinstance(verdict, Consultation):
        return _answer(request, verdict)
    judgement = judged_of(request.complaint)
    if isinstance(verdict, Referral):
        answer, basis = refer(verdict)
        return _without_options("refer", judgement, basis, [answer.what_to_do], referral=answer)
    told = told_of(request.complaint)
    signs = told.signs_to_ask()
    if isinstance(verdict, Confirmation):
        first, basis = confirm(verdict)
        pause = paused(judgement, region)
        why = [*asked_first(told), *([] if pause is None else [pause.message, pause.what_to_do]), *first.what_to_do]
        return _without_options("confirm_first", judgement, basis, why, confirmation=first, pause=pause, signs=signs)
    if isinstance(verdict, Paused):
        words = pause_words(judgement, region, something_else=bool(verdict.meanwhile))
        return _without_options(
            "pause_and_review",
            judgement,
            basis_of_pause(),
            [*asked_first(told), *words, *lasting(told)],
            pause=paused(judgement, region),
            meanwhile=meanwhile_answer(verdict.meanwhile),
            confirmed=once_confirmed(circumstances_of(request.circumstances)),
            signs=signs,
        )
    why = [*asked_first(told), *unchanged(judgement), *lasting(told)]
    return _without_options("no_change_needed", judgement, basis_of_no_change(judgement), why, signs=signs)


def _answer(request: Adjustments, consultation: Consultation) -> AdjustmentsAnswer:
    case, selection, unit = consultation.case, consultation.selection, request.prescription.load.unit
    pain, judgement = consultation.pain, consultation.judgement
    full = not omitted(request.detail)
    options = [option(rank, one, case, unit, full=full) for rank, one in enumerate(selection.outcomes, 1)]
    rule = target_rule(case, pain, judgement, tolerated=not omitted(request.complaint.tolerated))
    return AdjustmentsAnswer(
        decision="adjust",
        tier=judgement.tier,
        why=[
            *asked_first(consultation.complaint),
            *first_step(case, pain, judgement, selection.ranked),
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
        basis=basis_of_consultation(case, full=full),
        cautions=cautions_of_consultation(
            consultation,
            request.prescription,
            dict.fromkeys(code for one in options for code in one.cautions),
            full=full,
        ),
    )


def _without_options(
    decision: AdjustmentDecision,
    judgement: Judgement,
    basis: Basis,
    why: list[Message],
    *,
    referral: ReferralAnswer | None = None,
    confirmation: ConfirmationAnswer | None = None,
    pause: PauseAnswer | None = None,
    meanwhile: Sequence[MeanwhileGroup] = (),
    confirmed: Sequence[Message] = (),
    signs: tuple[str, ...] = (),
) -> AdjustmentsAnswer:
    return AdjustmentsAnswer(
        decision=decision,
        tier=judgement.tier,
        why=why,
        signs_to_ask=list(signs),
        referral=referral,
        confirmation=confirmation,
        pause=pause,
        meanwhile=list(meanwhile),
        baseline=None,
        target=None,
        options=[],
        considered=0,
        ruled_out=[],
        basis=basis,
        cautions=[*confirmed, *cautions()],
    )


def _baseline(present: Present) -> Baseline:
    if present.uncertain is None:
        moments = {
            JOINTS.get(region, region): estimate(exactly(moment), UNSET, "N·m")
            for region, moment in present.moments.items()
        }
        return Baseline(moments=moments, trunk_lean=None)
    spans = present.uncertain.intervals
    return Baseline(
        moments={joint: estimate(span, UNSET, "N·m") for joint, span in spans.items() if joint != "trunk_lean"},
        trunk_lean=estimate(spans["trunk_lean"].scaled(degrees(1)), UNSET, "deg"),
    )
