"""The answer of spinal-load: every setup, and each against the first."""

from __future__ import annotations

from math import degrees
from typing import Final

from service.api.models.base import omitted
from service.api.models.common import ONE_TO_ONE, Basis, Estimate, cautions, estimate
from service.api.models.pace import OF_TURN, WITH_TURN
from service.api.operations.spinal_load.models import (
    SpinalDynamics,
    SpinalLoad,
    SpinalLoadAnswer,
    SpinalRelative,
    SpinalSetupAnswer,
)
from service.api.operations.spinal_load.solving import (
    ASSUMED_LIFTER,
    SolvedSetup,
    lifter_body,
    setup_does_not_enter,
    solved,
)
from service.knowledge.catalogue import EXERCISES
from service.mechanics.dynamics import product
from service.mechanics.uncertainty.comparison import Comparison
from service.mechanics.uncertainty.intervals import interval_of
from service.messages import Message, message
from service.units import angle, length, mass

_LEANS: Final = {"computed": "assumed_lean_computed", "assumed": "assumed_lean_usual"}
_LIFTER: Final = {"mass": mass(ASSUMED_LIFTER.mass, "kg"), "stature": length(ASSUMED_LIFTER.stature, "m")}
OF_LEAN: Final = {
    "computed": "68 %, one repetition: lengths, masses, habits of posture, scatter between repetitions",
    "stated": "68 %: error of an angle judged by eye",
    "assumed": "68 %: differences between lifters",
}
OF_SPINE: Final = (
    "68 %, one repetition: lengths, masses, habits of posture or the error of the lean, scatter between repetitions; of the"
    " compression the muscle's arm too"
)
SLIDING: Final = "; positive when the trunk tends to slide forward"


def spinal_load(request: SpinalLoad) -> SpinalLoadAnswer:
    """The setups compared. Raises Refusal for an exercise without a modelled path or a lean out of range."""
    setups = solved(request, lifter_body(request))
    assumed = [setup.request.label for setup in setups if setup.lean_from == "assumed"]
    specific: list[str | Message] = [message("lean_assumed", labels=assumed)] if assumed else []
    specific += [said for one in setups if one.demand is not None for said in one.demand.of_seen]
    specific += ["lean_disputed", "not_workplace_limits"]
    if omitted(request.lifter):
        specific.append(message("assumed_lifter", **_LIFTER))
    if any(setup_does_not_enter(one) for one in setups):
        specific.append("setup_does_not_enter")
    if any(one.pace.pace.bounce_taken_away for one in setups):
        specific.append("pause_takes_bounce_away")
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
            "jcgm_100",
            "fieller_1954",
            "achermann_2025",
            "lake_displacement",
            "design_choice",
        ],
        assumptions=[
            message("assumed_spine_swept"),
            message("assumed_rigid_trunk"),
            message("assumed_dynamics"),
            *(
                message(_LEANS[setup.lean_from], label=setup.request.label, lean=angle(setup.spine.lean.value, "deg"))
                for setup in setups
                if setup.lean_from in _LEANS
            ),
        ],
        evidence="computed",
    )


def _answer(setup: SolvedSetup, reference: SolvedSetup) -> SpinalSetupAnswer:
    spine, against = setup.spine, setup.against(reference)
    central, lean = spine.central, spine.lean.scaled(degrees(1))
    return SpinalSetupAnswer(
        label=setup.request.label,
        load_through_spine=mass(spine.load, setup.request.load.unit),
        trunk_lean=estimate(lean.at_least(0.0), OF_LEAN[setup.lean_from], "deg"),
        moment=estimate(interval_of(central.moment, spine.moment), OF_SPINE, "N·m"),
        compression=estimate(interval_of(central.compression, spine.compression), OF_SPINE, "N"),
        shear=estimate(
            interval_of(central.shear, spine.shear),
            OF_SPINE + SLIDING,
            "N",
        ),
        dynamic=_dynamics(setup),
        relative=SpinalRelative(
            load_through_spine=against.load,
            moment=_ratio(against.moment),
            compression=_ratio(against.compression),
        ),
        difference=against.difference,
    )


def _dynamics(setup: SolvedSetup) -> SpinalDynamics | None:
    turn, spine = setup.pace.turn, setup.spine
    if turn is None:
        return None
    met, central = turn.of_largest(setup.met).interval, spine.central
    return SpinalDynamics(
        factor=estimate(turn.interval, OF_TURN),
        moment=estimate(product(interval_of(central.moment, spine.moment), met), OF_SPINE + WITH_TURN, "N·m"),
        compression=estimate(
            product(interval_of(central.compression, spine.compression), met), OF_SPINE + WITH_TURN, "N"
        ),
        shear=estimate(product(interval_of(central.shear, spine.shear), met), OF_SPINE + WITH_TURN + SLIDING, "N"),
    )


def _ratio(comparison: Comparison) -> Estimate | None:
    return None if comparison.ratio is None else estimate(comparison.ratio.one, ONE_TO_ONE)
