"""spinal-load: the load path through the spine and the lumbosacral demand of setups, against the first one."""

from __future__ import annotations

from math import degrees, radians
from typing import Literal

import msgspec
from msgspec import UnsetType

from service.api.models.common import Basis, cautions, estimate
from service.api.models.lifter import body_of
from service.api.models.setup import depth_of, located, technique_of
from service.api.operations.spinal_load.models import (
    SpinalLoad,
    SpinalLoadAnswer,
    SpinalRelative,
    SpinalSetup,
    SpinalSetupAnswer,
)
from service.charts.elements.sheet import stacked
from service.charts.posture.figure import panel_for
from service.charts.posture.side_view import side_view
from service.charts.ratio_bars import Bar, BarGroup, comparison_bars
from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.balance import BAR_REFERENCE_STATURE
from service.mechanics.body import Body, build_body
from service.mechanics.demand import Demand
from service.mechanics.spine import (
    ASSUMED_ERROR,
    FRACTION,
    SHARED_ERROR,
    Extremes,
    SpineSetup,
    UpperBody,
    check_lean,
    extremes,
    relative,
    span,
)
from service.mechanics.uncertainty.propagation import uncertain_demand
from service.units import mass, si
from service.vocabulary import Difference

LeanFrom = Literal["stated", "computed", "assumed"]
CARRIED = ("trunk", "hands", "pelvis")
ASSUMED = CHOICES.spine.assumed_lifter
SPAN = "the extremes over the uncertainties stated in basis.assumptions"
SWEPT = (
    "Swept: muscle arm 5.0 to 7.5 cm, body mass above the joint from the lightest to the heaviest published share (49 or less to 60 %), a lean error of "
    "10 degrees that all setups share, and each setup's own error of a lean that is computed or assumed."
)


class _Setup(msgspec.Struct, frozen=True):
    asked: SpinalSetup
    through: float
    spine: SpineSetup
    lean_from: LeanFrom
    swept: Extremes
    demand: Demand | None


def _upper(body: Body, *, hanging: bool) -> UpperBody:
    """The body above the joint (dumas_wojtusch_2018), swept to the heaviest published share of body mass."""
    centre = body.above_centre_hanging if hanging else body.above_centre_at_bar
    share = Interval(body.above_mass, min(body.above_mass, FRACTION.low * body.mass), FRACTION.high * body.mass)
    return UpperBody(share, (centre - body.lumbosacral_level) * body.trunk)


class _Lean(msgspec.Struct, frozen=True):
    """Trunk lean and its own error [rad]; the demand is that of the posture by which it was computed, if it was."""

    lean: float
    error: float
    lean_from: LeanFrom
    demand: Demand | None = None


def _lean(asked: SpinalSetup, request: SpinalLoad, body: Body, where: str) -> _Lean:
    """The lean stated, else computed for the lifter, else assumed for the exercise."""
    computed = isinstance(asked.trunk_lean, UnsetType) and not isinstance(request.lifter, UnsetType)
    for field in ("depth", "technique"):
        if not isinstance(getattr(asked, field), UnsetType) and not (computed and asked.exercise in EXERCISE_RULES):
            raise Refusal.one(
                f"{where}/{field}",
                "It enters only where the lean is computed: with a lifter, without trunk_lean, for an exercise of the posture model.",
                "left out",
            )
    if not isinstance(asked.trunk_lean, UnsetType):
        lean = si(asked.trunk_lean)
        check_lean(lean, f"{where}/trunk_lean")
        return _Lean(lean, 0.0, "stated")
    if not isinstance(request.lifter, UnsetType) and asked.exercise in EXERCISE_RULES:
        technique = technique_of(asked.technique, request.lifter)
        try:
            found = uncertain_demand(body, asked.exercise, si(asked.load), depth_of(asked.depth), technique)
        except Refusal as refusal:
            raise located(refusal, f"/{where}") from None
        span = found.intervals["trunk_lean"]
        lean = found.demand.trunk_lean
        check_lean(lean, f"{where}/trunk_lean")
        return _Lean(lean, (span.high - span.low) / 2, "computed", found.demand)
    default = EXERCISES[asked.exercise].lean
    if default is None:
        raise Refusal.one(f"{where}/trunk_lean", "No lean is known for this exercise: state it.", "0 to 80 deg")
    return _Lean(radians(default), ASSUMED_ERROR, "assumed")


