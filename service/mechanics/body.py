"""A lifter as linked segments: lengths, masses and centres from stature, body mass and sex.

Both legs, feet and arms are lumped. Lengths come from stature unless the lifter was measured; masses and centres always
come from body mass (figures and sources in knowledge/data/body).
"""

from __future__ import annotations

from functools import cache

from msgspec import Struct
from msgspec.structs import astuple

from service.errors import Refusal, into
from service.knowledge.anthropometry import BODY, Sex
from service.mechanics.arm_lengths import ArmLengths

GRAVITY = 9.81  # standard acceleration, rounded [m/s²]
MEASURABLE = ("shank", "thigh", "trunk", "foot")


class SegmentLengths(Struct, frozen=True, gc=False):
    """A lifter's own measurements; None where none was taken.

    Attributes:
        shank: ankle joint to knee joint [m]
        thigh: knee joint to hip joint [m]
        trunk: hip joint to shoulder joint [m]
        foot: heel to toe [m]
    """

    shank: float | None = None
    thigh: float | None = None
    trunk: float | None = None
    foot: float | None = None


class Body(Struct, frozen=True, gc=False):
    """One lifter.

    Attributes:
        mass: body mass [kg]
        stature: standing height [m]
        sex: segment table used; None for the mean of both
        shank: ankle joint to knee joint [m]
        thigh: knee joint to hip joint [m]
        trunk: hip joint to shoulder joint [m]
        foot: heel to toe [m]
        ankle_height: ankle joint above the floor [m]
        arm: shoulder joint to the grip of a straight arm [m]
        ankle_from_heel: ankle joint ahead of the heel, along the floor [m]
        ball_from_heel: ball of the foot ahead of the heel, along the floor [m]
        seat_to_hip: hip joint above a seat [m]
        feet_mass: both feet [kg]
        shanks_mass: both shanks [kg]
        thighs_mass: both thighs [kg]
        upper_mass: head, arms and trunk [kg]
        arms_mass: both arms [kg]
        feet_centre: centre of mass from the heel, as a fraction of foot length [1]
        shank_centre: centre of mass from the knee, as a fraction of shank length [1]
        thigh_centre: centre of mass from the hip, as a fraction of thigh length [1]
        upper_centre_at_bar: centre of upper_mass from the hip with the arms up at a bar, as a fraction of trunk
            length [1]
        upper_centre_hanging: the same with the arms hanging along the trunk [1]
        arms_centre: centre of mass from the shoulder along a straight arm [m]
        lumbosacral_level: lumbosacral joint from the hip on the line to the shoulder, as a fraction of trunk length [1]
        above_mass: body mass above the lumbosacral joint [kg]
        above_centre_at_bar: centre of above_mass from the hip with the arms up at a bar, as a fraction of trunk
            length [1]
        above_centre_hanging: the same with the arms hanging along the trunk [1]
        hip_centres: between the hip joints [m]
        hip_breadth: across the hips [m]
        shoulder_breadth: between the acromia [m]
        own_arm: measured of shoulders and arms
        measured: names of the lengths that were measured rather than derived from stature
    """

    mass: float
    stature: float
    sex: Sex | None
    shank: float
    thigh: float
    trunk: float
    foot: float
    ankle_height: float
    arm: float
    ankle_from_heel: float
    ball_from_heel: float
    seat_to_hip: float
    feet_mass: float
    shanks_mass: float
    thighs_mass: float
    upper_mass: float
    arms_mass: float
    feet_centre: float
    shank_centre: float
    thigh_centre: float
    upper_centre_at_bar: float
    upper_centre_hanging: float
    arms_centre: float
    lumbosacral_level: float
    above_mass: float
    above_centre_at_bar: float
    above_centre_hanging: float
    hip_centres: float
    hip_breadth: float
    shoulder_breadth: float
    own_arm: ArmLengths
    measured: tuple[str, ...] = ()


