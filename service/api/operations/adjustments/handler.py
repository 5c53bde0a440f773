"""adjustments, the main job: ranked adjusted prescriptions for a sore region, with what each costs and saves."""

from __future__ import annotations

from math import degrees
from typing import Annotated

from msgspec import UNSET, Meta, UnsetType
from msgspec.structs import replace

from service.adjustment.clearance import Condition
from service.adjustment.consultation import Candidate, Case, RuledOut
from service.adjustment.demand import JOINTS, Present, present_demand, region_ratio
from service.adjustment.options.ranking import ranked
from service.adjustment.options.result import Outcome, hardly_loaded, outcome, surest_first
from service.adjustment.options.search import candidates
from service.adjustment.prescription import Prescription
from service.adjustment.sore_region import check_comparable, check_loaded
from service.adjustment.text.decision import first_step_words, unchanged_words
from service.adjustment.text.option import named, reasons
from service.adjustment.triage import CHOICE, Pain, band, referral
from service.api.models.base import RequestModel, ResponseModel, or_default, stated, stated_si
from service.api.models.clearance import Circumstances, conditions_of, once_confirmed
from service.api.models.common import (
    Basis,
    Caution,
    Estimate,
    cautions,
    estimate,
    whole,
)
from service.api.models.equipment import BarSetup, implement
from service.api.models.ids import ExerciseId, SignId
from service.api.models.lifter import DEMO_LIFTER, Lifter, body_of
from service.api.models.operation import Example, Operation
from service.api.models.prescription import (
    AdjustedPrescription,
    PrescriptionGiven,
    load_on,
    load_text,
    prescription_of,
    shown,
)
from service.api.models.referral import ReferralAnswer, confirm_first, refer
from service.api.models.setup import CAUTION_TEXTS, located
from service.api.operations.adjustments.chart import picture
from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.units import Mass, MassUnit
from service.vocabulary import (
    LEVERS,
    AdjustmentDecision,
    Aim,
    Band,
    Direction,
    Evidence,
    Lever,
    MeetsBy,
    Program,
    Region,
)

PainScore = Annotated[float, Meta(ge=0, le=10, description="Pain from 0 (none) to 10 (worst imaginable).")]
SPAN = "about two times in three; swept: basis.assumptions"
CENTRAL = (
    "central value only: in proportion to the load with the posture kept, or at an assumed lean; its span is not known"
)
BEATEN = "Another option does as well by the region and the training effect, or nearly so with one change less."
KEPT = "an index of our own, from the sets, the effort and the relative load; its span is not known"


class ToleratedLoad(RequestModel, kw_only=True, frozen=True):
    """A load of the same lift that does not hurt, or hardly; it becomes the target."""

    load: Mass
    pain: PainScore | UnsetType = UNSET


class Complaint(RequestModel, kw_only=True, frozen=True):
    """What hurts and how much; any sign (red flag, see GET /v1/signs) ends in a referral."""

    region: Region
    pain_in_session: PainScore
    pain_next_morning: PainScore | UnsetType = UNSET
    usual_pain: PainScore | UnsetType = UNSET
    pain_at_rest: PainScore | UnsetType = UNSET
    signs: Annotated[list[SignId], Meta(max_length=54)] = []
    tolerated: ToleratedLoad | UnsetType = UNSET


class Constraints(RequestModel, kw_only=True, frozen=True):
    """What may be changed and what there is. Left out: every lever, every exercise, the usual bar.

    exercises: that may take the place of the present lift; exclude: that no option may use, the present one among them.
    increment: step of dumbbells, machines, belts and assistance; lightest_load: no option is lighter, and the target
    is not set below its demand.
    """

    levers: Annotated[list[Lever], Meta(min_length=1, max_length=11)] | UnsetType = UNSET
    exercises: Annotated[list[ExerciseId], Meta(max_length=60)] | UnsetType = UNSET
    exclude: Annotated[list[ExerciseId], Meta(max_length=60)] = []
    bar: BarSetup | UnsetType = UNSET
    increment: Mass | UnsetType = UNSET
    lightest_load: Mass | UnsetType = UNSET
    days_per_week_max: Annotated[float, whole(1, 7, "Most days a week, 1 to 7.")] | UnsetType = UNSET


