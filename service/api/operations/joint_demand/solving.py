"""From the request to what the mechanics makes of it: the uncertain demand of each setup."""

from __future__ import annotations

from typing import Final

import msgspec

from service.adjustment.prescription import lifts_the_body
from service.api.models.effort import technique_at_effort
from service.api.models.lifter import body_of
from service.api.models.pace import SetupPace, pace_of
from service.api.models.setup import depth_of, located
from service.api.operations.joint_demand.models import JointDemand, JointSetup
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.body import Body
from service.mechanics.peaks import MOMENTS
from service.mechanics.uncertainty.comparison import Comparison, Quantity, at_pace, compare
from service.mechanics.uncertainty.propagation import UncertainDemand, uncertain_demand
from service.units import si

JOINTS: Final = ("ankle", "knee", "hip", "lumbosacral")


class SolvedSetup(msgspec.Struct, frozen=True):
    """A setup with its solution.

    Attributes:
        request: the setup as the request describes it
        demand: what it asks at rest, None where no planar model covers the lift
        pace: of its repetitions
    """

    request: JointSetup
    demand: UncertainDemand | None
    pace: SetupPace

    def against(self, reference: SolvedSetup) -> dict[Quantity, Comparison] | None:
        """Each joint against the reference's; None where either has no model."""
        if self.demand is None or reference.demand is None:
            return None
        compared = compare(self.demand, reference.demand, MOMENTS)
        if self.pace.pace == reference.pace.pace:
            return compared
        for joint in MOMENTS:
            pace = self.pace.against(reference.pace, self.demand.demand.met(joint))
            if pace is not None:
                compared[joint] = at_pace(compared[joint], pace)
        return compared


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
    setups = (
        SolvedSetup(one, _demand(one, request, body, f"setups/{index}"), pace_of(one, body.stature, f"setups/{index}"))
        for index, one in enumerate(request.setups)
    )
    return SolvedSetups(body, tuple(setups))


def _demand(setup: JointSetup, request: JointDemand, body: Body, where: str) -> UncertainDemand | None:
    if setup.assistance is not None and EXERCISES[setup.exercise].carry != "body":
        raise Refusal.one(
            f"{where}/assistance",
            "Assistance belongs to lifts of one's own body.",
            ", ".join(lift for lift in EXERCISES if lifts_the_body(lift)),
        )
    if setup.exercise not in EXERCISE_RULES:
        return None
    technique = technique_at_effort(setup, request.lifter)
    try:
        return uncertain_demand(body, setup.exercise, si(setup.load), depth_of(setup.depth), technique)
    except Refusal as refusal:
        raise located(refusal, f"/{where}", setup, request.lifter) from None
