"""The answer of joint-demand: posture, moment arms and moments of each setup, and each against the first."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Final

from service.adjustment.prescription import body_moved, lifts_the_body, may_be_unloaded
from service.api.models.base import stated_si
from service.api.models.common import CENTRAL_ONLY, OF_ARM, OF_ONE, ONE_TO_ONE, Basis, Estimate, cautions, estimate
from service.api.models.pace import OF_TURN, WITH_TURN
from service.api.models.split_stance import split_stance_answer
from service.api.operations.joint_demand.arm import arm_answer
from service.api.operations.joint_demand.models import (
    LATERAL_FORCE,
    JointDemand,
    JointDemandAnswer,
    JointDifferences,
    JointDynamics,
    JointLengths,
    JointMoments,
    JointPeaks,
    JointRatios,
    JointSetup,
    JointSetupAnswer,
    LegsTurnedOut,
    PostureAnswer,
    PublishedFinding,
    StrengthRatio,
)
from service.api.operations.joint_demand.solving import SolvedSetup, setup_does_not_enter, solved
from service.errors import Refusal
from service.intervals import Interval, exactly
from service.knowledge.observations import findings, published_ratio
from service.mechanics.demand import Demand
from service.mechanics.dynamics import AT_TURN, Met, product
from service.mechanics.frontal import frontal_moments
from service.mechanics.lift_demand import ARM_JOINTS, JOINTS, Joint
from service.mechanics.stance import SAGITTAL
from service.mechanics.uncertainty.comparison import ITSELF, Comparison
from service.mechanics.uncertainty.propagation import UncertainDemand
from service.messages import message
from service.units import Mass, angle, length, mass, si

SOURCES: Final = [
    "statics",
    "de_leva_1996",
    "winter_2009",
    "dumas_wojtusch_2018",
    "gordon_2014",
    "jcgm_100",
    "fieller_1954",
    "achermann_2025",
    "lake_displacement",
    "escamilla_2001b",
    "larsen_2021b",
    "design_choice",
]
SOURCES_OF_ARM: Final = [
    "rajagopal_2016",
    "larsen_2021a",
    "lateral_force_2023",
    "mier_2014",
    "shoulder_isokinetic_1985",
]
_AS_ITSELF: Final = estimate(exactly(1.0), ONE_TO_ONE)


def joint_demand(request: JointDemand) -> JointDemandAnswer:
    """The setups solved and compared.

    Raises Refusal for a posture that cannot be had, naming the limit and what would help.
    """
    setups = solved(request).setups
    modelled = [(setup.request.label, setup.demand.legs) for setup in setups if setup.demand.legs]
    assumptions = [
        message("of_setup", label=label, assumption=assumption) if len(setups) > 1 else assumption
        for label, uncertain in modelled
        for assumption in uncertain.demand.assumptions
    ]
    unmodelled = dict.fromkeys(setup.request.exercise for setup in setups if not setup.is_computed)
    unused = any(setup_does_not_enter(setup) for setup in setups)
    remarks = {one.text: one for _, uncertain in modelled for one in uncertain.demand.remarks}
    codes = dict.fromkeys(code for _, uncertain in modelled for code in uncertain.cautions)
    arms = any(setup.demand.arm for setup in setups)
    backs = any(setup.demand.back for setup in setups)
    planar = bool(modelled) or not arms
    if any(setup.pace.pace.bounce_taken_away for setup in setups):
        codes["pause_takes_bounce_away"] = None
    return JointDemandAnswer(
        reference=request.setups[0].label,
        setups=[_answer(setup, setups[0], request, f"setups/{index}") for index, setup in enumerate(setups)],
        basis=Basis(
            method=message("method_sagittal_chain" if planar else "method_arm"),
            sources=[*SOURCES, *(SOURCES_OF_ARM if arms else ())],
            assumptions=[
                *((message("assumed_arm"),) if arms else ()),
                *((message("assumed_joints_swept"),) if planar else ()),
                *((message("assumed_rigid_trunk"),) if backs else ()),
                *((message("assumed_dynamics"),) if any(setup.pace.turn for setup in setups) else ()),
                *assumptions,
            ],
            evidence="computed" if any(setup.is_computed for setup in setups) else "published",
        ),
        cautions=cautions(
            *codes,
            *((message("arm_moments_and_studies"),) if arms else ()),
            *remarks.values(),
            *(message("no_posture_modelled", exercise=exercise) for exercise in unmodelled),
            *([message("setup_does_not_enter")] if unused else []),
            "not_workplace_limits",
        ),
    )


def _total(setup: JointSetup, body_mass: Mass) -> float:
    """What the lift moves [kg]: the load, with the part of the body in lifts of one's own, less assistance."""
    return si(setup.load) + body_moved(setup.exercise, si(body_mass)) - (stated_si(setup.assistance) or 0.0)


