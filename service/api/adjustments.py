"""adjustments, the main job: ranked adjusted prescriptions for a sore region, with what each costs and saves."""

from __future__ import annotations

from math import degrees
from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType
from msgspec.structs import replace

from service.adjustment.candidates import EXERCISES_TRIED, VARIATIONS, Candidate, Case, RuledOut, candidates
from service.adjustment.gate import CHOICE, Pain, Referral, band, referral
from service.adjustment.prescription import Prescription, demand, ratios
from service.adjustment.ranking import ranked
from service.api.lifter import DEMO_LIFTER, Lifter, body_of, limits_of
from service.api.operation import Example, Operation
from service.api.shared import (
    Answer,
    BarSetup,
    Basis,
    BasisReserve,
    Caution,
    Closed,
    Estimate,
    ExerciseId,
    RepRange,
    SetCount,
    as_rep_range,
    bar_of,
    cautions,
    estimate,
    positive,
    reps_range,
    whole,
)
from service.api.signs import SignId
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.loader import CHOICES
from service.mechanics.body import Body
from service.mechanics.setups import Technique
from service.mechanics.sweep import Swept
from service.quantities import Mass, MassUnit, mass, si
from service.refusals import Refusal
from service.training.relations import relation_for

SoreRegion = Literal["low_back", "hip", "knee"]
Lever = Literal["load", "reps", "variation", "exercise", "days"]
LEVERS: tuple[Lever, ...] = ("load", "reps", "variation", "exercise", "days")
PainScore = Annotated[float, Meta(ge=0, le=10, description="Pain from 0 (none) to 10 (worst imaginable).")]
SPAN = "about two times in three; swept: basis.assumptions"
KEPT = "an index of our own, from the sets, the effort and the relative load; its span is not known"


class PrescriptionGiven(Closed, kw_only=True, frozen=True):
    """A squat prescription as it is now: sets a session, a range of repetitions, the load, and if known the repetitions in reserve and days a week."""

    exercise: ExerciseId
    sets: SetCount
    reps: RepRange
    load: Mass
    reps_in_reserve: BasisReserve | UnsetType = UNSET
    days_per_week: Annotated[float, whole(1, 7, "Days a week on which the lift is trained, 1 to 7.")] | UnsetType = (
        UNSET
    )


class ToleratedLoad(Closed, kw_only=True, frozen=True):
    """A load of the same lift that does not hurt, or hardly; it becomes the target."""

    load: Mass
    pain: PainScore | UnsetType = UNSET


class Complaint(Closed, kw_only=True, frozen=True):
    """What hurts and how much; any sign (red flag, see GET /v1/signs) ends in a referral."""

    region: SoreRegion
    pain_in_session: PainScore
    pain_next_morning: PainScore | UnsetType = UNSET
    usual_pain: PainScore | UnsetType = UNSET
    signs: Annotated[list[SignId], Meta(max_length=54)] = []
    tolerated: ToleratedLoad | UnsetType = UNSET


class Constraints(Closed, kw_only=True, frozen=True):
    """What may be changed and what there is. Left out: every lever, every exercise, the usual bar."""

    levers: Annotated[list[Lever], Meta(min_length=1, max_length=5)] | UnsetType = UNSET
    exercises: Annotated[list[ExerciseId], Meta(max_length=40)] | UnsetType = UNSET
    exclude: Annotated[list[ExerciseId], Meta(max_length=40)] = []
    bar: BarSetup | UnsetType = UNSET
    days_per_week_max: Annotated[float, whole(1, 7, "Most days a week, 1 to 7.")] | UnsetType = UNSET


class Adjustments(Closed, kw_only=True, frozen=True):
    """A consultation: the lifter, the prescription that hurts, the complaint and the aim."""

    lifter: Lifter
    prescription: PrescriptionGiven
    complaint: Complaint
    aim: Literal["strength", "muscle_size", "tendon", "maintain"]
    constraints: Constraints | UnsetType = UNSET
    limit: Annotated[float, whole(1, 20, "Most options in the answer, 1 to 20.")] = 5


class SignReported(Answer, kw_only=True, frozen=True):
    """A red flag that was reported."""

    id: str
    text: str
    urgency: str