def _setup(asked: SpinalSetup, request: SpinalLoad, body: Body, where: str) -> _Setup:
    exercise = EXERCISES[asked.exercise]
    if exercise.carry not in CARRIED:
        raise Refusal.one(
            f"{where}/exercise",
            f"{exercise.name} has no modelled load path through a standing spine.",
            "one of: " + ", ".join(known.id for known in EXERCISES.values() if known.carry in CARRIED),
        )
    leaning = _lean(asked, request, body, where)
    load = si(asked.load)
    through = 0.0 if exercise.carry == "pelvis" else load
    along, anterior = body.trunk * (1 - body.lumbosacral_level), 0.0
    rule = EXERCISE_RULES.get(exercise.id)
    if exercise.carry == "trunk" and rule is not None:
        scale = body.stature / BAR_REFERENCE_STATURE
        along, anterior = along + rule.along * scale, rule.anterior * scale
    spine = SpineSetup(through, along, anterior, leaning.lean, leaning.error)
    swept = extremes(spine, _upper(body, hanging=exercise.carry == "hands"))
    return _Setup(asked, through, spine, leaning.lean_from, swept, leaning.demand)


def _body(request: SpinalLoad) -> Body:
    """The lifter's body, or that of the lifter assumed where none is given."""
    if isinstance(request.lifter, UnsetType):
        return build_body(ASSUMED.mass, ASSUMED.stature)
    return body_of(request.lifter)


def _solved(request: SpinalLoad) -> list[_Setup]:
    body = _body(request)
    setups = [_setup(asked, request, body, f"setups/{index}") for index, asked in enumerate(request.setups)]
    labels = [setup.asked.label for setup in setups]
    if len(set(labels)) < len(labels):
        raise Refusal.one("setups", "Each setup needs a label of its own.", "labels that differ")
    return setups


def spinal_load(request: SpinalLoad) -> SpinalLoadAnswer:
    """The setups compared. Raises Refusal for an exercise without a modelled path or a lean out of range."""
    setups = _solved(request)
    labels = [setup.asked.label for setup in setups]
    given = request.lifter
    assumed = [setup.asked.label for setup in setups if setup.lean_from == "assumed"]
    codes = ["lean_disputed", "not_workplace_limits"]
    if assumed:
        codes.insert(0, "lean_assumed")
    if isinstance(given, UnsetType):
        codes.append("assumed_lifter")
    if any(EXERCISES[setup.asked.exercise].family == "split" for setup in setups):
        codes.append("less_spine_more_leg")
    return SpinalLoadAnswer(
        reference=labels[0],
        setups=[_answer(setup, setups[0]) for setup in setups],
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
                    f"{setup.asked.label}: trunk lean of {degrees(setup.spine.lean):.0f} degrees {setup.lean_from}."
                    for setup in setups
                    if setup.lean_from != "stated"
                ),
            ],
            evidence="computed",
        ),
        cautions=cautions(*codes, labels=", ".join(assumed), mass=f"{ASSUMED.mass:g}", stature=f"{ASSUMED.stature:g}"),
    )


def _answer(setup: _Setup, base: _Setup) -> SpinalSetupAnswer:
    row, reference = setup.swept, base.swept
    here, there = row.central, reference.central
    moments = row.least_moment, row.greatest_moment
    pressed = row.least_compression, row.greatest_compression
    moment = relative(here.moment, *moments, there.moment, reference.least_moment, reference.greatest_moment)
    compression = relative(
        here.compression, *pressed, there.compression, reference.least_compression, reference.greatest_compression
    )
    if setup is base:
        moment = compression = Interval(1.0, 1.0, 1.0)
    error = degrees(SHARED_ERROR + setup.spine.own_error)
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


def picture(request: SpinalLoad) -> str:
    """Load through the spine, moment and compression against the first setup as bars; side views where the lean was computed."""
    setups = _solved(request)
    first = setups[0]
    groups: dict[str, list[Bar]] = {"load through the spine": [], "moment": [], "compression": []}
    for setup in setups[1:]:
        answer = _answer(setup, first).relative
        through = answer.load_through_spine
        exact = None if through is None else Interval(through, through, through)
        for name, ratio in (
            ("load through the spine", exact),
            ("moment", answer.moment),
            ("compression", answer.compression),
        ):
            groups[name].append(Bar(setup.asked.label, ratio))
    body = _body(request)
    panels = [panel_for(setup.asked.label, body, setup.demand) for setup in setups if setup.demand]
    title = f"At the lumbosacral joint, against: {first.asked.label}"
    bars = comparison_bars(title, [BarGroup(name, bars) for name, bars in groups.items()])
    return stacked([side_view(panels), bars] if panels else [bars])
