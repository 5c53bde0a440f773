"""The answer of spinal-load: every setup, and each against the first."""

from __future__ import annotations

from math import degrees
from typing import Final

from service.api.models.base import omitted
from service.api.models.common import Basis, cautions, estimate
from service.api.models.setup import describes_setup
from service.api.operations.spinal_load.models import SpinalLoad, SpinalLoadAnswer, SpinalRelative, SpinalSetupAnswer
from service.api.operations.spinal_load.solving import ASSUMED_LIFTER, SolvedSetup, lifter_body, solved
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES
from service.mechanics.spine import SHARED_ERROR, span
from service.messages import Message, message
from service.units import angle, length, mass

_LEANS: Final = {"computed": "assumed_lean_computed", "assumed": "assumed_lean_usual"}
_ASSUMED_LIFTER: Final = message(
    "assumed_lifter", mass=mass(ASSUMED_LIFTER.mass, "kg"), stature=length(ASSUMED_LIFTER.stature, "m")
)
SPAN: Final = "the extremes over the uncertainties stated in basis.assumptions"


def spinal_load(request: SpinalLoad) -> SpinalLoadAnswer:
    """The setups compared. Raises Refusal for an exercise without a modelled path or a lean out of range."""
    setups = solved(request, lifter_body(request))
    assumed = [setup.request.label for setup in setups if setup.lean.lean_from == "assumed"]
    specific: list[str | Message] = [message("lean_assumed", labels=assumed)] if assumed else []
    specific += ["lean_disputed", "not_workplace_limits"]
    if omitted(request.lifter):
        specific.append(_ASSUMED_LIFTER)
    if any(describes_setup(one.request) and one.lean.lean_from != "computed" for one in setups):
        specific.append("setup_does_not_enter")
    if any(EXERCISES[setup.exercise].family == "split" for setup in request.setups):
        specific.append("less_spine_more_leg")
    return SpinalLoadAnswer(
        reference=request.setups[0].label,
        setups=[_answer(setup, setups[0]) for setup in setups],
        basis=_basis(setups),
        cautions=cautions(*specific),
    )


def _basis(setups: list[SolvedSetup]) -> Basis:
    return Basis(
        method=message("method_single_muscle"),
        sources=[
            "openstax_college_physics",
            "cholewicki_1991",
            "de_leva_1996",
            "cappozzo_1985",
            "russell_phillips_1989",
            "design_choice",
        ],
        assumptions=[
            message("assumed_spine_swept"),
            message("assumed_rigid_trunk"),
            *(
                message(_LEANS[setup.lean.lean_from], label=setup.request.label, lean=angle(setup.spine.lean, "deg"))
                for setup in setups
                if setup.lean.lean_from in _LEANS
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
