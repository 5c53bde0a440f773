"""A lifter as linked segments: lengths, masses and centres from stature, body mass and sex.

Both legs, both feet and both arms are lumped. Lengths come from stature unless the lifter was measured; masses and
centres always come from body mass (figures and sources in knowledge/body).
"""

from __future__ import annotations

from functools import cache

import msgspec
from msgspec import Struct

from service.errors import Refusal
from service.knowledge.posture_rules import BODY, Sex

GRAVITY = 9.81  # [m/s²]

MEASURABLE = ("shank", "thigh", "trunk", "foot")


class SegmentLengths(Struct, frozen=True, gc=False):
    """A lifter's own measurements; None where none was taken.

    shank: ankle to knee joint [m]; thigh: knee to hip joint [m]; trunk: hip to shoulder joint [m]; foot: heel to toe
    [m].
    """

    shank: float | None = None
    thigh: float | None = None
    trunk: float | None = None
    foot: float | None = None


class Body(Struct, frozen=True, gc=False):
    """One lifter.

    mass: body mass [kg]; stature [m]; sex: table used, None for the mean of both.
    shank, thigh, trunk, foot: segment lengths [m]; ankle_height [m]; arm: shoulder to the grip of a straight arm [m].
    ankle_from_heel, ball_from_heel: along the floor [m]; seat_to_hip: hip joint above a seat [m].
    feet_mass, shanks_mass, thighs_mass: both sides [kg]; upper_mass: head, arms and trunk [kg]; arms_mass: both [kg].
    feet_centre: from the heel, fraction of foot length; shank_centre: from the knee; thigh_centre: from the hip [1].
    upper_centre_at_bar, upper_centre_hanging: from the hip, fraction of hip to shoulder, with the arms up at a bar or
    hanging along the trunk [1]; arms_centre: from the shoulder along a straight arm [m].
    lumbosacral_level: the joint's place on the line from hip to shoulder [1].
    above_mass: mass above the lumbosacral joint [kg]; above_centre_at_bar, above_centre_hanging: its centre, measured
    like upper_centre_at_bar [1].
    measured: names of the lengths that were measured rather than derived from stature.
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
    measured: tuple[str, ...] = ()


def build_body(mass: float, stature: float, sex: Sex | None = None, lengths: SegmentLengths | None = None) -> Body:
    """A lifter from stature and body mass, with any segment length replaced by the lifter's own measurement.

    mass: body mass [kg]; stature [m]; sex: which segment table, None for the mean of the female and the male one;
    lengths: own measurements [m].
    Raises Refusal for a mass or stature outside the accepted range, and for a length outside 0.80 to 1.20 of the one
    expected from stature: beyond that a landmark was probably mistaken (our judgement; nearly all people are within
    0.90 to 1.10).
    Source: Drillis & Contini 1966 (lengths), de Leva 1996 (masses, centres), Dumas & Wojtusch 2018 (lumbosacral joint).
    """
    ranges = BODY.ranges
    if not ranges.mass.low <= mass <= ranges.mass.high:
        raise Refusal.one("mass", f"Body mass {mass:g} kg is outside what is accepted.", ranges.mass.allowed("kg"))
    if not ranges.stature.low <= stature <= ranges.stature.high:
        raise Refusal.one("stature", f"Stature {stature:g} m is outside what is accepted.", ranges.stature.allowed("m"))
    measured = _measured(stature, lengths)
    table = segment_fractions(sex)
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
        seat_to_hip=table["seat_to_hip"] * stature,
        feet_mass=table["feet_mass"] * mass,
        shanks_mass=table["shanks_mass"] * mass,
        thighs_mass=table["thighs_mass"] * mass,
        upper_mass=table["upper_mass"] * mass,
        arms_mass=table["arms_mass"] * mass,
        feet_centre=table["feet_centre"],
        shank_centre=table["shank_centre"],
        thigh_centre=table["thigh_centre"],
        upper_centre_at_bar=table["upper_centre_arms_at_bar"],
        upper_centre_hanging=table["upper_centre_arms_hanging"],
        arms_centre=table["arms_centre"] * stature,
        lumbosacral_level=table["lumbosacral_level"],
        above_mass=table["above_lumbosacral_mass"] * mass,
        above_centre_at_bar=table["above_lumbosacral_centre"],
        above_centre_hanging=table["above_centre_hanging"],
        measured=tuple(measured),
    )


def unusual_lengths(body: Body) -> tuple[str, ...]:
    """The measured lengths outside 0.90 to 1.10 of those expected from stature: accepted, but worth a second look."""
    usual = BODY.ranges.usual_length_ratio
    return tuple(
        name
        for name in body.measured
        if not usual.low <= getattr(body, name) / (getattr(BODY.lengths, name).value * body.stature) <= usual.high
    )


@cache
def segment_fractions(sex: Sex | None) -> dict[str, float]:
    """Masses and centres as fractions, for one sex or the mean of both.

    The upper body is what the legs leave, so that the masses sum to the body's. Raising the arms to a bar lifts the
    centre of the head, arms and trunk by a known amount; the mass above the lumbosacral joint holds the same arms, so
    its centre with the arms hanging follows.
    """
    if sex is None:
        female, male = segment_fractions("female"), segment_fractions("male")
        return {name: (female[name] + male[name]) / 2 for name in female}
    sourced = msgspec.structs.asdict(getattr(BODY, sex))
    table: dict[str, float] = {name: figure.value for name, figure in sourced.items()}
    table["upper_mass"] = 1.0 - table["thighs_mass"] - table["shanks_mass"] - table["feet_mass"]
    raised = table["upper_mass"] * (table["upper_centre_arms_at_bar"] - table["upper_centre_arms_hanging"])
    table["above_centre_hanging"] = table["above_lumbosacral_centre"] - raised / table["above_lumbosacral_mass"]
    return table


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
            )
        measured[name] = length
    return measured