class SegmentFractions(Struct, frozen=True, gc=False):
    """Masses over body mass and centres of mass over lengths.

    Attributes:
        feet_mass: both feet [1]
        shanks_mass: both shanks [1]
        thighs_mass: both thighs [1]
        upper_mass: head, arms and trunk [1]
        arms_mass: both arms [1]
        feet_centre: from the heel, over foot length [1]
        shank_centre: from the knee, over shank length [1]
        thigh_centre: from the hip, over thigh length [1]
        upper_centre_at_bar: centre of upper_mass from the hip with the arms up at a bar, over trunk length [1]
        upper_centre_hanging: the same with the arms hanging along the trunk [1]
        arms_centre: from the shoulder along a straight arm, over stature [1]
        lumbosacral_level: lumbosacral joint from the hip on the line to the shoulder, over trunk length [1]
        above_mass: body mass above the lumbosacral joint [1]
        above_centre_at_bar: centre of above_mass from the hip with the arms up at a bar, over trunk length [1]
        above_centre_hanging: the same with the arms hanging along the trunk [1]
        seat_to_hip: hip joint above a seat, over stature [1]
        hip_centres: between the hip joints, over stature [1]
        hip_breadth: across the hips, over stature [1]
        shoulder_breadth: between the acromia, over stature [1]
    """

    feet_mass: float
    shanks_mass: float
    thighs_mass: float
    upper_mass: float
    arms_mass: float
    feet_centre: float
    shank_centre: float
    thigh_centre: float
    upper_centre_at_bar: float
    upper_centre_hanging: float
    arms_centre: float
    lumbosacral_level: float
    above_mass: float
    above_centre_at_bar: float
    above_centre_hanging: float
    seat_to_hip: float
    hip_centres: float
    hip_breadth: float
    shoulder_breadth: float


def build_body(mass: float, stature: float, sex: Sex | None = None, lengths: SegmentLengths | None = None) -> Body:
    """A lifter from stature and body mass, with any segment length replaced by the lifter's own measurement.

    Args:
        mass: body mass [kg]
        stature: standing height [m]
        sex: segment table; None for the mean of the female and the male one
        lengths: own measurements

    Raises:
        Refusal: for a mass or stature outside the accepted range, and for a length outside 0.80 to 1.20 of the one
            expected from stature: beyond that a landmark was probably mistaken (our judgement)

    Source: Drillis & Contini 1966 (lengths), de Leva 1996 (masses, centres), Dumas & Wojtusch 2018 (lumbosacral joint).
    """
    ranges = BODY.ranges
    if not ranges.mass.low <= mass <= ranges.mass.high:
        detail = f"Body mass {mass:g} kg is outside what is accepted."
        change = into(mass, ranges.mass.low, ranges.mass.high)
        raise Refusal.one("mass", detail, ranges.mass.allowed("kg"), change=change)
    if not ranges.stature.low <= stature <= ranges.stature.high:
        detail = f"Stature {stature:g} m is outside what is accepted."
        change = into(stature, ranges.stature.low, ranges.stature.high)
        raise Refusal.one("stature", detail, ranges.stature.allowed("m"), change=change)
    measured = _measured(stature, lengths)
    fractions = segment_fractions(sex)
    foot = measured.get("foot", BODY.lengths.foot.value * stature)
    return Body(
        mass=mass,
        stature=stature,
        sex=sex,
        shank=measured.get("shank", BODY.lengths.shank.value * stature),
        thigh=measured.get("thigh", BODY.lengths.thigh.value * stature),
        trunk=measured.get("trunk", BODY.lengths.trunk.value * stature),
        foot=foot,
        ankle_height=BODY.lengths.ankle_height.value * stature,
        arm=BODY.lengths.arm_to_grip.value * stature,
        ankle_from_heel=BODY.foot.ankle_from_heel.value * foot,
        ball_from_heel=BODY.foot.ball_from_heel.value * foot,
        **masses_of(fractions, mass, stature),
        hip_centres=fractions.hip_centres * stature,
        hip_breadth=fractions.hip_breadth * stature,
        shoulder_breadth=fractions.shoulder_breadth * stature,
        own_arm=ArmLengths(),
        measured=tuple(measured),
    )