class ReferralAnswer(Answer, kw_only=True, frozen=True):
    """Stop and refer: how urgently, what to do now, and because of which signs."""

    urgency: str
    what_to_do: str
    stop_rule: str
    signs: list[SignReported]


class AdjustedPrescription(Answer, kw_only=True, frozen=True):
    """A prescription as it is to be done; reps_in_reserve is what is expected to be left after the top of the range."""

    exercise: ExerciseId
    sets: int
    reps: RepRange
    load: Mass
    reps_in_reserve: float
    days_per_week: int | None


class StimulusAnswer(Answer, kw_only=True, frozen=True):
    """What the muscle is asked to do against the present: ratios of the week, share of the lift's own maximum, and an index of the effect kept."""

    weekly_sets: float
    volume_load: float
    relative_load: float | None
    reps_in_reserve: float
    muscle_moment: float
    kept: Estimate


class Baseline(Answer, kw_only=True, frozen=True):
    """The present prescription: peak moments of a repetition (N·m; hip, knee and ankle per leg) and the trunk lean at the bottom (deg)."""

    moments: dict[str, Estimate]
    trunk_lean: Estimate


class TargetAnswer(Answer, kw_only=True, frozen=True):
    """The share of its present demand to which the sore region is brought, and the rule that says so."""

    region: SoreRegion
    ratio: float
    rule: str


class Option(Answer, kw_only=True, frozen=True):
    """One adjusted prescription: demand of each region against the present, and what it keeps of the stimulus.

    meets_by: peak, where each repetition asks less; session_exposure, where only the session's sum falls.
    """

    rank: int
    levers: list[Lever]
    prescription: AdjustedPrescription
    demand: dict[str, Estimate]
    session_exposure: float
    meets_by: Literal["peak", "session_exposure"]
    stimulus: StimulusAnswer
    why: list[str]
    basis: Basis
    cautions: list[Caution]


class RuledOutAnswer(Answer, kw_only=True, frozen=True):
    """A lever that gave no option, and why."""

    lever: str
    reason: str


class AdjustmentsAnswer(Answer, kw_only=True, frozen=True):
    """The decision; options in the order in which to try them; what was considered and why it fell."""

    decision: Literal["adjust", "no_change_needed", "refer"]
    referral: ReferralAnswer | None
    baseline: Baseline | None
    target: TargetAnswer | None
    options: list[Option]
    considered: int
    ruled_out: list[RuledOutAnswer]
    basis: Basis
    cautions: list[Caution]


def _given(value: float | UnsetType) -> float | None:
    return None if isinstance(value, UnsetType) else value


def adjustments(request: Adjustments) -> AdjustmentsAnswer:
    """The consultation's answer. A red flag outranks everything else; raises Refusal for what the model does not cover."""
    complaint = request.complaint
    stop = referral(complaint.signs)
    if stop:
        return _refer(stop)
    pain = Pain(complaint.pain_in_session, _given(complaint.pain_next_morning), _given(complaint.usual_pain))
    level = band(pain)
    given = request.prescription
    body = body_of(request.lifter)
    technique = limits_of(request.lifter)
    if given.exercise not in VARIATIONS:
        raise Refusal.one(
            "prescription/exercise", "Adjustments are computed for squats so far.", "one of: " + ", ".join(VARIATIONS)
        )
    present = _prescription(given, technique)
    try:
        swept = demand(body, present)
    except Refusal as refusal:
        raise _located(refusal) from None
    target = _target(request, body, present, swept, level)
    if target is None:
        return _unchanged(pain)
    case = _case(request, body, present, swept, target)
    tried = list(candidates(case))
    found = [one for one in tried if isinstance(one, Candidate)]
    out = [one for one in tried if isinstance(one, RuledOut)]
    order = ranked(found, case.region)
    unit = given.load.unit
    codes = ["posture_is_a_rule", "half_load_no_pain"]
    if level == "red":
        codes.insert(0, "moderate_pain")
    if isinstance(given.reps_in_reserve, UnsetType):
        codes.append("reserve_assumed")
    return AdjustmentsAnswer(
        decision="adjust",
        referral=None,
        baseline=_baseline(swept),
        target=target,
        options=[_option(rank + 1, one, case, unit) for rank, one in enumerate(order[: int(request.limit)])],
        considered=len(tried),
        ruled_out=[
            *(RuledOutAnswer(lever=one.lever, reason=one.reason) for one in out),
            *(_beaten(one) for one in found if one not in order),
        ],
        basis=_basis("computed", []),
        cautions=cautions(
            *codes, limit=f"{CHOICE['amber_up_to']:g}", reserve=f"{CHOICES['effort']['assumed_reserve']:g}"
        ),
    )


