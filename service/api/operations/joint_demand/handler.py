"""joint-demand: posture and moments at ankle, knee, hip and lumbosacral joint for one lifter, setup by setup."""

from __future__ import annotations

from functools import cache
from typing import Final, Literal

from msgspec import UnsetType

from service.adjustment.prescription import lifts_the_body, may_be_unloaded
from service.api.models.base import stated_si
from service.api.models.common import Basis, Caution, Estimate, cautions, estimate
from service.api.models.lifter import body_of
from service.api.models.setup import CAUTION_TEXTS, depth_of, located, technique_of
from service.api.operations.joint_demand.models import (
    JointDemand,
    JointDemandAnswer,
    JointDifferences,
    JointLengths,
    JointMoments,
    JointPeaks,
    JointRatios,
    JointSetup,
    JointSetupAnswer,
    PostureAnswer,
    PublishedFinding,
    StrengthRatio,
)
from service.charts.elements.sheet import stacked
from service.charts.posture.figure import panel_for
from service.charts.posture.side_view import side_view
from service.charts.ratio_bars import Bar, BarGroup, comparison_bars
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.observations import findings, published_ratio
from service.mechanics.body import Body
from service.mechanics.uncertainty.comparison import Comparison, Quantity, compare
from service.mechanics.uncertainty.propagation import UncertainDemand, uncertain_demand
from service.units import Mass, angle, length, mass, si

JOINTS: tuple[Literal["ankle", "knee", "hip", "lumbosacral"], ...] = ("ankle", "knee", "hip", "lumbosacral")
SPAN = "about two times in three; swept: basis.assumptions"
METHOD: Final = (
    "sagittal chain of foot, shank, thigh and trunk at rest; the trunk lean that puts the centre of mass over the balance "
    "point, in closed form; weights above each joint times their distance ahead of it; intervals by the law of "
    "propagation of uncertainty, ratios by Fieller's theorem"
)
SOURCES: Final = [
    "statics",
    "de_leva_1996",
    "winter_2009",
    "dumas_wojtusch_2018",
    "gordon_2014",
    "jcgm_100",
    "fieller_1954",
    "design_choice",
]
SWEPT: Final = (
    "Moved one by one and combined: unmeasured lengths, segment table, place of the lumbosacral joint and mass above it, "
    "shin angle habit, balance point, place of the bar; in comparisons those that setups share are moved together."
)
CAUTIONS: Final = {code: Caution(code=code, text=text) for code, text in CAUTION_TEXTS.items()}
GENERAL: Final = cautions("not_workplace_limits")


def _solved(request: JointDemand) -> tuple[Body, list[UncertainDemand | None]]:
    """The lifter's body and the solution of each setup, None for presses and pulls."""
    body = body_of(request.lifter)
    labels = [setup.label for setup in request.setups]
    if len(set(labels)) < len(labels):
        raise Refusal.one("setups", "Each setup needs a label of its own.", "labels that differ")
    found: list[UncertainDemand | None] = []
    for index, setup in enumerate(request.setups):
        assisted = not isinstance(setup.assistance, UnsetType)
        if assisted and EXERCISES[setup.exercise].carry != "body":
            raise Refusal.one(
                f"setups/{index}/assistance",
                "Assistance belongs to lifts of one's own body.",
                "pull_up or inverted_row",
            )
        if EXERCISES[setup.exercise].family in ("press", "pull"):
            _check_unmodelled(setup, f"setups/{index}")
            found.append(None)
            continue
        technique = technique_of(setup.technique, request.lifter)
        try:
            found.append(uncertain_demand(body, setup.exercise, si(setup.load), depth_of(setup.depth), technique))
        except Refusal as refusal:
            raise located(refusal, f"/setups/{index}") from None
    return body, found


def joint_demand(request: JointDemand) -> JointDemandAnswer:
    """The setups solved and compared.

    Raises Refusal for a posture that cannot be had, naming the limit and what would help.
    """
    _, found = _solved(request)
    labels = [setup.label for setup in request.setups]
    said = dict.fromkeys(
        f"{label}: {text}" if len(found) > 1 else text
        for label, swept in zip(labels, found, strict=True)
        if swept
        for text in swept.demand.assumptions
    )
    codes = dict.fromkeys(code for swept in found if swept for code in swept.cautions)
    return JointDemandAnswer(
        reference=labels[0],
        setups=[_answer(setup, swept, found[0], request) for setup, swept in zip(request.setups, found, strict=True)],
        basis=Basis(
            method=METHOD,
            sources=SOURCES,
            assumptions=[SWEPT, *said],
            evidence="computed" if any(found) else "published",
        ),
        cautions=[*(CAUTIONS[code] for code in codes), *GENERAL],
    )


def _check_unmodelled(setup: JointSetup, where: str) -> None:
    for field in ("depth", "technique"):
        if not isinstance(getattr(setup, field), UnsetType):
            raise Refusal.one(
                f"{where}/{field}", "Presses and pulls have no planar model that it could enter.", "left out"
            )


def _total(setup: JointSetup, body_mass: Mass) -> float:
    """Load that the lift moves [kg]: with the body in pull-ups and inverted rows, less assistance."""
    load = si(setup.load)
    if EXERCISES[setup.exercise].carry != "body":
        return load
    return load + si(body_mass) - (stated_si(setup.assistance) or 0.0)


