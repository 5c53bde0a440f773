"""The lifter as requests describe them, and as the mechanics takes them."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, stated, stated_si
from service.errors import Refusal
from service.knowledge.anthropometry import Sex
from service.mechanics.arm.segments import with_own_arm
from service.mechanics.arm_lengths import ArmLengths
from service.mechanics.body import Body, SegmentLengths, build_body
from service.mechanics.setups import Technique
from service.units import Angle, Length, Mass, si
from service.vocabulary import Training

_POINTERS: Final = {
    "/mass": "/body_mass",
    "/lengths/shoulder_breadth": "/shoulder_breadth",
    **{
        f"/lengths/{part}": f"/segment_lengths/{part}"
        for part in ("shank", "thigh", "trunk", "foot", "upper_arm", "forearm")
    },
}
"""Pointers of the mechanics as requests have them, from the lifter."""


class SegmentLengthsGiven(RequestModel, kw_only=True, frozen=True):
    """Own measurements, joint to joint: shank (ankle to knee), thigh (knee to hip), trunk (hip to shoulder), foot (heel to toe), upper_arm (shoulder to elbow), forearm (elbow to wrist); each 0.8 to 1.2 times what stature lets expect."""

    shank: Length | UnsetType = UNSET
    thigh: Length | UnsetType = UNSET
    trunk: Length | UnsetType = UNSET
    foot: Length | UnsetType = UNSET
    upper_arm: Length | UnsetType = UNSET
    forearm: Length | UnsetType = UNSET


class Lifter(RequestModel, kw_only=True, frozen=True):
    """A lifter: body mass 30 to 250 kg, stature 1.3 to 2.3 m; what is not measured follows from stature, and widens the intervals."""

    body_mass: Mass
    stature: Length
    sex: (
        Annotated[Sex, Meta(description="Which segment table to use; the mean of both where left out.")] | UnsetType
    ) = UNSET
    training: (
        Annotated[
            Training,
            Meta(description="How long the lifter has trained, for what keeps a muscle; trained where left out."),
        ]
        | UnsetType
    ) = UNSET
    segment_lengths: SegmentLengthsGiven | UnsetType = UNSET
    shoulder_breadth: (
        Annotated[
            Length,
            Meta(
                description="Between the acromia (biacromial), 0.8 to 1.2 times what stature lets expect; for presses, pulls and the width of stances."
            ),
        ]
        | UnsetType
    ) = UNSET
    ankle_dorsiflexion: (
        Annotated[
            Angle, Meta(description="Greatest shin angle from the vertical in a weight-bearing lunge, 15 to 50 deg.")
        ]
        | UnsetType
    ) = UNSET
    hip_flexion: (
        Annotated[
            Angle,
            Meta(description="Greatest trunk-to-thigh angle in a squat (not a clinical hip range), 60 to 160 deg."),
        ]
        | UnsetType
    ) = UNSET
    hip_abduction: (
        Annotated[
            Angle,
            Meta(
                description="How far the thighs turn out at the bottom of a squat, from straight ahead (clinical abduction and rotation mixed), 10 to 65 deg."
            ),
        ]
        | UnsetType
    ) = UNSET
    hip_external_rotation: (
        Annotated[Angle, Meta(description="How far the hips let the feet turn out, from straight ahead, 5 to 60 deg.")]
        | UnsetType
    ) = UNSET


def body_of(lifter: Lifter) -> Body:
    """The lifter's body. Raises Refusal with pointers into /lifter."""
    measured = stated(lifter.segment_lengths) or SegmentLengthsGiven()
    lengths = SegmentLengths(
        stated_si(measured.shank), stated_si(measured.thigh), stated_si(measured.trunk), stated_si(measured.foot)
    )
    own_arm = ArmLengths(stated_si(lifter.shoulder_breadth), stated_si(measured.upper_arm), stated_si(measured.forearm))
    try:
        body = build_body(si(lifter.body_mass), si(lifter.stature), stated(lifter.sex), lengths)
        return with_own_arm(body, own_arm)
    except Refusal as refusal:
        raise refusal.at(_POINTERS).under("/lifter") from None


def limits_of(lifter: Lifter) -> Technique:
    """The technique that a lifter's own limits of ankle and hip allow, otherwise the usual one."""
    return Technique(
        ankle_dorsiflexion=stated_si(lifter.ankle_dorsiflexion),
        hip_flexion=stated_si(lifter.hip_flexion),
        hip_abduction=stated_si(lifter.hip_abduction),
        hip_external_rotation=stated_si(lifter.hip_external_rotation),
    )


DEMO_LIFTER: Final = {
    "body_mass": {"value": 64, "unit": "kg"},
    "stature": {"value": 168, "unit": "cm"},
    "sex": "female",
}
"""The lifter of the demo scenario, for the examples of every operation."""
