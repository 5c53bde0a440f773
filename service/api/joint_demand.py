"""joint-demand: posture and moments at ankle, knee, hip and lumbosacral joint for one lifter, setup by setup."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from service.api.lifter import Lifter, body_of
from service.api.operation import Example, Operation
from service.api.setups import CAUTION_TEXTS, Depth, Technique, depth_of, located, technique_of
from service.api.shared import Answer, Basis, Caution, Closed, Estimate, ExerciseId, cautions, estimate
from service.intervals import Interval
from service.mechanics.comparison import compare
from service.mechanics.sweep import Swept, swept_demand
from service.quantities import Angle, Length, Mass, angle, length, si
from service.refusals import Refusal

Difference = Literal["lower", "higher", "no_clear_difference"]
JOINTS: tuple[Literal["ankle", "knee", "hip", "lumbosacral"], ...] = ("ankle", "knee", "hip", "lumbosacral")
SPAN = "about two times in three, over the uncertainties stated in basis.assumptions"


class JointSetup(Closed, kw_only=True, frozen=True):
    """One setup: a label of your own, the exercise, its load, and if other than usual the depth and technique."""

    label: Annotated[str, Meta(min_length=1, max_length=60)]
    exercise: ExerciseId
    load: Mass
    depth: Depth | UnsetType = UNSET
    technique: Technique | UnsetType = UNSET


class JointDemand(Closed, kw_only=True, frozen=True):
    """One to ten setups of one lifter; the first is the reference."""

    lifter: Lifter
    setups: Annotated[list[JointSetup], Meta(min_length=1, max_length=10)]


class PostureAnswer(Answer, kw_only=True, frozen=True):
    """The posture at the bottom: shin and trunk from the vertical, thigh above the horizontal, hip_flexion from trunk to thigh; limited_by names the limits that bind."""

    shin_angle: Angle
    thigh_angle: Angle
    trunk_lean: Angle
    knee_flexion: Angle
    hip_flexion: Angle
    ankle_dorsiflexion: Angle
    limited_by: list[str]


class JointLengths(Answer, kw_only=True, frozen=True):
    """Moment arms at the bottom, positive where they load the extensors: from ankle, knee and hip to the plumb line over the balance point, from the lumbosacral joint to the centre of all weight above it."""

    ankle: Length
    knee: Length
    hip: Length
    lumbosacral: Length


class JointMoments(Answer, kw_only=True, frozen=True):
    """Largest extensor moment through the range (plantar flexor at the ankle); ankle, knee and hip per leg, in split stances the lead leg's; negative: only flexors are asked."""

    ankle: Estimate
    knee: Estimate
    hip: Estimate
    lumbosacral: Estimate


class JointPeaks(Answer, kw_only=True, frozen=True):
    """Knee flexion at which each joint's moment is largest."""

    ankle: Angle
    knee: Angle
    hip: Angle
    lumbosacral: Angle


class JointRatios(Answer, kw_only=True, frozen=True):
    """Moments against the first setup; null where its moment is near nil or changes sign within its uncertainty."""

    ankle: Estimate | None
    knee: Estimate | None
    hip: Estimate | None
    lumbosacral: Estimate | None


class JointDifferences(Answer, kw_only=True, frozen=True):
    """Whether each joint is asked for less or more than in the first setup; a span across 1 is no clear difference."""

    ankle: Difference
    knee: Difference
    hip: Difference
    lumbosacral: Difference


class JointSetupAnswer(Answer, kw_only=True, frozen=True):
    """One setup: posture and moment arms at the bottom, largest moments and where, and the comparison with the first."""

    label: str
    posture: PostureAnswer
    moment_arms: JointLengths
    moments: JointMoments
    peaks_at_knee_flexion: JointPeaks
    relative: JointRatios
    difference: JointDifferences


class JointDemandAnswer(Answer, kw_only=True, frozen=True):
    """Every setup against the reference."""

    reference: str
    setups: list[JointSetupAnswer]
    basis: Basis
    cautions: list[Caution]