def _answer(
    setup: JointSetup, swept: UncertainDemand | None, reference: UncertainDemand | None, request: JointDemand
) -> JointSetupAnswer:
    first = request.setups[0].exercise
    ratio = None if setup.exercise == first else published_ratio(first, setup.exercise)
    total = _total(setup, request.lifter.body_mass)
    where = f"setups/{request.setups.index(setup)}"
    if total <= 0 and lifts_the_body(setup.exercise):
        raise Refusal.one(f"{where}/assistance", "Nothing would be left to lift.", "less than body mass and load")
    if total <= 0 and not may_be_unloaded(setup.exercise):
        raise Refusal.one(f"{where}/load", "Without a load nothing is lifted here.", "more than 0")
    against = compare(swept, reference, JOINTS) if swept and reference else None
    return JointSetupAnswer(
        label=setup.label,
        total_load=mass(total, setup.load.unit),
        posture=_posture(swept) if swept else None,
        moment_arms=_arms(swept) if swept else None,
        moments=_moments(swept) if swept else None,
        peaks_at_knee_flexion=_peaks(swept) if swept else None,
        relative=_ratios(against) if against else None,
        difference=_differences(against) if against else None,
        strength_ratio=StrengthRatio(ratio=round(ratio.ratio, 4), sd=ratio.sd, source=ratio.source, known=ratio.known)
        if ratio
        else None,
        published=_published(setup.exercise, first),
        evidence="computed" if swept else "published" if ratio else "direction_only",
    )


def _posture(swept: UncertainDemand) -> PostureAnswer:
    posture = swept.demand.posture
    return PostureAnswer(
        shin_angle=angle(posture.shin_angle, "deg"),
        thigh_angle=angle(posture.thigh_angle, "deg"),
        trunk_lean=angle(posture.trunk_lean, "deg"),
        knee_flexion=angle(posture.knee_flexion, "deg"),
        hip_flexion=angle(posture.hip_flexion, "deg"),
        ankle_dorsiflexion=angle(posture.ankle_dorsiflexion, "deg"),
        limited_by=list(swept.demand.limited_by),
    )


def _arms(swept: UncertainDemand) -> JointLengths:
    moments = swept.demand.moments
    return JointLengths(
        ankle=length(moments.ankle_arm, "m"),
        knee=length(moments.knee_arm, "m"),
        hip=length(moments.hip_arm, "m"),
        lumbosacral=length(moments.lumbosacral_arm, "m"),
    )


def _moments(swept: UncertainDemand) -> JointMoments:
    spans = swept.intervals
    return JointMoments(
        ankle=estimate(spans["ankle"], SPAN, "N·m"),
        knee=estimate(spans["knee"], SPAN, "N·m"),
        hip=estimate(spans["hip"], SPAN, "N·m"),
        lumbosacral=estimate(spans["lumbosacral"], SPAN, "N·m"),
    )


def _peaks(swept: UncertainDemand) -> JointPeaks:
    peaks = swept.demand.peaks
    return JointPeaks(
        ankle=angle(peaks["ankle"].knee_flexion, "deg"),
        knee=angle(peaks["knee"].knee_flexion, "deg"),
        hip=angle(peaks["hip"].knee_flexion, "deg"),
        lumbosacral=angle(peaks["lumbosacral"].knee_flexion, "deg"),
    )


def _ratios(against: dict[Quantity, Comparison]) -> JointRatios:
    return JointRatios(
        ankle=_ratio(against["ankle"]),
        knee=_ratio(against["knee"]),
        hip=_ratio(against["hip"]),
        lumbosacral=_ratio(against["lumbosacral"]),
    )


def _ratio(found: Comparison) -> Estimate | None:
    return None if found.ratio is None else estimate(found.ratio, SPAN)


def _differences(against: dict[Quantity, Comparison]) -> JointDifferences:
    return JointDifferences(
        ankle=against["ankle"].difference,
        knee=against["knee"].difference,
        hip=against["hip"].difference,
        lumbosacral=against["lumbosacral"].difference,
    )


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


def picture(request: JointDemand) -> str:
    """Side views of the setups to scale, and their joint moments against the first as bars."""
    body, found = _solved(request)
    labels = [setup.label for setup in request.setups]
    panels = [panel_for(label, body, swept.demand) for label, swept in zip(labels, found, strict=True) if swept]
    if not panels:
        raise Refusal.one(
            "setups", "Presses and pulls have no planar model that could be drawn.", "squats, hinges or split stances"
        )
    figures = [side_view(panels)]
    reference = found[0]
    if reference and len(panels) > 1:
        compared = [
            (label, compare(swept, reference, JOINTS))
            for label, swept in zip(labels[1:], found[1:], strict=True)
            if swept
        ]
        groups = [
            BarGroup(
                joint, [Bar(label, against[joint].ratio, against[joint].difference) for label, against in compared]
            )
            for joint in JOINTS
        ]
        figures.append(comparison_bars(f"Largest moments against: {labels[0]}", groups))
    return stacked(figures)