def _prescription(given: PrescriptionGiven, technique: Technique) -> Prescription:
    reps = reps_range(given.reps, "/prescription/reps")
    load = positive(given.load, "/prescription/load")
    reserve = (
        CHOICES["effort"]["assumed_reserve"] if isinstance(given.reps_in_reserve, UnsetType) else given.reps_in_reserve
    )
    relation = relation_for(given.exercise)
    if reps.high + reserve > relation.reps[1]:
        raise Refusal.one(
            "prescription/reps/high",
            f"{reps.high + reserve:g} repetitions to failure are outside the range of {relation.id}.",
            f"up to {relation.reps[1]:g} repetitions to failure, those in reserve included",
        )
    days = None if isinstance(given.days_per_week, UnsetType) else int(given.days_per_week)
    return Prescription(given.exercise, int(given.sets), reps, load, float(reserve), days, None, technique)


def _located(refusal: Refusal) -> Refusal:
    """A refusal of the mechanics with pointers into the request."""
    return refusal.at(
        {
            "/load": "/prescription/load",
            "/exercise_id": "/prescription/exercise",
            "/technique/ankle_dorsiflexion": "/lifter/ankle_dorsiflexion",
            "/technique/hip_flexion": "/lifter/hip_flexion",
        }
    )


def _target(request: Adjustments, body: Body, present: Prescription, swept: Swept, level: str) -> TargetAnswer | None:
    region = request.complaint.region
    tolerated = request.complaint.tolerated
    if not isinstance(tolerated, UnsetType):
        load = positive(tolerated.load, "/complaint/tolerated/load")
        if load >= present.load:
            raise Refusal.one(
                "complaint/tolerated/load",
                "The tolerated load must be lighter than the prescribed one.",
                "less than prescription/load",
            )
        try:
            found = ratios(demand(body, replace(present, load=load)), swept).get(region)
        except Refusal as refusal:
            raise refusal.at({"/load": "/complaint/tolerated/load"}) from None
        if found is None:
            raise Refusal.one(
                "complaint/region",
                f"The {REGIONS[region].name.lower()} moment is near nil in this lift, so no target can be formed.",
            )
        return TargetAnswer(
            region=region, ratio=round(found.value, 6), rule="the computed demand of the load that the lifter tolerates"
        )
    if level == "green":
        return None
    step = CHOICE["first_step"][level]
    return TargetAnswer(
        region=region,
        ratio=step,
        rule=f"pain in the {level} band: demand to {100 * step:.0f} % of the present as a first step (practice and our own choice; no study links the step to a pain score)",
    )


def _case(request: Adjustments, body: Body, present: Prescription, swept: Swept, target: TargetAnswer) -> Case:
    limits = request.constraints
    levers: list[Lever] = list(LEVERS)
    exercises = {*VARIATIONS, *EXERCISES_TRIED}
    most_days = CHOICE["most_days"]
    bar: BarSetup | UnsetType = UNSET
    if not isinstance(limits, UnsetType):
        levers = list(LEVERS) if isinstance(limits.levers, UnsetType) else limits.levers
        if not isinstance(limits.exercises, UnsetType):
            exercises &= set(limits.exercises)
        exercises -= set(limits.exclude)
        most_days = most_days if isinstance(limits.days_per_week_max, UnsetType) else int(limits.days_per_week_max)
        bar = limits.bar
    held = bar_of(bar, request.prescription.load.unit, "/constraints/bar")

    def round_down(load: float) -> float | None:
        found = held.nearest(load, "down")
        return None if found is None else si(found)

    return Case(
        body,
        present,
        swept,
        target.region,
        target.ratio,
        request.aim,
        frozenset(levers),
        frozenset(exercises),
        most_days,
        round_down,
    )


