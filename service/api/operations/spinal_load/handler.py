"""The answer of spinal-load: every setup, and each against the first."""

from __future__ import annotations

from math import degrees
from typing import Final

from service.api.models.base import omitted
from service.api.models.common import Basis, cautions, estimate
from service.api.operations.spinal_load.models import SpinalLoad, SpinalLoadAnswer, SpinalRelative, SpinalSetupAnswer
from service.api.operations.spinal_load.solving import ASSUMED_LIFTER, SolvedSetup, lifter_body, solved
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES
from service.mechanics.spine import SHARED_ERROR, span
from service.units import mass

SPAN: Final = "the extremes over the uncertainties stated in basis.assumptions"
UNCERTAINTIES: Final = (
    "Swept: muscle arm 5.0 to 7.5 cm, body mass above the joint from the lightest to the heaviest published share (49 or less to 60 %), a lean error of "
    "10 degrees that all setups share, and each setup's own error of a lean that is computed or assumed."
)


def spinal_load(request: SpinalLoad) -> SpinalLoadAnswer:
    """The setups compared. Raises Refusal for an exercise without a modelled path or a lean out of range."""
    setups = solved(request, lifter_body(request))
    assumed = [setup.request.label for setup in setups if setup.lean.lean_from == "assumed"]
    codes = ["lean_disputed", "not_workplace_limits"]
    if assumed:
        codes.insert(0, "lean_assumed")
    if omitted(request.lifter):
        codes.append("assumed_lifter")
    if any(EXERCISES[setup.exercise].family == "split" for setup in request.setups):
        codes.append("less_spine_more_leg")
    return SpinalLoadAnswer(
        reference=request.setups[0].label,
        setups=[_answer(setup, setups[0]) for setup in setups],
        basis=_basis(setups),
        cautions=cautions(
            *codes,
            labels=", ".join(assumed),
            mass=f"{ASSUMED_LIFTER.mass:g}",
            stature=f"{ASSUMED_LIFTER.stature:g}",
        ),
    )


def _basis(setups: list[SolvedSetup]) -> Basis:
    return Basis(
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
            UNCERTAINTIES,
            "Trunk as one rigid line, extensor muscle parallel to it at 6 cm; loads in the hands hang below the shoulders; a belt's load does not pass through the spine.",
            *(
                f"{setup.request.label}: trunk lean of {degrees(setup.spine.lean):.0f} degrees {setup.lean.lean_from}."
                for setup in setups
                if setup.lean.lean_from != "stated"
            ),
        ],
        evidence="computed",
    )


def _answer(setup: SolvedSetup, reference: SolvedSetup) -> SpinalSetupAnswer:
    reached, against = setup.extremes, setup.against(reference)
    central = reached.central
    error = degrees(SHARED_ERROR + setup.spine.own_error)
    lean = degrees(setup.spine.lean)
    return SpinalSetupAnswer(
        label=setup.request.label,
        load_through_spine=mass(setup.spine.load, setup.request.load.unit),
        trunk_lean=estimate(
            Interval(lean, max(0.0, lean - error), min(80.0, lean + error)), "as far as it is swept", "deg"
        ),
        moment=estimate(span(central.moment, reached.least_moment, reached.greatest_moment), SPAN, "N·m"),
        compression=estimate(
            span(central.compression, reached.least_compression, reached.greatest_compression), SPAN, "N"
        ),
        shear=estimate(
            Interval(central.shear, reached.least_shear, reached.greatest_shear),
            f"{SPAN}; positive when the trunk tends to slide forward",
            "N",
        ),
        relative=SpinalRelative(
            load_through_spine=against.load,
            moment=None if against.moment is None else estimate(against.moment, SPAN),
            compression=None if against.compression is None else estimate(against.compression, SPAN),
        ),
        difference=against.difference,
    )
