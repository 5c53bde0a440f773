"""From the request to what the mechanics makes of it: the demand of each setup."""

from __future__ import annotations

import msgspec

from service.adjustment.prescription import lifts_the_body
from service.api.models.base import stated_si
from service.api.models.effort import maximum_of, technique_near
from service.api.models.lifter import body_of
from service.api.models.pace import SetupPace, pace_of
from service.api.models.prescription import check_implement
from service.api.models.setup import depth_of, located, states_other
from service.api.operations.joint_demand.models import JointDemand, JointSetup
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.mechanics.body import Body
from service.mechanics.lift_demand import Joint, LiftDemand, lift_demand
from service.mechanics.setups import Maximum
from service.mechanics.technique import OF_ARMS
from service.mechanics.uncertainty.comparison import Comparison
from service.units import si


class SolvedSetup(msgspec.Struct, frozen=True):
    """A setup with its solution.

    Attributes:
        request: the setup as the request describes it
        demand: what it asks at rest
        pace: of its repetitions
    """

    request: JointSetup
    demand: LiftDemand
    pace: SetupPace

    @property
    def is_computed(self) -> bool:
        """Whether any joint of the lift is computed."""
        return bool(self.demand.legs or self.demand.back or self.demand.arm)

    def against(self, reference: SolvedSetup) -> dict[Joint, Comparison]:
        """Each joint that both lifts compute against the reference's, each at its pace."""
        if self.pace.pace == reference.pace.pace:
            return self.demand.against(reference.demand)
        return self.demand.against(reference.demand, pace=lambda met: self.pace.against(reference.pace, met))


class SolvedSetups(msgspec.Struct, frozen=True):
    """The setups of one lifter, the first of them the reference.

    Attributes:
        body: of the lifter
        setups: in the order of the request
    """

    body: Body
    setups: tuple[SolvedSetup, ...]


def solved(request: JointDemand) -> SolvedSetups:
    """The setups solved. Raises Refusal for a posture that cannot be had, naming the limit and what would help."""
    body = body_of(request.lifter)
    if len({setup.label for setup in request.setups}) < len(request.setups):
        raise Refusal.one("setups", "Each setup needs a label of its own.", "labels that differ")
    maximum = maximum_of(request.setups[0])
    setups = (
        SolvedSetup(
            one,
            _demand(one, request, body, maximum, f"setups/{index}"),
            pace_of(one, body.stature, f"setups/{index}"),
        )
        for index, one in enumerate(request.setups)
    )
    return SolvedSetups(body, tuple(setups))


def setup_does_not_enter(setup: SolvedSetup) -> bool:
    """Whether something is stated of depth or technique that enters no number of the setup."""
    request, demand = setup.request, setup.demand
    if demand.legs is not None:
        return False
    entering = (*(OF_ARMS if demand.arm else ()), *(("trunk_lean", "seen_by") if demand.back else ()))
    depths = ("above_bottom",) if demand.arm else ()
    return states_other(request.technique, (*entering, "bounce")) or states_other(request.depth, depths)


def _demand(setup: JointSetup, request: JointDemand, body: Body, maximum: Maximum | None, where: str) -> LiftDemand:
    if setup.assistance is not None and EXERCISES[setup.exercise].carry != "body":
        raise Refusal.one(
            f"{where}/assistance",
            "Assistance belongs to lifts of one's own body.",
            ", ".join(lift for lift in EXERCISES if lifts_the_body(lift)),
        )
    check_implement(setup, where)
    technique = technique_near(maximum, setup, request.lifter)
    load = si(setup.load) - (stated_si(setup.assistance) or 0.0)
    try:
        return lift_demand(body, setup.exercise, setup.implement, load, depth_of(setup.depth), technique)
    except Refusal as refusal:
        raise located(refusal, f"/{where}", setup, request.lifter) from None
