"""From the request to what the mechanics makes of it: each setup with its load and the uncertainty of it."""

from __future__ import annotations

from math import radians
from typing import Final

import msgspec
from msgspec.structs import replace

from service.api.models.base import omitted, stated, stated_si, states
from service.api.models.effort import maximum_of, technique_near
from service.api.models.lifter import body_of
from service.api.models.pace import SetupPace, pace_of
from service.api.models.prescription import check_implement
from service.api.models.setup import depth_of, located, states_other, technique_of
from service.api.operations.spinal_load.models import SpinalLoad, SpinalSetup
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import POSTURE_RULES, posture_of
from service.mechanics.body import Body, build_body
from service.mechanics.demand import Demand
from service.mechanics.dynamics import AT_TURN, Met
from service.mechanics.setups import Maximum
from service.mechanics.spinal_setups import CARRIES
from service.mechanics.spine import check_lean
from service.mechanics.technique import asked_lean
from service.mechanics.uncertainty.propagation import uncertain_demand
from service.mechanics.uncertainty.spine import (
    LeanFrom,
    SpineComparison,
    UncertainSpine,
    against_reference,
    of_lean,
    of_posture,
)
from service.units import si

ASSUMED_LIFTER: Final = CHOICES.spine.assumed_lifter


class SolvedSetup(msgspec.Struct, frozen=True):
    """A setup with its solution.

    Attributes:
        request: the setup as the request describes it
        lean_from: where the lean comes from
        spine: the load with its uncertainty
        pace: of its repetitions
        demand: of the posture that was solved, if one was
    """

    request: SpinalSetup
    lean_from: LeanFrom
    spine: UncertainSpine
    pace: SetupPace
    demand: Demand | None = None

    def against(self, reference: SolvedSetup) -> SpineComparison:
        """The setup against the reference."""
        compared = against_reference(self.spine, reference.spine)
        pace = self.pace.against(reference.pace, self.met)
        return compared if pace is None else compared.at_pace(pace)

    @property
    def met(self) -> Met:
        """Where on the way up the load is greatest."""
        return AT_TURN if self.demand is None else self.demand.met("lumbosacral")


def lifter_body(request: SpinalLoad) -> Body:
    """The lifter's body, or that of an assumed lifter where the request describes none."""
    lifter = stated(request.lifter)
    return build_body(ASSUMED_LIFTER.mass, ASSUMED_LIFTER.stature) if lifter is None else body_of(lifter)


def solved(request: SpinalLoad, body: Body) -> list[SolvedSetup]:
    """The setups solved. Raises Refusal for an exercise without a modelled path or a lean out of range."""
    maximum = maximum_of(request.setups[0])
    setups = [_solved(setup, request, body, maximum, f"setups/{index}") for index, setup in enumerate(request.setups)]
    labels = {setup.label for setup in request.setups}
    if len(labels) < len(setups):
        raise Refusal.one("setups", "Each setup needs a label of its own.", "labels that differ")
    return setups


def setup_does_not_enter(setup: SolvedSetup) -> bool:
    """Whether something is stated of depth or technique that enters no number of the setup."""
    one = setup.request
    if setup.demand is not None:
        return False
    leans = posture_of(one.exercise, one.implement) is None and omitted(one.trunk_lean)
    return states_other(one.technique, ("bounce", *(("trunk_lean", "seen_by") if leans else ()))) or states_other(
        one.depth
    )


def _solved(setup: SpinalSetup, request: SpinalLoad, body: Body, maximum: Maximum | None, where: str) -> SolvedSetup:
    exercise = EXERCISES[setup.exercise]
    if exercise.carry not in CARRIES:
        known = [one.id for one in EXERCISES.values() if one.carry in CARRIES]
        raise Refusal.one(
            f"{where}/exercise",
            f"{exercise.name} has no modelled load path through a standing spine.",
            "one of: " + ", ".join(known),
            one_of=known,
        )
    check_implement(setup, where)
    pace, lean = pace_of(setup, body.stature, where), stated_si(setup.trunk_lean)
    posture = posture_of(setup.exercise, setup.implement)
    rule = None if posture is None else POSTURE_RULES[posture]
    pointer = f"{where}/trunk_lean"
    if rule is None and lean is None:
        lean, pointer = asked_lean(technique_of(setup.technique)), f"{where}/technique/trunk_lean"
    if lean is not None:
        check_lean(lean, pointer)
        if rule is None or rule.family != "pull":
            spine = of_lean(body, exercise, si(setup.load), lean, "stated", setup.implement)
            return SolvedSetup(setup, "stated", spine, pace)
    if posture is not None:
        technique = technique_near(maximum, setup, stated(request.lifter))
        if lean is not None:
            technique = replace(technique, trunk_lean=lean)
        try:
            uncertain = uncertain_demand(body, posture, si(setup.load), depth_of(setup.depth), technique)
        except Refusal as refusal:
            stated_here = {} if lean is None else {"/technique/trunk_lean": "/trunk_lean"}
            raise located(refusal.at(stated_here), f"/{where}", setup, stated(request.lifter)) from None
        lean_from: LeanFrom = "computed" if lean is None else "stated"
        return SolvedSetup(setup, lean_from, of_posture(uncertain), pace, uncertain.demand)
    if exercise.lean is None:
        if setup.technique is not None and states(setup, "/technique/trunk_lean"):
            raise Refusal.one(
                f"{where}/technique/trunk_lean",
                f"{exercise.name}: no posture is modelled into which a technique could enter, and no lean is known.",
                "trunk_lean of the setup itself, 0 to 80 deg",
            )
        raise Refusal.one(f"{where}/trunk_lean", "No lean is known for this exercise: state it.", "0 to 80 deg")
    spine = of_lean(body, exercise, si(setup.load), radians(exercise.lean), "assumed")
    return SolvedSetup(setup, "assumed", spine, pace)