def joint_demand(request: JointDemand) -> JointDemandAnswer:
    """The setups solved and compared. Raises Refusal for a posture that cannot be had, naming the limit and what would help."""
    body = body_of(request.lifter)
    labels = [setup.label for setup in request.setups]
    if len(set(labels)) < len(labels):
        raise Refusal.one("setups", "Each setup needs a label of its own.", "labels that differ")
    found: list[Swept] = []
    for index, setup in enumerate(request.setups):
        technique = technique_of(setup.technique, request.lifter)
        try:
            found.append(swept_demand(body, setup.exercise, si(setup.load), depth_of(setup.depth), technique))
        except Refusal as refusal:
            raise located(refusal, f"/setups/{index}") from None
    said = dict.fromkeys(
        f"{label}: {text}" if len(found) > 1 else text
        for label, swept in zip(labels, found, strict=True)
        for text in swept.demand.assumptions
    )
    codes = dict.fromkeys(code for swept in found for code in swept.demand.cautions)
    if any(swept.incomplete for swept in found):
        codes["interval_incomplete"] = None
    return JointDemandAnswer(
        reference=labels[0],
        setups=[_answer(label, swept, found[0]) for label, swept in zip(labels, found, strict=True)],
        basis=Basis(
            method="sagittal chain of foot, shank, thigh and trunk at rest; the trunk lean that puts the centre of mass over the balance point, in closed form; weights above each joint times their distance ahead of it",
            sources=["statics", "de_leva_1996", "winter_2009", "dumas_wojtusch_2018", "gordon_2014", "design_choice"],
            assumptions=[
                "Swept one by one and combined: unmeasured lengths, segment table, place of the lumbosacral joint and mass above it, shin angle habit, balance point, place of the bar; in comparisons those that setups share are moved together.",
                *said,
            ],
            evidence="computed",
        ),
        cautions=[*(Caution(code=code, text=CAUTION_TEXTS[code]) for code in codes), *cautions("not_workplace_limits")],
    )


def _answer(label: str, swept: Swept, reference: Swept) -> JointSetupAnswer:
    demand = swept.demand
    posture = demand.posture
    spans = swept.intervals
    against = compare(swept, reference)
    ratios = {joint: against[joint].ratio for joint in JOINTS}
    return JointSetupAnswer(
        label=label,
        posture=PostureAnswer(
            shin_angle=angle(posture.shin_angle, "deg"),
            thigh_angle=angle(posture.thigh_angle, "deg"),
            trunk_lean=angle(posture.trunk_lean, "deg"),
            knee_flexion=angle(posture.knee_flexion, "deg"),
            hip_flexion=angle(posture.hip_flexion, "deg"),
            ankle_dorsiflexion=angle(posture.ankle_dorsiflexion, "deg"),
            limited_by=list(demand.limited_by),
        ),
        moment_arms=JointLengths(**{joint: length(getattr(demand.moments, f"{joint}_arm"), "m") for joint in JOINTS}),
        moments=JointMoments(
            **{
                joint: estimate(Interval(spans[joint].value, spans[joint].low, spans[joint].high), SPAN, "N·m")
                for joint in JOINTS
            }
        ),
        peaks_at_knee_flexion=JointPeaks(**{joint: angle(demand.peaks[joint].knee_flexion, "deg") for joint in JOINTS}),
        relative=JointRatios(
            **{
                joint: None if ratio is None else estimate(Interval(ratio.value, ratio.low, ratio.high), SPAN)
                for joint, ratio in ratios.items()
            }
        ),
        difference=JointDifferences(**{joint: against[joint].difference for joint in JOINTS}),
    )


_LIFTER = {"body_mass": {"value": 64, "unit": "kg"}, "stature": {"value": 168, "unit": "cm"}, "sex": "female"}
_LOAD = {"value": 62.5, "unit": "kg"}
OPERATIONS = (
    Operation(
        name="joint-demand",
        tag="Mechanics",
        summary="Posture and joint moments of one lifter's setups",
        description="One to ten setups of one lifter: posture at the bottom (angles in deg), moment arms (m), and the largest moments through the range at ankle, knee "
        "and hip (per leg) and lumbosacral joint (N·m), with their span, compared with the first setup. Squats, hinges and split stances; narrow to "
        "shoulder stance. An impossible posture is refused with the limit that forbids it and what would make it possible.",
        request=JointDemand,
        answer=JointDemandAnswer,
        compute=joint_demand,
        examples=(
            Example(
                "heel-lift",
                "Front squats flat and with a heel lift, by a lifter with stiff ankles",
                {
                    "lifter": {**_LIFTER, "ankle_dorsiflexion": {"value": 27, "unit": "deg"}},
                    "setups": [
                        {"label": "flat", "exercise": "front_squat", "load": _LOAD},
                        {
                            "label": "heel lift",
                            "exercise": "front_squat",
                            "load": _LOAD,
                            "technique": {"heel_lift": {"value": 1.8, "unit": "cm"}},
                        },
                    ],
                },
            ),
        ),
    ),
)