class Adjustments(RequestModel, kw_only=True, frozen=True):
    """A consultation: the lifter, the prescription that hurts, the complaint and the aim."""

    lifter: Lifter
    prescription: PrescriptionGiven
    complaint: Complaint
    aim: Aim
    circumstances: Circumstances | UnsetType = UNSET
    constraints: Constraints | UnsetType = UNSET
    limit: Annotated[float, whole(1, 20, "Most options in the answer, 1 to 20.")] = 5


class StimulusAnswer(ResponseModel, kw_only=True, frozen=True):
    """What the muscle is asked to do against the present: ratios of the week, share of the lift's own maximum, and an index of the effect kept.

    seconds_a_set: time under tension of a set, null without a tempo or hold; muscle_moment: moment asked of hip and
    knee together, null where not computed.
    """

    weekly_sets: float
    volume_load: float
    relative_load: float | None
    reps_in_reserve: float
    muscle_moment: float | None
    seconds_a_set: Estimate | None
    kept: Estimate


class Baseline(ResponseModel, kw_only=True, frozen=True):
    """The present prescription: peak moments of a repetition (N·m; hip, knee and ankle per leg) and the trunk lean at the bottom (deg); both empty where no planar model covers the lift."""

    moments: dict[str, Estimate]
    trunk_lean: Estimate | None


class TargetAnswer(ResponseModel, kw_only=True, frozen=True):
    """The share of its present demand to which the sore region is brought, and the rule that says so."""

    region: Region
    ratio: float
    rule: str


class Option(ResponseModel, kw_only=True, frozen=True):
    """One adjusted prescription: demand of each region against the present, and what it keeps of the stimulus.

    demand: by region where a number is known; direction: of every region that the lift loads. session_exposure: the
    sore region's demand summed over a session against the present, null where no number is known. meets_by: peak,
    where each repetition asks less; direction_only, where that is said and no number is known; session_exposure, where
    only the session's sum falls. program: a program of its own, for tendons.
    """

    rank: int
    levers: list[Lever]
    program: Program | None
    prescription: AdjustedPrescription
    demand: dict[str, Estimate]
    direction: dict[str, Direction]
    session_exposure: float | None
    meets_by: MeetsBy
    stimulus: StimulusAnswer
    why: list[str]
    basis: Basis
    cautions: list[Caution]


class RuledOutAnswer(ResponseModel, kw_only=True, frozen=True):
    """What gave no option, and why."""

    lever: str
    reason: str


class AdjustmentsAnswer(ResponseModel, kw_only=True, frozen=True):
    """The decision and why, in words for the lifter; options in the order in which to try them; what was considered and why it fell."""

    decision: AdjustmentDecision
    why: list[str]
    referral: ReferralAnswer | None
    baseline: Baseline | None
    target: TargetAnswer | None
    options: list[Option]
    considered: int
    ruled_out: list[RuledOutAnswer]
    basis: Basis
    cautions: list[Caution]


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
            *(_ruled_out(one, unit) for one in tried if isinstance(one, RuledOut)),
            *(_ruled_out(RuledOut(one.levers, BEATEN, one.prescription), unit) for one in found if one not in order),
        ],
        basis=_basis("computed" if case.present.swept else "published", []),
        cautions=_general_cautions(request, level, conditions, case),
    )


def _general_cautions(
    request: Adjustments, level: Band, conditions: tuple[Condition, ...], case: Case
) -> list[Caution]:
    codes = ["half_load_no_pain", "posture_is_a_rule" if case.present.swept else "directions_not_numbers"]
    if level == "red":
        codes.insert(0, "moderate_pain")
    if isinstance(request.prescription.reps_in_reserve, UnsetType):
        codes.append("reserve_assumed")
    codes.append("spotter_or_safeties")
    return [
        *once_confirmed(conditions),
        *cautions(*codes, limit=f"{CHOICE.amber_up_to:g}", reserve=f"{CHOICES.effort.assumed_reserve:g}"),
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
        return max(CHOICE.most_days, now.days or 0)
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
        wanted = CHOICE.first_step[level]
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
    if not isinstance(request.complaint.tolerated, UnsetType):
        rule = "the computed demand of the load that the lifter tolerates"
    else:
        step = CHOICE.first_step[level]
        rule = (
            f"pain in the {level} band: demand to {100 * step:.0f} % of the present as a first step (practice and our own "
            "choice; no study links the step to a pain score)"
        )
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
        method=f"pain of {pain.in_session:g} is in the band up to {CHOICE.green_up_to:g}, with no real rise next morning",
        sources=["thomee_1997", "silbernagel_2007", "childs_2005", "design_choice"],
        assumptions=["A change of one point is noise; missing mornings never count as good ones."],
        evidence="practice",
    )


