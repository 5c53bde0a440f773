"""adjustments, the main job: ranked adjusted prescriptions for a sore region, with what each costs and saves."""

from __future__ import annotations

from math import degrees

from msgspec import UnsetType
from msgspec.structs import replace

from service.adjustment.clearance import Condition
from service.adjustment.consultation import Candidate, Case, RuledOut
from service.adjustment.demand import JOINTS, Present, present_demand, region_ratio
from service.adjustment.options.ranking import beaten, ranked
from service.adjustment.options.result import Outcome, outcome, surest_first
from service.adjustment.options.search import candidates
from service.adjustment.prescription import Prescription
from service.adjustment.sore_region import check_comparable, check_loaded
from service.adjustment.text.decision import first_step_words, target_rule_words, unchanged_words
from service.adjustment.text.option import caution_facts, reasons
from service.adjustment.text.ruled_out import ruled_out_words
from service.adjustment.triage import Pain, band, referral
from service.api.models.base import or_default, stated, stated_si
from service.api.models.clearance import conditions_of, once_confirmed
from service.api.models.common import (
    Basis,
    Caution,
    cautions,
    estimate,
)
from service.api.models.equipment import implement
from service.api.models.lifter import body_of
from service.api.models.prescription import (
    load_on,
    prescription_of,
    shown,
)
from service.api.models.referral import ReferralAnswer, confirm_first, refer
from service.api.models.setup import CAUTION_TEXTS, located
from service.api.operations.adjustments.models import (
    Adjustments,
    AdjustmentsAnswer,
    Baseline,
    Constraints,
    Option,
    RuledOutAnswer,
    StimulusAnswer,
    TargetAnswer,
)
from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.units import MassUnit
from service.vocabulary import (
    LEVERS,
    AdjustmentDecision,
    Band,
    Evidence,
)

SPAN = "about two times in three; swept: basis.assumptions"
CENTRAL = (
    "central value only: in proportion to the load with the posture kept, or at an assumed lean; its span is not known"
)
KEPT = "an index of our own, from the sets, the effort and the relative load; its span is not known"


def adjustments(request: Adjustments) -> AdjustmentsAnswer:
    """The consultation's answer. A red flag outranks everything else; raises Refusal for what no method covers."""
    complaint = request.complaint
    stop = referral(complaint.signs)
    if stop:
        answer, basis = refer(stop)
        return _without_options("refer", basis, [answer.what_to_do], answer)
    conditions, confirmed = conditions_of(request.circumstances, stated(complaint.pain_at_rest))
    if conditions and not confirmed:
        answer, basis = confirm_first(conditions)
        return _without_options("refer", basis, [answer.what_to_do], answer)
    check_loaded(request.prescription.exercise, complaint.region, "complaint/region")
    pain = Pain(complaint.pain_in_session, stated(complaint.pain_next_morning), stated(complaint.usual_pain))
    level = band(pain)
    if level == "green" and isinstance(complaint.tolerated, UnsetType):
        return _without_options("no_change_needed", _unchanged(pain), unchanged_words(pain))
    case = consultation(request, level)
    target = _target_answer(request, case, level)
    tried = list(candidates(case))
    found = [one for one in tried if isinstance(one, Candidate)]
    order = ranked(found, case.region)
    unit = request.prescription.load.unit
    outcomes = surest_first([outcome(case, one) for one in order], case.region)[: int(request.limit)]
    return AdjustmentsAnswer(
        decision="adjust",
        why=first_step_words(case, pain, len(order)),
        referral=None,
        baseline=_baseline(case.present),
        target=target,
        options=[_option(rank + 1, one, case, unit) for rank, one in enumerate(outcomes)],
        considered=len(tried),
        ruled_out=[
            _ruled_out(one, unit)
            for one in (*(one for one in tried if isinstance(one, RuledOut)), *beaten(found, order))
        ],
        basis=_basis("computed" if case.present.propagated else "published", []),
        cautions=_general_cautions(request, level, conditions, case),
    )


