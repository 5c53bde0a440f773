"""What leg-distribution is asked and what it answers."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, ResponseModel
from service.api.models.common import Basis, Estimate
from service.api.models.lifter import Lifter
from service.api.models.split_stance import SplitStanceAnswer
from service.messages import Message
from service.units import Angle, Length, Mass

Stance = Literal[
    "bilateral", "split_squat", "lunge", "rear_foot_elevated_split_squat", "single_leg", "step_up", "kickstand"
]


class MatchStance(RequestModel, kw_only=True, frozen=True):
    """A stance and the load lifted in it, whose lead-leg load is to be matched.

    Attributes:
        stance: The other stance.
        load: The load lifted in it.
    """

    stance: Stance
    load: Mass


class SplitPosture(RequestModel, kw_only=True, frozen=True):
    """The stance as it is held at the bottom, in equilibrium: what is stated of lean, shin, foot_spacing and lead_share fixes the rest, of which the most probable is taken. Split squats, lunges and step-ups.

    Attributes:
        lifter: Who lifts.
        trunk_lean: Trunk from the vertical, 0 to 65 deg. Left out: follows.
        shin_angle: Lead shin from the vertical, -15 to 50 deg. Left out: follows.
        thigh_below_horizontal: Lead thigh below the horizontal, -75 to 25 deg. Left out: as usual.
        load_at: Where the load is held.
    """

    lifter: Lifter
    trunk_lean: Angle | UnsetType = UNSET
    shin_angle: Angle | UnsetType = UNSET
    thigh_below_horizontal: Angle | UnsetType = UNSET
    load_at: Literal["shoulders", "hands"] = "shoulders"


class LegDistribution(RequestModel, kw_only=True, frozen=True):
    """A stance with its load.

    The share of the lead leg comes from lead_share, else from the posture, else from the places of feet and centre of
    mass, else from what is published.

    Attributes:
        stance: How the feet stand.
        load: Load on the implement; of two dumbbells their sum.
        body_mass: Body mass, 30 to 250 kg. Left out: only the load is spread over the legs.
        lead_share: Measured or estimated share of the lead leg, 0 to 1. Left out: from posture, places or publications.
        foot_spacing: Distance between the pressure centres of the feet, more than 0. Left out: not known.
        centre_of_mass_behind_lead_foot: How far the centre of mass of body and load is behind the lead foot, 0 to
            foot_spacing. Left out: not known.
        posture: The stance as it is held at the bottom. Left out: not known.
        match: Another stance whose lead-leg load is to be matched. Left out: none.
    """

    stance: Stance
    load: Mass
    body_mass: Mass | UnsetType = UNSET
    lead_share: Annotated[float, Meta(ge=0, le=1)] | UnsetType = UNSET
    foot_spacing: Length | UnsetType = UNSET
    centre_of_mass_behind_lead_foot: Length | UnsetType = UNSET
    posture: SplitPosture | UnsetType = UNSET
    match: MatchStance | UnsetType = UNSET


class Legs(ResponseModel, kw_only=True, frozen=True):
    """What rests on either leg.

    Attributes:
        lead: On the lead leg.
        trail: On the trail leg.
    """

    lead: Mass
    trail: Mass


class MatchingLoad(ResponseModel, kw_only=True, frozen=True):
    """The load in this stance that puts the other stance's load on the lead leg.

    Attributes:
        load_only: By the share of the load alone, as the trade counts.
        with_body_mass: By the share of body and load, as force plates measure; null where body mass is unknown or alone
            exceeds it.
    """

    load_only: Mass
    with_body_mass: Mass | None


class LegDistributionAnswer(ResponseModel, kw_only=True, frozen=True):
    """What rests on either leg.

    Attributes:
        lead_share: Share of the lead leg, 0 to 1.
        published_share: Usual share of the lead leg, as published; null where none is.
        posture: The stance in its equilibrium; null where none is stated.
        load_only: The share applied to the load alone, as the trade does.
        with_body_mass: The share applied to body and load, as force plates measure; null where body mass is unknown.
        matching_load: The load that matches another stance; null where none is asked for.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    lead_share: Estimate
    published_share: float | None
    posture: SplitStanceAnswer | None
    load_only: Legs
    with_body_mass: Legs | None
    matching_load: MatchingLoad | None
    basis: Basis
    cautions: list[Message]