def masses_of(fractions: SegmentFractions, mass: float, stature: float) -> dict[str, float]:
    """What a lifter has by a segment table whatever their lengths: masses, centres and joints within segments.

    Args:
        fractions: of the table
        mass: body mass [kg]
        stature: standing height [m]

    Returns:
        by the attributes of Body [any]
    """
    return {
        "seat_to_hip": fractions.seat_to_hip * stature,
        "feet_mass": fractions.feet_mass * mass,
        "shanks_mass": fractions.shanks_mass * mass,
        "thighs_mass": fractions.thighs_mass * mass,
        "upper_mass": fractions.upper_mass * mass,
        "arms_mass": fractions.arms_mass * mass,
        "feet_centre": fractions.feet_centre,
        "shank_centre": fractions.shank_centre,
        "thigh_centre": fractions.thigh_centre,
        "upper_centre_at_bar": fractions.upper_centre_at_bar,
        "upper_centre_hanging": fractions.upper_centre_hanging,
        "arms_centre": fractions.arms_centre * stature,
        "lumbosacral_level": fractions.lumbosacral_level,
        "above_mass": fractions.above_mass * mass,
        "above_centre_at_bar": fractions.above_centre_at_bar,
        "above_centre_hanging": fractions.above_centre_hanging,
    }


def unusual_lengths(body: Body) -> tuple[str, ...]:
    """Names of the measured lengths outside 0.90 to 1.10 of those expected from stature, which are accepted."""
    usual = BODY.ranges.usual_length_ratio
    return tuple(
        name
        for name in body.measured
        if not usual.low <= getattr(body, name) / (getattr(BODY.lengths, name).value * body.stature) <= usual.high
    )


@cache
def segment_fractions(sex: Sex | None) -> SegmentFractions:
    """Masses and centres for one sex or the mean of both.

    The upper body is what the legs leave, so that the masses sum to the body's. Raising the arms to a bar lifts the
    centre of the head, arms and trunk by a known amount; the mass above the lumbosacral joint has the same arms, so
    its centre with the arms hanging follows.

    Source: de Leva 1996, Dumas & Wojtusch 2018.
    """
    if sex is None:
        both = zip(astuple(segment_fractions("female")), astuple(segment_fractions("male")), strict=True)
        return SegmentFractions(*((female + male) / 2 for female, male in both))
    table = BODY.female if sex == "female" else BODY.male
    upper_mass = 1.0 - table.thighs_mass.value - table.shanks_mass.value - table.feet_mass.value
    raised = upper_mass * (table.upper_centre_arms_at_bar.value - table.upper_centre_arms_hanging.value)
    return SegmentFractions(
        feet_mass=table.feet_mass.value,
        shanks_mass=table.shanks_mass.value,
        thighs_mass=table.thighs_mass.value,
        upper_mass=upper_mass,
        arms_mass=table.arms_mass.value,
        feet_centre=table.feet_centre.value,
        shank_centre=table.shank_centre.value,
        thigh_centre=table.thigh_centre.value,
        upper_centre_at_bar=table.upper_centre_arms_at_bar.value,
        upper_centre_hanging=table.upper_centre_arms_hanging.value,
        arms_centre=table.arms_centre.value,
        lumbosacral_level=table.lumbosacral_level.value,
        above_mass=table.above_lumbosacral_mass.value,
        above_centre_at_bar=table.above_lumbosacral_centre.value,
        above_centre_hanging=table.above_lumbosacral_centre.value - raised / table.above_lumbosacral_mass.value,
        seat_to_hip=table.seat_to_hip.value,
        hip_centres=table.hip_centres.value,
        hip_breadth=table.hip_breadth.value,
        shoulder_breadth=table.shoulder_breadth.value,
    )


def _measured(stature: float, lengths: SegmentLengths | None) -> dict[str, float]:
    if lengths is None:
        return {}
    accepted = BODY.ranges.accepted_length_ratio
    measured: dict[str, float] = {}
    for name in MEASURABLE:
        length: float | None = getattr(lengths, name)
        if length is None:
            continue
        usual = getattr(BODY.lengths, name).value * stature
        if not accepted.low <= length / usual <= accepted.high:
            raise Refusal.one(
                f"lengths/{name}",
                f"A {name} of {length:.3f} m does not go with a stature of {stature:.2f} m, where {usual:.3f} m is "
                "expected; measure again between the joints.",
                f"{accepted.low * usual:.3f} to {accepted.high * usual:.3f} m",
                change=into(length, accepted.low * usual, accepted.high * usual),
            )
        measured[name] = length
    return measured