def _refer(stop: Referral) -> AdjustmentsAnswer:
    return AdjustmentsAnswer(
        decision="refer",
        referral=ReferralAnswer(
            urgency=stop.urgency.id,
            what_to_do=stop.urgency.what_to_do,
            stop_rule=stop.urgency.stop_rule,
            signs=[SignReported(id=sign.id, text=sign.text, urgency=sign.urgency) for sign in stop.signs],
        ),
        baseline=None,
        target=None,
        options=[],
        considered=0,
        ruled_out=[],
        basis=Basis(
            method="any red flag stops the adjustment; the most urgent one decides",
            sources=list(dict.fromkeys(source for sign in stop.signs for source in sign.sources)),
            assumptions=[
                "The urgency of a sign is our interpretation where its source does not state it; a clinician must sign the list off."
            ],
            evidence="practice",
        ),
        cautions=cautions(),
    )


def _unchanged(pain: Pain) -> AdjustmentsAnswer:
    return AdjustmentsAnswer(
        decision="no_change_needed",
        referral=None,
        baseline=None,
        target=None,
        options=[],
        considered=0,
        ruled_out=[],
        basis=Basis(
            method=f"pain of {pain.in_session:g} is in the band up to {CHOICE['green_up_to']:g}, with no real rise next morning",
            sources=["thomee_1997", "silbernagel_2007", "childs_2005", "design_choice"],
            assumptions=["A change of one point is noise; missing mornings never count as good ones."],
            evidence="practice",
        ),
        cautions=cautions(),
    )


def _baseline(swept: Swept) -> Baseline:
    spans = swept.intervals
    return Baseline(
        moments={joint: estimate(s, SPAN, "N·m") for joint, s in spans.items() if joint != "trunk_lean"},
        trunk_lean=estimate(
            spans["trunk_lean"].scaled(degrees(1)),
            SPAN,
            "deg",
        ),
    )


def _option(rank: int, one: Candidate, case: Case, unit: MassUnit) -> Option:
    new = one.prescription
    codes = _codes(one, case)
    risen = {
        region: ratio.value
        for region, ratio in one.demand.items()
        if region != case.region and ratio.value > CHOICE["other_region_caution"]
    }
    facts = {
        "reserve": f"{CHOICE['untested_reserve']:g}",
        "region": ", ".join(REGIONS[r].name.lower() for r in risen),
        "rise": ", ".join(f"{100 * (v - 1):.0f} %" for v in risen.values()),
        "exposure": f"{100 * one.exposure:.0f} %",
        "left": f"{one.stimulus.reserve:.0f}",
    }
    if risen:
        codes.append("other_region_rises")
    return Option(
        rank=rank,
        levers=list(one.levers),  # type: ignore[arg-type]
        prescription=AdjustedPrescription(
            exercise=new.exercise,
            sets=new.sets,
            reps=as_rep_range(new.reps),
            load=mass(new.load, unit),
            reps_in_reserve=round(new.reserve, 1),
            days_per_week=new.days,
        ),
        demand={region: estimate(ratio, SPAN) for region, ratio in one.demand.items()},
        session_exposure=round(one.exposure, 4),
        meets_by="session_exposure" if one.by_exposure else "peak",
        stimulus=StimulusAnswer(
            weekly_sets=round(one.stimulus.hard_sets, 4),
            volume_load=round(one.stimulus.volume_load, 4),
            relative_load=None if one.stimulus.relative_load is None else round(one.stimulus.relative_load, 4),
            reps_in_reserve=round(one.stimulus.reserve, 1),
            muscle_moment=round(one.stimulus.muscle_moment, 4),
            kept=estimate(Interval(one.stimulus.kept, one.stimulus.kept, one.stimulus.kept), KEPT),
        ),
        why=_why(one, case, unit),
        basis=_basis("computed" if one.tested else "direction_only", [one.ratio.source] if one.ratio else []),
        cautions=cautions(*codes, **facts),
    )


