"""One arm of a lifter: lengths from joint to joint, masses and centres."""

from __future__ import annotations

from functools import cache

from msgspec import Struct
from msgspec.structs import astuple, replace

from service.errors import Refusal, into
from service.knowledge.anthropometry import Sex
from service.knowledge.arm_figures import ARM
from service.mechanics.arm_lengths import ArmLengths
from service.mechanics.body import Body


class Arm(Struct, frozen=True, gc=False):
    """One arm.

    Attributes:
        stature: of the lifter [m]
        shoulder_breadth: acromion to acromion [m]
        shoulder_offset: shoulder joint from the midline of the body [m]
        upper_arm: shoulder joint to elbow joint [m]
        forearm: elbow joint to wrist joint [m]
        grip: wrist joint to the middle of the closed hand [m]
        upper_arm_mass: mass of the upper arm [kg]
        forearm_mass: mass of the forearm [kg]
        hand_mass: mass of the hand [kg]
        upper_arm_centre: centre of mass from the shoulder joint [m]
        forearm_centre: centre of mass from the elbow joint [m]
        hand_centre: centre of mass from the wrist joint [m]
    """

    stature: float
    shoulder_breadth: float
    shoulder_offset: float
    upper_arm: float
    forearm: float
    grip: float
    upper_arm_mass: float
    forearm_mass: float
    hand_mass: float
    upper_arm_centre: float
    forearm_centre: float
    hand_centre: float


class ArmFractions(Struct, frozen=True, gc=False):
    """An arm as `knowledge.arm_figures.ArmTable` has it, of one sex or the mean of both.

    Attributes:
        upper_arm: length over stature [1]
        forearm: length over stature [1]
        hand: wrist joint to third knuckle over stature [1]
        upper_arm_mass: over body mass [1]
        forearm_mass: over body mass [1]
        hand_mass: over body mass [1]
        upper_arm_centre: over the segment's length [1]
        forearm_centre: over the segment's length [1]
        hand_centre: over wrist to third knuckle [1]
    """

    upper_arm: float
    forearm: float
    hand: float
    upper_arm_mass: float
    forearm_mass: float
    hand_mass: float
    upper_arm_centre: float
    forearm_centre: float
    hand_centre: float


@cache
def arm_fractions(sex: Sex | None) -> ArmFractions:
    """The tabulated arm of one sex, or the mean of both.

    Source: de Leva 1996 (lengths, masses, centres).
    """
    if sex is None:
        both = zip(astuple(arm_fractions("female")), astuple(arm_fractions("male")), strict=True)
        return ArmFractions(*((female + male) / 2 for female, male in both))
    table = ARM.female if sex == "female" else ARM.male
    return ArmFractions(*(figure.value for figure in astuple(table)))


def with_own_arm(body: Body, lengths: ArmLengths) -> Body:
    """A lifter with what was measured of shoulders and arms.

    Args:
        body: the lifter
        lengths: own measurements

    Raises:
        Refusal: for a length that is not that of a person of this stature
    """
    fractions = arm_fractions(body.sex)
    for name, measured, expected in (
        ("shoulder_breadth", lengths.shoulder_breadth, body.shoulder_breadth),
        ("upper_arm", lengths.upper_arm, fractions.upper_arm * body.stature),
        ("forearm", lengths.forearm, fractions.forearm * body.stature),
    ):
        if measured is not None:
            _check_length(name, measured, expected)
    return replace(body, shoulder_breadth=lengths.shoulder_breadth or body.shoulder_breadth, own_arm=lengths)


def arm_of(
    body: Body,
    separation: float = ARM.both.separation.value,
    upper_arm_ratio: float = 1.0,
    breadth_ratio: float = 1.0,
) -> Arm:
    """The arm of a lifter.

    Args:
        body: the lifter
        separation: shoulder joint to shoulder joint, over the biacromial breadth [1]
        upper_arm_ratio: upper arm over its length by the table or as measured, to see what an error of it does [1]
        breadth_ratio: biacromial breadth likewise [1]

    Source: de Leva 1996, Gordon 2014; the shoulder joint from the acromion by Rajagopal 2016.
    """
    fractions, own = arm_fractions(body.sex), body.own_arm
    breadth = body.shoulder_breadth * breadth_ratio
    upper_arm = (own.upper_arm or fractions.upper_arm * body.stature) * upper_arm_ratio
    forearm = own.forearm or fractions.forearm * body.stature
    return Arm(
        stature=body.stature,
        shoulder_breadth=breadth,
        shoulder_offset=separation * breadth / 2,
        upper_arm=upper_arm,
        forearm=forearm,
        grip=ARM.both.grip.value * body.stature,
        upper_arm_mass=fractions.upper_arm_mass * body.mass,
        forearm_mass=fractions.forearm_mass * body.mass,
        hand_mass=fractions.hand_mass * body.mass,
        upper_arm_centre=fractions.upper_arm_centre * upper_arm,
        forearm_centre=fractions.forearm_centre * forearm,
        hand_centre=fractions.hand_centre * fractions.hand * body.stature,
    )


def _check_length(name: str, measured: float, expected: float) -> None:
    accepted = ARM.ranges.length_ratio
    if not accepted.low <= measured / expected <= accepted.high:
        raise Refusal.one(
            f"lengths/{name}",
            f"{name.replace('_', ' ').capitalize()}: {measured:.3f} m does not go with this stature, where "
            f"{expected:.3f} m is expected; measure again.",
            f"{accepted.low * expected:.3f} to {accepted.high * expected:.3f} m",
            change=into(measured, accepted.low * expected, accepted.high * expected),
        )