def _baseline(present: Present) -> Baseline:
    if present.swept is None:
        moments = {
            region: estimate(Interval(moment, moment, moment), CENTRAL, "N·m")
            for region, moment in present.moments.items()
        }
        return Baseline(moments={JOINTS.get(region, region): one for region, one in moments.items()}, trunk_lean=None)
    spans = present.swept.intervals
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
            region: estimate(span, SPAN if region in found.swept else CENTRAL) for region, span in found.demand.items()
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
        why=reasons(found, case, lambda new: load_text(new, unit)),
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
    """Reasons name the prescription that fell, where it came to one."""
    tried = "" if one.prescription is None else f"{named(one.prescription, lambda new: load_text(new, unit))}: "
    return RuledOutAnswer(lever=", ".join(one.levers), reason=f"{tried}{one.reason}")


def _rise(found: Outcome, case: Case, region: str) -> str:
    risen = f"{100 * (found.demand[region].value - 1):.0f} %"
    return f"{risen} of the little it is now" if hardly_loaded(case, region) else risen


def _option_cautions(found: Outcome, case: Case) -> list[Caution]:
    one = found.candidate
    facts = {
        "reserve": f"{CHOICE.untested_reserve:g}",
        "region": ", ".join(REGIONS[region].name.lower() for region in found.risen),
        "rise": ", ".join(_rise(found, case, region) for region in found.risen),
        "exposure": f"{100 * (one.exposure or 0.0):.0f} %",
        "left": f"{one.stimulus.reserve:.0f}",
        "bound": f"at least {one.stimulus.reserve:.0f} are left",
    }
    modelled = [Caution(code=code, text=CAUTION_TEXTS[code]) for code in found.model_cautions]
    return [*modelled, *cautions(*found.caution_codes, **facts)]


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


OPERATIONS = (
    Operation(
        name="adjustments",
        tag="The main job",
        summary="Adjusted prescriptions for a sore region",
        description="For a squat, hinge, split squat, press or pull that hurts: the smallest changes that bring the sore region's demand to the target and keep "
        "the training effect, ranked, with the demand of every region (ratio to the present prescription), the stimulus kept, what was considered and why the "
        "rest fell. Loads in kg or lb, answered in the unit asked about and rounded down to what the bar can hold. Any red flag ends in the decision `refer`, "
        "which is an answer and not an error; pain up to 2 of 10 in `no_change_needed`. Levers: load, reps, tempo, sets, rest, days, range of motion, technique, "
        "equipment, variation, exercise. Presses and pulls have no planar model: there most is a direction and not a number, and said to be so.",
        request=Adjustments,
        answer=AdjustmentsAnswer,
        compute=adjustments,
        cost=50,
        picture_cost=200,
        tried=lambda answer: answer.considered,
        leading="prescription",
        picture=lambda request: picture(request, adjustments(request)),
        examples=(
            Example(
                "sore-low-back",
                "Front squats that hurt the low back",
                {
                    "lifter": DEMO_LIFTER,
                    "prescription": {
                        "exercise": "front_squat",
                        "sets": 4,
                        "reps": {"low": 5, "high": 6},
                        "load": {"value": 62.5, "unit": "kg"},
                        "reps_in_reserve": 2,
                        "days_per_week": 2,
                    },
                    "complaint": {"region": "low_back", "pain_in_session": 4, "pain_next_morning": 2, "usual_pain": 1},
                    "aim": "strength",
                    "constraints": {"bar": {"bar": {"value": 15, "unit": "kg"}}, "days_per_week_max": 3},
                },
            ),
            Example(
                "red-flag",
                "The same with a red flag",
                {
                    "lifter": {"body_mass": {"value": 64, "unit": "kg"}, "stature": {"value": 168, "unit": "cm"}},
                    "prescription": {
                        "exercise": "front_squat",
                        "sets": 4,
                        "reps": {"low": 5, "high": 6},
                        "load": {"value": 62.5, "unit": "kg"},
                    },
                    "complaint": {"region": "low_back", "pain_in_session": 1, "signs": ["bladder_change"]},
                    "aim": "strength",
                },
            ),
        ),
    ),
)
