"""spinal-load: the load path through the spine and the lumbosacral demand of setups, against the first one."""

from __future__ import annotations

from math import degrees, radians
from typing import Annotated, Literal

import msgspec
from msgspec import UNSET, Meta, UnsetType

from service.api.lifter import Lifter, body_of
from service.api.operation import Example, Operation
from service.api.shared import Answer, Basis, Caution, Closed, Estimate, ExerciseId, cautions, estimate
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES
from service.knowledge.loader import CHOICES
from service.mechanics.body import Body, build_body
from service.mechanics.setups import rule_for
from service.mechanics.spine import Extremes, SpineSetup, check_lean, relative, span, sweep
from service.quantities import Angle, Mass, mass, si
from service.refusals import Refusal

Difference = Literal["lower", "higher", "no_clear_difference"]
ASSUMED = CHOICES["spine"]["assumed_lifter"]
SPAN = "the extremes over the uncertainties stated in basis.assumptions"
SWEPT = (
    "Swept: muscle arm 5.0 to 7.5 cm, 49 to 60 % of body mass above the joint, and a lean error of 10 degrees that all setups share"
    " (and 6.3 degrees more where a lean is assumed)."
)


class SpinalSetup(Closed, kw_only=True, frozen=True):
    """One setup: a label of your own, the exercise, its load, and the trunk lean from the vertical at the bottom (0 to 80 deg) if known."""

    label: Annotated[str, Meta(min_length=1, max_length=60)]
    exercise: ExerciseId
    load: Mass
    trunk_lean: Angle | UnsetType = UNSET


class SpinalLoad(Closed, kw_only=True, frozen=True):
    """Two to ten setups of one lifter; the first is the reference."""

    setups: Annotated[list[SpinalSetup], Meta(min_length=2, max_length=10)]
    lifter: Lifter | UnsetType = UNSET


class SpinalRelative(Answer, kw_only=True, frozen=True):
    """A setup against the first; load_through_spine is null where the first puts none through the spine."""

    load_through_spine: float | None
    moment: Estimate | None
    compression: Estimate | None


class SpinalSetupAnswer(Answer, kw_only=True, frozen=True):
    """One setup: the load that passes through the spine, lean, moment, compression and shear at the lumbosacral joint."""

    label: str
    load_through_spine: Mass
    trunk_lean: Estimate
    moment: Estimate
    compression: Estimate
    shear: Estimate
    relative: SpinalRelative
    difference: Difference


class SpinalLoadAnswer(Answer, kw_only=True, frozen=True):
    """Every setup against the reference; a difference whose span crosses 1 is no clear difference."""

    reference: str
    setups: list[SpinalSetupAnswer]
    basis: Basis
    cautions: list[Caution]


class _Setup(msgspec.Struct, frozen=True):
    asked: SpinalSetup
    through: float
    spine: SpineSetup


def _setup(asked: SpinalSetup, body: Body, where: str) -> _Setup:
    exercise = EXERCISES[asked.exercise]
    if exercise.lean is None:
        raise Refusal.one(
            f"{where}/exercise",
            f"{exercise.name} has no modelled load path through a standing spine.",
            "one of: " + ", ".join(known.id for known in EXERCISES.values() if known.lean is not None),
        )
    assumed = isinstance(asked.trunk_lean, UnsetType)
    lean = radians(exercise.lean) if isinstance(asked.trunk_lean, UnsetType) else si(asked.trunk_lean)
    check_lean(lean, f"{where}/trunk_lean")
    load = si(asked.load)
    through = 0.0 if exercise.carry == "pelvis" else load
    along, anterior = body.trunk * (1 - body.lumbosacral_level), 0.0
    if exercise.carry == "trunk":
        try:
            rule = rule_for(exercise.id)
            along, anterior = along + rule.along * body.stature / 1.75, rule.anterior * body.stature / 1.75
        except Refusal:
            pass  # no place of the bar on the trunk is known for it: at the shoulder
    return _Setup(asked, through, SpineSetup(through, along, anterior, lean, assumed))