def _general_cautions(
    request: Adjustments, level: Band, conditions: tuple[Condition, ...], case: Case
) -> list[Caution]:
    codes = ["half_load_no_pain", "posture_is_a_rule" if case.present.propagated else "directions_not_numbers"]
    if level == "red":
        codes.insert(0, "moderate_pain")
    if isinstance(request.prescription.reps_in_reserve, UnsetType):
        codes.append("reserve_assumed")
    codes.append("spotter_or_safeties")
    return [
        *once_confirmed(conditions),
        *cautions(*codes, limit=f"{CHOICES.adjustments.amber_up_to:g}", reserve=f"{CHOICES.effort.assumed_reserve:g}"),
    ]


def consultation(request: Adjustments, level: Band) -> Case:
    """The case to be searched. Raises Refusal with pointers into the request."""
    body = body_of(request.lifter)
    now = prescription_of(request.prescription, request.lifter)
    region = request.complaint.region
    try:
        present = present_demand(body, now)
    except Refusal as refusal:
        raise located(refusal, "/prescription") from None
    check_comparable(present, region, "complaint/region")
    limits = or_default(request.constraints, Constraints())
    lightest = stated_si(limits.lightest_load) or 0.0
    return Case(
        present,
        region,
        _target_ratio(request, present, level, lightest),
        request.aim,
        frozenset(or_default(limits.levers, LEVERS)),
        frozenset(or_default(limits.exercises, EXERCISES)) - set(limits.exclude),
        _most_days(limits, now),
        lightest or -body.mass,
        implement(limits.bar, limits.increment, request.prescription.load.unit, "/constraints"),
        now.exercise in limits.exclude,
    )


def _most_days(limits: Constraints, now: Prescription) -> int:
    """Days a week on which the lift may be trained. Raises Refusal where there are too many now and days must stay."""
    if isinstance(limits.days_per_week_max, UnsetType):
        return max(CHOICES.adjustments.most_days, now.days or 0)
    most = int(limits.days_per_week_max)
    fixed = not isinstance(limits.levers, UnsetType) and "days" not in limits.levers
    if fixed and now.days is not None and now.days > most:
        raise Refusal.one(
            "constraints/days_per_week_max",
            f"The lift is trained on {now.days} days a week now, and days are not among the levers.",
            f"at least {now.days}, or days among constraints/levers",
        )
    return most


def _target_ratio(request: Adjustments, present: Present, level: Band, lightest: float) -> float:
    """The share to which the demand is brought: of the tolerated load, else by the pain; not below the lightest load's."""
    tolerated = request.complaint.tolerated
    if isinstance(tolerated, UnsetType):
        wanted = CHOICES.adjustments.first_step[level]
    else:
        load = load_on(present.prescription.exercise, tolerated.load, "/complaint/tolerated/load")
        if load >= present.prescription.load:
            raise Refusal.one(
                "complaint/tolerated/load",
                "The tolerated load must be lighter than the prescribed one.",
                "less than prescription/load",
            )
        wanted = _ratio_at(request, present, load, "/complaint/tolerated/load")
    if not lightest:
        return wanted
    if lightest >= present.prescription.load:
        raise Refusal.one(
            "constraints/lightest_load", "Nothing lighter than now would be left to try.", "less than prescription/load"
        )
    return max(wanted, _ratio_at(request, present, lightest, "/constraints/lightest_load"))


def _ratio_at(request: Adjustments, present: Present, load: float, pointer: str) -> float:
    """Demand of the sore region with another load of the same lift; in proportion to it where nothing is computed."""
    try:
        ratio = region_ratio(present, replace(present.prescription, load=load), request.complaint.region)
    except Refusal as refusal:
        raise refusal.at({fault.pointer: pointer for fault in refusal.faults}) from None
    return load / present.prescription.load if ratio is None else ratio


def _target_answer(request: Adjustments, case: Case, level: Band) -> TargetAnswer:
    rule = target_rule_words(level, tolerated=not isinstance(request.complaint.tolerated, UnsetType))
    return TargetAnswer(region=request.complaint.region, ratio=round(case.target, 6), rule=rule)


def _without_options(
    decision: AdjustmentDecision, basis: Basis, why: list[str], stop: ReferralAnswer | None = None
) -> AdjustmentsAnswer:
    return AdjustmentsAnswer(
        decision=decision,
        why=why,
        referral=stop,
        baseline=None,
        target=None,
        options=[],
        considered=0,
        ruled_out=[],
        basis=basis,
        cautions=cautions(),
    )


