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
    """A stance and the load lifted in it, whose lead-leg load is to be matched."""

    stance: Stance
    load: Mass


class SplitPosture(RequestModel, kw_only=True, frozen=True):
    """The stance as it is held at the bottom, in equilibrium: what is stated of lean, shin, foot_spacing and lead_share fixes the rest, of which the most probable is taken.

    Split squats, lunges and step-ups. The load is on the shoulders or hangs from the hands.
    """

    lifter: Lifter
    trunk_lean: Annotated[Angle, Meta(description="Trunk from the vertical, 0 to 65 deg.")] | UnsetType = UNSET
    shin_angle: Annotated[Angle, Meta(description="Lead shin from the vertical, -15 to 50 deg.")] | UnsetType = UNSET
    thigh_below_horizontal: (
        Annotated[Angle, Meta(description="Lead thigh, -75 to 25 deg; as usual if left out.")] | UnsetType
    ) = UNSET
    load_at: Literal["shoulders", "hands"] = "shoulders"


class LegDistribution(RequestModel, kw_only=True, frozen=True):
    """A stance with its load. The share comes from lead_share, else from the posture, else from the places of feet and centre of mass, else from the published share."""

    stance: Stance
    load: Mass
    body_mass: Mass | UnsetType = UNSET
    lead_share: (
        Annotated[float, Meta(ge=0, le=1, description="Measured or estimated share of the lead leg, 0 to 1.")]
        | UnsetType
    ) = UNSET
    foot_spacing: (
        Annotated[Length, Meta(description="Distance between the pressure centres of the feet, more than 0.")]
        | UnsetType
    ) = UNSET
    centre_of_mass_behind_lead_foot: (
        Annotated[
            Length, Meta(description="Distance of the system's centre of mass behind the lead foot, 0 to foot_spacing.")
        ]
        | UnsetType
    ) = UNSET
    posture: SplitPosture | UnsetType = UNSET
    match: MatchStance | UnsetType = UNSET


class Legs(ResponseModel, kw_only=True, frozen=True):
    """What rests on either leg."""

    lead: Mass
    trail: Mass


class MatchingLoad(ResponseModel, kw_only=True, frozen=True):
    """The load in this stance that puts the other stance's load on the lead leg; null where body mass is unknown or alone exceeds it."""

    load_only: Mass
    with_body_mass: Mass | None


class LegDistributionAnswer(ResponseModel, kw_only=True, frozen=True):
    """The field load_only applies the share to the load alone, as the trade does; with_body_mass to body and load, as force plates measure. posture: null where none is stated."""

    lead_share: Estimate
    published_share: float | None
    posture: SplitStanceAnswer | None
    load_only: Legs
    with_body_mass: Legs | None
    matching_load: MatchingLoad | None
    basis: Basis
    cautions: list[Message]