def _answer(solution: SolvedSetup, reference: SolvedSetup, request: JointDemand, where: str) -> JointSetupAnswer:
    setup, legs, arm = solution.request, solution.demand.legs, solution.demand.arm
    first = reference.request.exercise
    ratio = None if setup.exercise == first else published_ratio(first, setup.exercise)
    total = _total(setup, request.lifter.body_mass)
    if total <= 0 and lifts_the_body(setup.exercise):
        raise Refusal.one(f"{where}/assistance", "Nothing would be left to lift.", "less than body mass and load")
    if total <= 0 and not may_be_unloaded(setup.exercise):
        raise Refusal.one(f"{where}/load", "Without a load nothing is lifted here.", "more than 0")
    against = solution.against(reference)
    return JointSetupAnswer(
        label=setup.label,
        total_load=mass(total, setup.load.unit),
        posture=_posture(legs) if legs else None,
        moment_arms=_arms(legs) if legs else None,
        moments=_moments(solution.demand.intervals) if solution.is_computed else None,
        dynamic=_dynamics(solution) if solution.is_computed else None,
        peaks_at_knee_flexion=_peaks(legs) if legs else None,
        legs_turned_out=_turned_out(legs.demand) if legs else None,
        arm=arm_answer(arm, reference.demand.arm) if arm else None,
        relative=_ratios(against) if against else None,
        difference=_differences(against) if against else None,
        strength_ratio=StrengthRatio(ratio=round(ratio.ratio, 4), sd=ratio.sd, source=ratio.source, known=ratio.known)
        if ratio
        else None,
        published=_published(setup.exercise, first),
        evidence="computed" if solution.is_computed else "published" if ratio else "direction_only",
    )


def _posture(uncertain: UncertainDemand) -> PostureAnswer:
    posture = uncertain.demand.posture
    return PostureAnswer(
        shin_angle=angle(posture.shin_angle, "deg"),
        thigh_angle=angle(posture.thigh_angle, "deg"),
        trunk_lean=angle(posture.trunk_lean, "deg"),
        knee_flexion=angle(posture.knee_flexion, "deg"),
        hip_flexion=angle(posture.hip_flexion, "deg"),
        ankle_dorsiflexion=angle(posture.ankle_dorsiflexion, "deg"),
        limited_by=list(uncertain.demand.limited_by),
        split=split_stance_answer(uncertain.demand, uncertain.lead_share),
    )


def _arms(uncertain: UncertainDemand) -> JointLengths:
    moments = uncertain.demand.moments
    return JointLengths(
        ankle=length(moments.ankle_arm, "m"),
        knee=length(moments.knee_arm, "m"),
        hip=length(moments.hip_arm, "m"),
        lumbosacral=length(moments.lumbosacral_arm, "m"),
    )


def _moments(spans: Mapping[Joint, Interval], with_turn: str = "") -> JointMoments:
    return JointMoments(
        **{
            joint: estimate(spans[joint], _meaning(joint, OF_ONE) + with_turn, "N·m") if joint in spans else None
            for joint in JOINTS
        }
    )


def _meaning(joint: Joint, of_legs: str) -> str:
    return OF_ARM if joint in ARM_JOINTS else of_legs


def _dynamics(solution: SolvedSetup) -> JointDynamics | None:
    turn, demand = solution.pace.turn, solution.demand
    if turn is None:
        return None
    at_turn = turn.interval

    def factor(met: Met) -> Interval:
        return at_turn if met is AT_TURN else turn.of_largest(met).interval

    spans = {joint: product(span, factor(demand.met(joint))) for joint, span in demand.intervals.items()}
    return JointDynamics(factor=estimate(at_turn, OF_TURN), moments=_moments(spans, WITH_TURN))


def _peaks(uncertain: UncertainDemand) -> JointPeaks:
    peaks = uncertain.demand.peaks
    return JointPeaks(
        ankle=angle(peaks["ankle"].knee_flexion, "deg"),
        knee=angle(peaks["knee"].knee_flexion, "deg"),
        hip=angle(peaks["hip"].knee_flexion, "deg"),
        lumbosacral=angle(peaks["lumbosacral"].knee_flexion, "deg"),
    )


def _turned_out(demand: Demand) -> LegsTurnedOut | None:
    """What the legs hold to the side, None where they stay in the sagittal plane."""
    stance = demand.setup.stance
    if stance is SAGITTAL:
        return None
    aside = frontal_moments(demand.body, demand.statics, demand.bottom, demand.posture)

    def span(without: float, unit: str, *, with_force: float) -> Estimate:
        return estimate(Interval(without, min(without, with_force), max(without, with_force)), LATERAL_FORCE, unit)

    return LegsTurnedOut(
        stance_width=None if stance.width is None else length(stance.width, "m"),
        toe_out=angle(stance.toe_out, "deg"),
        shank=angle(stance.shank, "deg"),
        thigh=angle(stance.thigh, "deg"),
        lateral_force=span(0.0, "N", with_force=aside.lateral_force),
        knee_out_of_plane=span(aside.knee_out_of_plane, "N·m", with_force=0.0),
        knee=span(demand.bottom.knee, "N·m", with_force=aside.knee),
        hip_adductor=span(demand.bottom.hip_adductor, "N·m", with_force=aside.hip_adductor),
    )


def _ratios(against: Mapping[Joint, Comparison]) -> JointRatios:
    return JointRatios(**{joint: _ratio(joint, against[joint]) if joint in against else None for joint in JOINTS})


def _ratio(joint: Joint, comparison: Comparison) -> Estimate | None:
    if comparison is ITSELF:
        return _AS_ITSELF
    if comparison.ratio is None:
        return None
    one = comparison.ratio.one
    return estimate(one, CENTRAL_ONLY if one.low == one.high else _meaning(joint, ONE_TO_ONE))


def _differences(against: Mapping[Joint, Comparison]) -> JointDifferences:
    return JointDifferences(**{joint: against[joint].difference if joint in against else None for joint in JOINTS})


@cache
def _published(exercise: str, first: str) -> list[PublishedFinding]:
    """What is published on an exercise, or on it against the first; kept, since it follows from the data files alone."""
    return [
        PublishedFinding(
            condition=finding.condition,
            region=finding.region,
            measure=finding.measure,
            value=finding.value,
            unit=finding.unit,
            source=finding.source,
            known=finding.known,
        )
        for finding in findings(exercise, first)
    ]
