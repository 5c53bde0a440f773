"""The answer of leg-distribution: the share of the lead leg, and the load that matches another stance."""

from __future__ import annotations

from typing import Final

import msgspec
from msgspec.structs import replace

from service.api.models.base import stated, stated_si, states
from service.api.models.common import OF_ONE, Basis, cautions, estimate
from service.api.models.lifter import body_of, limits_of
from service.api.models.split_stance import SplitStanceAnswer, split_stance_answer
from service.api.operations.leg_distribution.models import (
    LegDistribution,
    LegDistributionAnswer,
    Legs,
    MatchingLoad,
    SplitPosture,
)
from service.errors import Refusal, into
from service.intervals import Interval, exactly
from service.knowledge.catalogue import STANCES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.demand import setup_demand
from service.mechanics.depth import Depth
from service.mechanics.uncertainty.split_changes import lead_share_interval
from service.mechanics.uncertainty.split_differences import moved_stances
from service.mechanics.weight_distribution import matching_load, on_lead, share_from_positions
from service.messages import Message, message
from service.units import MassUnit, mass, si

LEAST_SHARE: Final = 0.05
_WITH_POSTURE: Final = tuple(stance for stance in STANCES if stance in EXERCISE_RULES)
_POINTERS: Final = {
    "/technique/trunk_lean": "/posture/trunk_lean",
    "/technique/shin_angle": "/posture/shin_angle",
    "/technique/ankle_dorsiflexion": "/posture/lifter/ankle_dorsiflexion",
    "/technique/hip_flexion": "/posture/lifter/hip_flexion",
    "/technique/hip_abduction": "/posture/lifter/hip_abduction",
    "/technique/hip_external_rotation": "/posture/lifter/hip_external_rotation",
    "/technique/foot_spacing": "/foot_spacing",
    "/technique/lead_share": "/lead_share",
    "/depth": "/posture/thigh_below_horizontal",
    "/depth/thigh_below_horizontal": "/posture/thigh_below_horizontal",
}
"""Where the request has what the mechanics names."""


class LeadShare(msgspec.Struct, frozen=True):
    """What rests on the lead leg.

    Attributes:
        share: of body and load [1]
        meaning: of its interval
        source: id of its source
        assumptions: on which it rests
        cautions: that carry numbers of its posture
        stance: the posture in equilibrium, None where none is stated
    """

    share: Interval
    meaning: str
    source: str
    assumptions: tuple[Message, ...] = ()
    cautions: tuple[Message, ...] = ()
    stance: SplitStanceAnswer | None = None


def _lead_share(request: LegDistribution) -> LeadShare:
    """The share from the posture or as stated, else from the positions of feet and mass, else as published."""
    share, posture = stated(request.lead_share), stated(request.posture)
    spacing, behind = stated_si(request.foot_spacing), stated_si(request.centre_of_mass_behind_lead_foot)
    if posture is not None:
        if behind is not None:
            raise Refusal.one(
                "centre_of_mass_behind_lead_foot", "A posture has its centre of mass already.", "left out"
            )
        return _share_in_posture(request, posture)
    if share is not None:
        if spacing is not None or behind is not None:
            raise Refusal.one("lead_share", "State the share, or what it follows from, not both.", "one of them")
        return LeadShare(exactly(share), "as stated by the caller", "statics")
    if spacing is None and behind is None:
        return _published_share(request.stance)
    if spacing is None or behind is None:
        missing = "foot_spacing" if spacing is None else "centre_of_mass_behind_lead_foot"
        raise Refusal.one(
            missing, "Both foot_spacing and centre_of_mass_behind_lead_foot are needed.", "both or neither"
        )
    return LeadShare(
        exactly(share_from_positions(spacing, behind)),
        "from the places as stated",
        "statics",
        (message("assumed_feet_level"),),
    )


def _published_share(stance_id: str) -> LeadShare:
    stance = STANCES[stance_id]
    if stance.value is None or stance.low is None or stance.high is None:
        raise Refusal.one("lead_share", f"{stance.name}: {stance.note}", "0 to 1")
    return LeadShare(
        Interval(stance.value, stance.low, stance.high),
        stance.interval,
        stance.source,
        (message("assumed_published_share", stance=stance_id),),
    )