def _beaten(one: Candidate) -> RuledOutAnswer:
    new = one.prescription
    what = f"{EXERCISES[new.exercise].name}, {new.sets} sets of {_reps(new.reps.low, new.reps.high)} with {new.load:.1f} kg"
    return RuledOutAnswer(
        lever=", ".join(one.levers),
        reason=f"{what}: another option asks no more of the region, keeps at least as much and takes no more levers.",
    )


def _codes(one: Candidate, case: Case) -> list[str]:
    codes = []
    if one.by_exposure:
        codes.append("session_exposure_only")
    if not one.tested:
        codes.append("no_published_ratio")
    if one.exposure > CHOICE["other_region_caution"]:
        codes.append("session_exposure_rises")
    if one.likeness != "same":
        codes.append("retest_variation")
    if EXERCISES[one.prescription.exercise].family == "split":
        codes += ["another_leg_share", "rear_leg_works"]
    if one.stimulus.reserve > CHOICES["effort"]["hard_set_reserve"]:
        codes.append("easy_set")
    if case.region == "low_back":
        codes.append("lean_disputed")
    return codes


def _why(one: Candidate, case: Case, unit: MassUnit) -> list[str]:
    """What a coach can read aloud, made from the numbers."""
    new, present = one.prescription, case.present
    region = REGIONS[case.region].name.lower()
    load = mass(new.load, unit)
    words = [
        f"{EXERCISES[new.exercise].name}, {new.sets} sets of {_reps(new.reps.low, new.reps.high)} with {load.value:g} {unit}"
        + (f" on {new.days} days a week." if new.days else ".")
    ]
    if one.by_exposure:
        words.append(
            f"Each repetition asks as much of your {region} as now; one session asks {100 * (1 - one.exposure):.0f} % less, because the week's sets are spread over more days."
        )
    else:
        ratio = one.demand[case.region]
        words.append(
            f"Each repetition should ask about {100 * (1 - ratio.value):.0f} % less of your {region} than now "
            f"(between {100 * (1 - ratio.high):.0f} and {100 * (1 - ratio.low):.0f} %)."
        )
    words.append(
        f"About {new.reserve:.0f} repetitions should be left at the end of a set; now it is {present.reserve:g}."
    )
    words.extend(
        f"It asks about {100 * (ratio.value - 1):.0f} % more of your {REGIONS[other].name.lower()}: watch how that responds."
        for other, ratio in one.demand.items()
        if other != case.region and ratio.value > 1.05  # noqa: PLR2004
    )
    missing = [REGIONS[r].name.lower() for r in ("low_back", "hip", "knee") if r not in one.demand]
    if missing:
        words.append(f"For the {' and the '.join(missing)} no clear ratio to the present lift can be formed.")
    words.append(f"By our index it keeps about {100 * one.stimulus.kept:.0f} % of the training effect.")
    return words


def _reps(low: int, high: int) -> str:
    return str(low) if low == high else f"{low} to {high}"


def _basis(evidence: Literal["computed", "direction_only"], sources: list[str]) -> Basis:
    return Basis(
        method="sagittal balance of the lifter at rest for each candidate; peak moment of a repetition against the present one; general load–repetition table for effort",
        sources=list(
            dict.fromkeys(
                [*sources, "de_leva_1996", "winter_2009", "nuzzo_2024", "thomee_1997", "statics", "design_choice"]
            )
        ),
        assumptions=[
            "Each squat variation is done with its usual shin angle at a level thigh, or what the ankle allows (our own rule).",
            "A load for a new exercise: published ratio × 0.90, the ratio less one SD where that is published, or half of the intended load where no ratio is; never above the present load.",
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
        description="For a squat that hurts the low back, hip or knee: the smallest changes that bring the sore region's demand to the target and keep the training "
        "effect, ranked, with the demand of every region (ratio to the present prescription), the stimulus kept, what was considered and why the rest "
        "fell. Loads in kg or lb, answered in the unit asked about and rounded down to what the bar can hold. Any red flag ends in the decision `refer`, "
        "which is an answer and not an error; pain up to 2 of 10 in `no_change_needed`. Levers: load, reps, variation, exercise, days.",
        request=Adjustments,
        answer=AdjustmentsAnswer,
        compute=adjustments,
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
