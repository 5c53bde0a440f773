"""The lifter as requests describe them, and as the mechanics takes them."""

from __future__ import annotations

from typing import Final

from msgspec import UNSET, UnsetType

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
    """Own measurements from joint to joint, each 0.8 to 1.2 times what stature lets expect; what is left out follows from stature.

    Attributes:
        shank: Ankle to knee.
        thigh: Knee to hip.
        trunk: Hip to shoulder.
        foot: Heel to toe.
        upper_arm: Shoulder to elbow.
        forearm: Elbow to wrist.
    """

    shank: Length | UnsetType = UNSET
    thigh: Length | UnsetType = UNSET
    trunk: Length | UnsetType = UNSET
    foot: Length | UnsetType = UNSET
    upper_arm: Length | UnsetType = UNSET
    forearm: Length | UnsetType = UNSET


class Lifter(RequestModel, kw_only=True, frozen=True):
    """A lifter; what is not measured follows from stature, and widens the intervals.

    Attributes:
        body_mass: Body mass, 30 to 250 kg.
        stature: Standing height without shoes, 1.3 to 2.3 m.
        sex: Which table of body segments to use. Left out: the mean of both.
        training: How long the lifter has trained, which decides how many sets keep a muscle. Left out: trained.
        segment_lengths: Lengths that were measured. Left out: all follow from stature.
        shoulder_breadth: Between the acromia, the bony tips of the shoulders, 0.8 to 1.2 times what stature lets
            expect; for presses, pulls and the width of stances. Left out: follows from stature.
        ankle_dorsiflexion: Greatest angle of the shin from the vertical in a weight-bearing lunge, 15 to 50 deg. Left
            out: no limit but the usual one.
        hip_flexion: Greatest angle from trunk to thigh in a squat (not a clinical hip range), 60 to 160 deg. Left out:
            no limit but the usual one.
        hip_abduction: How far the thighs turn out at the bottom of a squat, from straight ahead (clinical abduction and
            rotation mixed), 10 to 65 deg. Left out: no limit but the usual one.
        hip_external_rotation: How far the hips let the feet turn out, from straight ahead, 5 to 60 deg. Left out: no
            limit but the usual one.
    """

    body_mass: Mass
    stature: Length
    sex: Sex | UnsetType = UNSET
    training: Training | UnsetType = UNSET
    segment_lengths: SegmentLengthsGiven | UnsetType = UNSET
    shoulder_breadth: Length | UnsetType = UNSET
    ankle_dorsiflexion: Angle | UnsetType = UNSET
    hip_flexion: Angle | UnsetType = UNSET
    hip_abduction: Angle | UnsetType = UNSET
    hip_external_rotation: Angle | UnsetType = UNSET


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
