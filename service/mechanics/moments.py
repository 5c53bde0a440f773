"""Moments that hold a posture at rest: the weight of everything above a joint times its distance ahead of it.

Positive moments are extensor demands (plantar flexor at the ankle); a negative one is asked of the muscles on the other
side. Ankle, knee and hip are per leg, the lumbosacral joint carries the whole trunk.
"""

from __future__ import annotations

from math import sin

from msgspec import Struct

from service.mechanics.balance import Carry, supported_moments, upper_body_moment
from service.mechanics.body import GRAVITY, Body
from service.mechanics.posture import Posture


class Moments(Struct, frozen=True, gc=False):
    """Joint moments of a posture on both feet.

    ankle, knee, hip: per leg [N·m]; lumbosacral [N·m].
    ankle_arm, knee_arm, hip_arm: horizontal distance from the joint to the plumb line over the balance point, positive
    where it loads the extensors [m]; lumbosacral_arm: from the joint to the common centre of all weight above it [m].
    """

    ankle: float
    knee: float
    hip: float
    lumbosacral: float
    ankle_arm: float
    knee_arm: float
    hip_arm: float
    lumbosacral_arm: float


class LegMoments(Struct, frozen=True, gc=False):
    """Joint moments [N·m] and moment arms [m] of the lead leg of a split stance."""

    ankle: float
    knee: float
    hip: float
    ankle_arm: float
    knee_arm: float
    hip_arm: float


def bilateral_moments(body: Body, posture: Posture, load: float, carry: Carry) -> Moments:
    """Joint moments of a posture on both feet, summed from the top down.

    load [kg]; carry: as given to squat_posture.
    Source: statics; the lumbosacral joint lies on the line from hip to shoulder.
    """
    ankle_x, knee_x, hip_x = posture.ankle.x, posture.knee.x, posture.hip.x
    load_x = posture.load_point.x
    thigh_x = hip_x + body.thigh_centre * (knee_x - hip_x)
    shank_x = knee_x + body.shank_centre * (ankle_x - knee_x)
    along, forward = upper_body_moment(body, carry)
    upper = along * sin(posture.trunk_lean) + forward
    above_hip = upper + load * (load_x - hip_x)
    above_knee = (
        upper + body.upper_mass * (hip_x - knee_x) + load * (load_x - knee_x) + body.thighs_mass * (thigh_x - knee_x)
    )
    above_ankle = (
        upper
        + body.upper_mass * (hip_x - ankle_x)
        + load * (load_x - ankle_x)
        + body.thighs_mass * (thigh_x - ankle_x)
        + body.shanks_mass * (shank_x - ankle_x)
    )
    lumbosacral = lumbosacral_moment(body, posture.trunk_lean, load, carry, load_x - posture.lumbosacral.x)
    weight = GRAVITY * mass_above_lumbosacral(body, load, carry)
    balance_x = posture.balance_point
    per_leg = GRAVITY / 2
    return Moments(
        per_leg * above_ankle,
        -per_leg * above_knee,
        per_leg * above_hip,
        lumbosacral,
        balance_x - ankle_x,
        knee_x - balance_x,
        balance_x - hip_x,
        lumbosacral / weight,
    )


def lumbosacral_moment(body: Body, trunk_lean: float, load: float, carry: Carry, load_arm: float) -> float:
    """Extensor moment at the lumbosacral joint [N·m].

    trunk_lean [rad]; load [kg]; load_arm: how far the load's line passes ahead of the joint [m], ignored for a belt.
    Source: statics, with the mass above the joint of Dumas & Wojtusch 2018.
    """
    lean = sin(trunk_lean)
    if carry.kind == "trunk":
        moment = body.above_mass * (body.above_centre_at_bar - body.lumbosacral_level) * body.trunk * lean
    else:
        arms = body.arms_mass * body.arms_centre
        trunk_alone = body.above_mass * (body.above_centre_hanging - body.lumbosacral_level) * body.trunk
        moment = (trunk_alone + arms) * lean
        if carry.kind == "pelvis":
            return GRAVITY * (moment + arms)
    return GRAVITY * (moment + load * load_arm)


def mass_above_lumbosacral(body: Body, load: float, carry: Carry) -> float:
    """Body mass and load that the spine carries at the lumbosacral joint [kg]: a belt hangs its load below it."""
    return body.above_mass if carry.kind == "pelvis" else body.above_mass + load


def lead_leg_moments(
    body: Body,
    lead_share: float,
    system_mass: float,
    shin_angle: float,
    thigh_angle: float,
    *,
    balance: float = 0.48,
) -> LegMoments:
    """Joint moments of the lead leg in a split stance, summed from the ground up.

    The lead foot's vertical force is its share of the system weight; horizontal forces between the feet are left out.
    lead_share: of body and load [1]; system_mass: body and load [kg]; shin_angle, thigh_angle [rad]; balance: centre of
    pressure under the lead foot, fraction of foot length from the heel [1].
    Source: statics.
    """
    pressure_x = balance * body.foot
    leg = supported_moments(body, lead_share * system_mass, shin_angle, thigh_angle, pressure_x, legs=0.5)
    knee_x = body.ankle_from_heel + body.shank * sin(shin_angle)
    return LegMoments(
        GRAVITY * leg.ankle,
        GRAVITY * leg.knee,
        GRAVITY * leg.hip,
        pressure_x - body.ankle_from_heel,
        knee_x - pressure_x,
        pressure_x - leg.hip_x,
    )
