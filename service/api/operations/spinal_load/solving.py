"""From the request to what the mechanics makes of it: each setup with its lean, and its load over the uncertainties."""

from __future__ import annotations

from math import radians
from typing import Final, Literal

import msgspec

from service.api.models.base import stated, stated_si
from service.api.models.lifter import body_of
from service.api.models.setup import depth_of, located, technique_of
from service.api.operations.spinal_load.models import SpinalLoad, SpinalSetup
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.body import Body, build_body
from service.mechanics.demand import Demand
from service.mechanics.spinal_setups import CARRIES, SpineComparison, against_reference, load_path, upper_body
from service.mechanics.spine import ASSUMED_ERROR, Extremes, SpineSetup, check_lean, extremes
from service.mechanics.uncertainty.propagation import uncertain_demand
from service.units import si

LeanFrom = Literal["stated", "computed", "assumed"]
ASSUMED_LIFTER: Final = CHOICES.spine.assumed_lifter


class Lean(msgspec.Struct, frozen=True):
    """Trunk lean of a setup.

    Attributes:
        lean: trunk from the vertical [rad]
        own_error: of this setup alone [rad]
        lean_from: where the lean comes from
        demand: of the posture by which it was computed, if it was
    """

    lean: float
    own_error: float
    lean_from: LeanFrom
    demand: Demand | None = None


class SolvedSetup(msgspec.Struct, frozen=True):
    """A setup with its solution.

    Attributes:
        request: the setup as the request describes it
        lean: of the trunk
        spine: load path and lean
        extremes: its load over the uncertainties
    """

    request: SpinalSetup
    lean: Lean
    spine: SpineSetup
    extremes: Extremes

    def against(self, reference: SolvedSetup) -> SpineComparison:
        """The setup against the reference."""
        return against_reference(self.spine, self.extremes, reference.spine, reference.extremes)


def lifter_body(request: SpinalLoad) -> Body:
    """The lifter's body, or that of an assumed lifter where the request describes none."""
    lifter = stated(request.lifter)
    return build_body(ASSUMED_LIFTER.mass, ASSUMED_LIFTER.stature) if lifter is None else body_of(lifter)


def solved(request: SpinalLoad, body: Body) -> list[SolvedSetup]:
    """The setups solved. Raises Refusal for an exercise without a modelled path or a lean out of range."""
    setups = [_solved(setup, request, body, f"setups/{index}") for index, setup in enumerate(request.setups)]
    labels = {setup.label for setup in request.setups}
    if len(labels) < len(setups):
        raise Refusal.one("setups", "Each setup needs a label of its own.", "labels that differ")
    return setups


def _solved(setup: SpinalSetup, request: SpinalLoad, body: Body, where: str) -> SolvedSetup:
    exercise = EXERCISES[setup.exercise]
    if exercise.carry not in CARRIES:
        raise Refusal.one(
            f"{where}/exercise",
            f"{exercise.name} has no modelled load path through a standing spine.",
            "one of: " + ", ".join(known.id for known in EXERCISES.values() if known.carry in CARRIES),
        )
    lean = _lean(setup, request, body, where)
    spine = load_path(exercise, body, si(setup.load), lean.lean, lean.own_error)
    return SolvedSetup(setup, lean, spine, extremes(spine, upper_body(body, hanging=exercise.carry == "hands")))


def _lean(setup: SpinalSetup, request: SpinalLoad, body: Body, where: str) -> Lean:
    """The lean stated, else computed for the lifter, else assumed for the exercise."""
    lean, lifter = stated_si(setup.trunk_lean), stated(request.lifter)
    computed = lean is None and lifter is not None and setup.exercise in EXERCISE_RULES
    if lean is not None:
        check_lean(lean, f"{where}/trunk_lean")
        return Lean(lean, 0.0, "stated")
    if lifter is not None and computed:
        technique = technique_of(setup.technique, lifter)
        try:
            uncertain = uncertain_demand(body, setup.exercise, si(setup.load), depth_of(setup.depth), technique)
        except Refusal as refusal:
            raise located(refusal, f"/{where}") from None
        span = uncertain.intervals["trunk_lean"]
        lean = uncertain.demand.trunk_lean
        check_lean(lean, f"{where}/trunk_lean")
        return Lean(lean, (span.high - span.low) / 2, "computed", uncertain.demand)
    default = EXERCISES[setup.exercise].lean
    if default is None:
        raise Refusal.one(f"{where}/trunk_lean", "No lean is known for this exercise: state it.", "0 to 80 deg")
    return Lean(radians(default), ASSUMED_ERROR, "assumed")
