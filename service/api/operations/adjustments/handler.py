"""The answer of a consultation: the decision, the target, the ranked options and what was ruled out."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees

from service.adjustment.consultation import Case, RuledOut
from service.adjustment.demand import JOINTS, Present
from service.adjustment.kept import Kept
from service.adjustment.options.ramp import Ramp
from service.adjustment.options.result import Outcome
from service.adjustment.stimulus import Stimulus
from service.adjustment.text.decision import first_step, target_rule, unchanged
from service.adjustment.text.option import reasons
from service.adjustment.text.pause import pause_words
from service.adjustment.text.ruled_out import reason_message, tried_message
from service.adjustment.triage import Confirmation, Judgement, Referral
from service.api.models.base import omitted
from service.api.models.clearance import ConfirmationAnswer, circumstances_of, confirm, once_confirmed
from service.api.models.common import CENTRAL_ONLY, TWO_THIRDS, Basis, cautions, estimate, rounded
from service.api.models.pause import MeanwhileGroup, PauseAnswer, basis_of_pause, meanwhile_answer, paused
from service.api.models.prescription import shown
from service.api.models.referral import ReferralAnswer, refer
from service.api.operations.adjustments.basis import (
    basis_of_consultation,
    basis_of_no_change,
    basis_of_option,
    cautions_of_consultation,
    cautions_of_option,
)
from service.api.operations.adjustments.consultation import Consultation, Paused, consult, judged_of
from service.api.operations.adjustments.models import (
    Adjustments,
    AdjustmentsAnswer,
    Baseline,
    KeptAnswer,
    KeptPartAnswer,
    LoadRange,
    Option,
    RampAnswer,
    RuledOutAnswer,
    StimulusAnswer,
    TargetAnswer,
)
from service.intervals import Interval, exactly
from service.messages import Message
from service.units import MassUnit, mass
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
    if isinstance(verdict, Confirmation):
        first, basis = confirm(verdict)
        pause = paused(judgement, region)
        why = [*([] if pause is None else [pause.message, pause.what_to_do]), *first.what_to_do]
        return _without_options("confirm_first", judgement, basis, why, confirmation=first, pause=pause)
    if isinstance(verdict, Paused):
        why = pause_words(judgement, region, something_else=bool(verdict.meanwhile))
        return _without_options(
            "pause_and_review",
            judgement,
            basis_of_pause(),
            why,
            pause=paused(judgement, region),
            meanwhile=meanwhile_answer(verdict.meanwhile),
            confirmed=once_confirmed(circumstances_of(request.circumstances)),
        )
    return _without_options("no_change_needed", judgement, basis_of_no_change(judgement), unchanged(judgement))


def _answer(request: Adjustments, consultation: Consultation) -> AdjustmentsAnswer:
    case, selection, unit = consultation.case, consultation.selection, request.prescription.load.unit
    pain, judgement = consultation.pain, consultation.judgement
    rule = target_rule(pain, judgement, tolerated=not omitted(request.complaint.tolerated))
    return AdjustmentsAnswer(
        decision="adjust",
        tier=judgement.tier,
        why=first_step(case, pain, judgement, selection.ranked),
        referral=None,
        confirmation=None,
        pause=None,
        meanwhile=meanwhile_answer(consultation.meanwhile),
        baseline=_baseline(case.present),
        target=TargetAnswer(region=case.region, ratio=round(case.target, 6), rule=rule),
        options=[_option(rank, one, case, unit) for rank, one in enumerate(selection.outcomes, 1)],
        considered=selection.considered,
        ruled_out=[_ruled_out(one, unit) for one in selection.ruled_out],
        basis=basis_of_consultation(case),
        cautions=cautions_of_consultation(consultation, request.prescription),
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
) -> AdjustmentsAnswer:
    return AdjustmentsAnswer(
        decision=decision,
        tier=judgement.tier,
        why=why,
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
            JOINTS.get(region, region): estimate(exactly(moment), CENTRAL_ONLY, "N·m")
            for region, moment in present.moments.items()
        }
        return Baseline(moments=moments, trunk_lean=None)
    spans = present.uncertain.intervals
    return Baseline(
        moments={joint: estimate(span, TWO_THIRDS, "N·m") for joint, span in spans.items() if joint != "trunk_lean"},
        trunk_lean=estimate(spans["trunk_lean"].scaled(degrees(1)), TWO_THIRDS, "deg"),
    )


def _option(rank: int, option: Outcome, case: Case, unit: MassUnit) -> Option:
    candidate = option.candidate
    return Option(
        rank=rank,
        levers=list(candidate.levers),
        program=candidate.trial.program,
        prescription=shown(candidate.prescription, unit),
        demand={
            region: estimate(span, TWO_THIRDS if region in option.with_interval else CENTRAL_ONLY)
            for region, span in option.demand.items()
        },
        direction=option.direction,
        session_exposure=rounded(candidate.exposure),
        meets_by=candidate.meets_by,
        ramp=None if option.ramp is None else _ramp(option.ramp, unit),
        stimulus=_stimulus(candidate.stimulus),
        why=reasons(option, case, unit),
        basis=basis_of_option(option, case),
        cautions=cautions_of_option(option, case),
    )


def _stimulus(stimulus: Stimulus) -> StimulusAnswer:
    seconds = stimulus.set_seconds
    return StimulusAnswer(
        weekly_sets=round(stimulus.hard_sets, 4),
        volume_load=round(stimulus.volume_load, 4),
        relative_load=rounded(stimulus.relative_load),
        reps_in_reserve=round(stimulus.reserve, 1),
        muscle_moment=rounded(stimulus.muscle_moment),
        seconds_a_set=None
        if seconds is None
        else estimate(seconds, "an X counts as half to one and a half seconds", "s"),
        kept=_kept(stimulus.kept),
    )


def _ramp(ramp: Ramp, unit: MassUnit) -> RampAnswer:
    expected = ramp.expected
    return RampAnswer(
        start=mass(ramp.start, unit),
        step=None if ramp.step is None else mass(ramp.step, unit),
        at_most=mass(ramp.at_most, unit),
        reps_in_reserve=ramp.reserve,
        expected=None if expected is None else LoadRange(low=mass(expected.low, unit), high=mass(expected.high, unit)),
        sources=list(ramp.sources),
    )


def _kept(kept: Kept) -> KeptAnswer:
    index = _kept_part(kept.index)
    return KeptAnswer(
        value=index.value,
        low=index.low,
        high=index.high,
        parts={name: _kept_part(part) for name, part in kept.parts.items()},
        muscles={muscle: _kept_part(part) for muscle, part in kept.muscles.items()},
    )


def _kept_part(part: Interval) -> KeptPartAnswer:
    """A part with its span; what has none, such as a load that is computed, shows none."""
    value, low, high = (round(end, 6) for end in (part.value, part.low, part.high))
    spanned = low < high
    return KeptPartAnswer(value=value, low=low if spanned else None, high=high if spanned else None)


def _ruled_out(one: RuledOut, unit: MassUnit) -> RuledOutAnswer:
    return RuledOutAnswer(lever=", ".join(one.levers), reason=reason_message(one, unit), tried=tried_message(one, unit))