def _share_in_posture(request: LegDistribution, posture: SplitPosture) -> LeadShare:
    """The share in a posture that is in equilibrium with all that is stated, as joint-demand has it."""
    if request.stance not in _WITH_POSTURE:
        raise Refusal.one("posture", "This stance has no posture of its own.", ", ".join(_WITH_POSTURE))
    technique = replace(
        limits_of(posture.lifter),
        trunk_lean=stated_si(posture.trunk_lean),
        shin_angle=stated_si(posture.shin_angle),
        foot_spacing=stated_si(request.foot_spacing),
        lead_share=stated(request.lead_share),
    )
    below = stated_si(posture.thigh_below_horizontal)
    depth = None if below is None else Depth(thigh_below_horizontal=below)
    rule = request.stance if posture.load_at == "shoulders" else f"{request.stance}/dumbbells"
    try:
        body = body_of(posture.lifter)
    except Refusal as refusal:
        raise refusal.under("/posture") from None
    try:
        demand = setup_demand(body, rule, si(request.load), depth, technique)
    except Refusal as refusal:
        raise refusal.at(_POINTERS).where_stated(lambda pointer: states(request, pointer), "/posture") from None
    share = lead_share_interval(demand, depth, moved_stances(demand, depth))
    stance = split_stance_answer(demand, share)
    return LeadShare(share, OF_ONE, "statics", demand.assumptions, demand.remarks, stance)


def _published(stance: str, pointer: str) -> float:
    value = STANCES[stance].value
    if value is None:
        raise Refusal.one(
            pointer, f"{STANCES[stance].name}: no share is published to match.", "a stance with a published share"
        )
    return value


def leg_distribution(request: LegDistribution) -> LegDistributionAnswer:
    """The legs' shares. Raises Refusal where no share is published and none is given."""
    lead = _lead_share(request)
    share = lead.share
    unit: MassUnit = request.load.unit
    load = si(request.load)
    body = _body_mass(request)
    specific: list[str | Message] = ["shares_include_body", "joint_load_differs"]
    if share.value < 1 and request.stance != "bilateral":
        specific.append("rear_leg_works")
    published = STANCES[request.stance].value
    if lead.stance is not None and published is not None and not share.low <= published <= share.high:
        specific.append(message("posture_share_differs", published=published))
    specific += lead.cautions
    matched = None
    match = stated(request.match)
    if match is not None:
        if share.value < LEAST_SHARE:
            raise Refusal.one(
                "lead_share",
                "With next to nothing on the lead leg no load matches.",
                f"{LEAST_SHARE:g} to 1",
                change=into(share.value, LEAST_SHARE),
            )
        other = _published(match.stance, "match/stance")
        other_load = si(match.load)
        with_body = None if body is None else matching_load(share.value, other, other_load, body)
        if with_body is not None and with_body < 0:
            specific.append("body_alone_exceeds")
            with_body = None
        specific.append("floor_force_match")
        matched = MatchingLoad(
            load_only=mass(matching_load(share.value, other, other_load), unit),
            with_body_mass=None if with_body is None else mass(with_body, unit),
        )
    return LegDistributionAnswer(
        lead_share=estimate(share, lead.meaning),
        published_share=published,
        posture=lead.stance,
        load_only=_legs(share.value, load, 0.0, unit),
        with_body_mass=None if body is None else _legs(share.value, load, body, unit),
        matching_load=matched,
        basis=Basis(
            method=message("method_lead_share"),
            sources=list(dict.fromkeys([lead.source, "statics", "openstax_college_physics"])),
            assumptions=list(lead.assumptions),
            evidence="published" if lead.source != "statics" else "computed",
        ),
        cautions=cautions(*specific),
    )


def _body_mass(request: LegDistribution) -> float | None:
    posture, body_mass = stated(request.posture), stated_si(request.body_mass)
    if posture is None:
        return body_mass
    if body_mass is not None:
        raise Refusal.one("body_mass", "The lifter of the posture has a body mass already.", "left out")
    return si(posture.lifter.body_mass)


def _legs(share: float, load: float, body: float, unit: MassUnit) -> Legs:
    lead, trail = on_lead(share, load, body)
    return Legs(lead=mass(lead, unit), trail=mass(trail, unit))