def _unchanged(pain: Pain) -> Basis:
    return Basis(
        method=f"pain of {pain.in_session:g} is in the band up to {CHOICES.adjustments.green_up_to:g}, with no real rise next morning",
        sources=["thomee_1997", "silbernagel_2007", "childs_2005", "design_choice"],
        assumptions=["A change of one point is noise; missing mornings never count as good ones."],
        evidence="practice",
    )


def _baseline(present: Present) -> Baseline:
    if present.propagated is None:
        moments = {
            region: estimate(Interval(moment, moment, moment), CENTRAL, "N·m")
            for region, moment in present.moments.items()
        }
        return Baseline(moments={JOINTS.get(region, region): one for region, one in moments.items()}, trunk_lean=None)
    spans = present.propagated.intervals
    return Baseline(
        moments={joint: estimate(span, SPAN, "N·m") for joint, span in spans.items() if joint != "trunk_lean"},
        trunk_lean=estimate(spans["trunk_lean"].scaled(degrees(1)), SPAN, "deg"),
    )


def _option(rank: int, found: Outcome, case: Case, unit: MassUnit) -> Option:
    one = found.candidate
    seconds = one.stimulus.set_seconds
    return Option(
        rank=rank,
        levers=list(one.levers),
        program=one.trial.program,
        prescription=shown(one.prescription, unit),
        demand={
            region: estimate(span, SPAN if region in found.with_interval else CENTRAL)
            for region, span in found.demand.items()
        },
        direction=found.direction,
        session_exposure=None if one.exposure is None else round(one.exposure, 4),
        meets_by=one.meets_by,
        stimulus=StimulusAnswer(
            weekly_sets=round(one.stimulus.hard_sets, 4),
            volume_load=round(one.stimulus.volume_load, 4),
            relative_load=None if one.stimulus.relative_load is None else round(one.stimulus.relative_load, 4),
            reps_in_reserve=round(one.stimulus.reserve, 1),
            muscle_moment=None if one.stimulus.muscle_moment is None else round(one.stimulus.muscle_moment, 4),
            seconds_a_set=None
            if seconds is None
            else estimate(seconds, "an X counts as half to one and a half seconds", "s"),
            kept=estimate(Interval(one.stimulus.kept, one.stimulus.kept, one.stimulus.kept), KEPT),
        ),
        why=reasons(found, case, unit),
        basis=_basis(_evidence(one, case), list(found.sources)),
        cautions=_option_cautions(found, case),
    )


def _evidence(one: Candidate, case: Case) -> Evidence:
    if one.meets_by == "direction_only":
        return "direction_only"
    if one.meets_by == "session_exposure":
        return "computed"
    if one.trial.untested:
        return "practice"
    return one.effects[case.region].evidence


def _ruled_out(one: RuledOut, unit: MassUnit) -> RuledOutAnswer:
    return RuledOutAnswer(lever=", ".join(one.levers), reason=ruled_out_words(one, unit))


def _option_cautions(found: Outcome, case: Case) -> list[Caution]:
    modelled = [Caution(code=code, text=CAUTION_TEXTS[code]) for code in found.model_cautions]
    return [*modelled, *cautions(*found.caution_codes, **caution_facts(found, case))]


def _basis(evidence: Evidence, sources: list[str]) -> Basis:
    return Basis(
        method="sagittal balance of the lifter at rest for each candidate that the planar model covers, peak moment of a repetition against the present one; published findings for presses, pulls and the arms; general load–repetition table for effort",
        sources=list(
            dict.fromkeys(
                [*sources, "de_leva_1996", "winter_2009", "nuzzo_2024", "thomee_1997", "statics", "design_choice"]
            )
        ),
        assumptions=[
            "Each variation is done with its usual shin angle, or what the ankle allows (our own rule).",
            "A load for a new exercise: published ratio × 0.90, the ratio less one SD where that is published, or half of the intended load where no ratio is; never above the present load.",
            "Presses and pulls: with the posture kept, what shoulder, elbow and wrist hold rises in proportion to the load; the limb's own weight is left out.",
            "Swept one by one: posture habit, bar place, balance, unmeasured lengths and joint places; what both setups share is moved together.",
            "The effect kept is an index of our own.",
        ],
        evidence=evidence,
    )