def spinal_load(request: SpinalLoad) -> SpinalLoadAnswer:
    """The setups compared. Raises Refusal for an exercise without a modelled path or a lean out of range."""
    given = request.lifter
    body = build_body(ASSUMED["mass"], ASSUMED["stature"]) if isinstance(given, UnsetType) else body_of(given)
    setups = [_setup(asked, body, f"setups/{index}") for index, asked in enumerate(request.setups)]
    labels = [setup.asked.label for setup in setups]
    if len(set(labels)) < len(labels):
        raise Refusal.one("setups", "Each setup needs a label of its own.", "labels that differ")
    rows = [sweep(setup.spine, body.mass, body.stature) for setup in setups]
    assumed = [setup.asked.label for setup in setups if setup.spine.assumed]
    codes = ["lean_disputed", "not_workplace_limits"]
    if assumed:
        codes.insert(0, "lean_assumed")
    if isinstance(given, UnsetType):
        codes.append("assumed_lifter")
    if any(EXERCISES[setup.asked.exercise].family == "split" for setup in setups):
        codes.append("less_spine_more_leg")
    return SpinalLoadAnswer(
        reference=labels[0],
        setups=[_answer(setup, row, setups[0], rows[0]) for setup, row in zip(setups, rows, strict=True)],
        basis=Basis(
            method="single-equivalent-muscle model at the lumbosacral joint, at rest: M = Σ W·d, F = M / e, C = F + Σ W·cos φ",
            sources=[
                "openstax_college_physics",
                "cholewicki_1991",
                "de_leva_1996",
                "cappozzo_1985",
                "russell_phillips_1989",
                "design_choice",
            ],
            assumptions=[
                SWEPT,
                "Trunk as one rigid line, extensor muscle parallel to it at 6 cm; loads in the hands hang below the shoulders; a belt's load does not pass through the spine.",
                *(
                    f"{setup.asked.label}: trunk lean of {EXERCISES[setup.asked.exercise].lean:g} degrees assumed."
                    for setup in setups
                    if setup.spine.assumed
                ),
            ],
            evidence="computed",
        ),
        cautions=cautions(
            *codes, labels=", ".join(assumed), mass=f"{ASSUMED['mass']:g}", stature=f"{ASSUMED['stature']:g}"
        ),
    )


def _answer(setup: _Setup, row: Extremes, base: _Setup, reference: Extremes) -> SpinalSetupAnswer:
    here, there = row.central, reference.central
    moments = row.least_moment, row.greatest_moment
    pressed = row.least_compression, row.greatest_compression
    moment = relative(here.moment, *moments, there.moment, reference.least_moment, reference.greatest_moment)
    compression = relative(
        here.compression, *pressed, there.compression, reference.least_compression, reference.greatest_compression
    )
    if setup is base:
        moment = compression = Interval(1.0, 1.0, 1.0)
    error = CHOICES["spine"]["shared_lean_error"] + (
        CHOICES["spine"]["assumed_lean_error"] if setup.spine.assumed else 0.0
    )
    lean = degrees(setup.spine.lean)
    return SpinalSetupAnswer(
        label=setup.asked.label,
        load_through_spine=mass(setup.through, setup.asked.load.unit),
        trunk_lean=estimate(
            Interval(lean, max(0.0, lean - error), min(80.0, lean + error)), "as far as it is swept", "deg"
        ),
        moment=estimate(span(here.moment, *moments), SPAN, "N·m"),
        compression=estimate(span(here.compression, *pressed), SPAN, "N"),
        shear=estimate(
            Interval(here.shear, row.least_shear, row.greatest_shear),
            f"{SPAN}; positive when the trunk tends to slide forward",
            "N",
        ),
        relative=SpinalRelative(
            load_through_spine=round(setup.through / base.through, 6) if base.through > 0 else None,
            moment=None if moment is None else estimate(moment, SPAN),
            compression=None if compression is None else estimate(compression, SPAN),
        ),
        difference=_difference(moment, compression),
    )


def _difference(moment: Interval | None, compression: Interval | None) -> Difference:
    found = [ratio for ratio in (moment, compression) if ratio is not None]
    if found and all(ratio.high < 1 for ratio in found):
        return "lower"
    if found and all(ratio.low > 1 for ratio in found):
        return "higher"
    return "no_clear_difference"


_LIFTER = {"body_mass": {"value": 64, "unit": "kg"}, "stature": {"value": 168, "unit": "cm"}, "sex": "female"}
OPERATIONS = (
    Operation(
        name="spinal-load",
        tag="Mechanics",
        summary="Load through the spine and lumbosacral demand of setups",
        description="Two to ten setups of one lifter against the first: load that passes through the spine, lumbosacral moment (N·m), compression and shear (N) by a "
        "single-muscle model, as ratios with their span over the stated uncertainties. Trunk lean (0 to 80 deg, from the vertical) is taken from the "
        "request or is the exercise's stated default, which is an assumption and is said so.",
        request=SpinalLoad,
        answer=SpinalLoadAnswer,
        compute=spinal_load,
        examples=(
            Example(
                "front-squat-or-belt",
                "Front squat, split squat and belt squat",
                {
                    "lifter": _LIFTER,
                    "setups": [
                        {
                            "label": "front squat",
                            "exercise": "front_squat",
                            "load": {"value": 62.5, "unit": "kg"},
                            "trunk_lean": {"value": 31, "unit": "deg"},
                        },
                        {
                            "label": "split squat",
                            "exercise": "split_squat",
                            "load": {"value": 30, "unit": "kg"},
                            "trunk_lean": {"value": 12, "unit": "deg"},
                        },
                        {"label": "belt squat", "exercise": "belt_squat", "load": {"value": 62.5, "unit": "kg"}},
                    ],
                },
            ),
        ),
    ),
)
