"""A second statics, summed from the top of the body down, for comparison with the service's own from the ground up.

Posture and moments of one setup at one thigh angle, written as a textbook would and without regard to speed.
"""

from __future__ import annotations

from math import cos, sin

from service.mechanics.balance import Carry, supported_moments, upper_body_statics
from service.mechanics.body import GRAVITY, Body
from service.mechanics.moments import Moments, mass_above_lumbosacral
from service.mechanics.posture import Posture, joint_positions
from service.mechanics.setups import Setup, limits_binding, shin_at


def moments_at(body: Body, setup: Setup, thigh_angle: float) -> tuple[Posture, Moments]:
    """Posture and moments of a setup at one thigh angle [rad], of a split stance that of its bottom."""
    if setup.split is not None:
        posture = split_posture(body, setup, thigh_angle, setup.split.trunk_lean)
        ankle, knee, hip = lead_leg_moments(body, posture, setup.lead_share * (body.mass + setup.load))
    else:
        posture = squat_posture(body, setup, thigh_angle)
        ankle, knee, hip = bilateral_moments(body, posture, setup.load, setup.carry)
        ankle, knee = about_the_legs_own_axes(setup, (ankle, knee))
    lumbosacral = lumbosacral_moment(body, posture, setup.load, setup.carry)
    return posture, Moments(
        ankle,
        knee,
        hip,
        lumbosacral,
        posture.balance_point - posture.ankle.x,
        posture.knee.x - posture.balance_point,
        posture.balance_point - posture.hip.x,
        lumbosacral / (GRAVITY * mass_above_lumbosacral(body, setup.load, setup.carry)),
    )


def about_the_legs_own_axes(setup: Setup, ahead: tuple[float, float]) -> tuple[float, float]:
    """Moments of ankle and knee about the axes of foot and thigh [N·m], from those about the mediolateral axis.

    What is aside is to what is ahead as the sine of a segment's azimuth to its cosine.
    """
    stance = setup.stance
    at_ankle = ahead[0] / stance.foot_ahead
    of_shank = (ahead[1] + ahead[0]) / stance.shank_ahead
    aside = of_shank * stance.shank_aside - at_ankle * stance.foot_aside
    return at_ankle, ahead[1] * stance.thigh_ahead + aside * stance.thigh_aside


def squat_posture(body: Body, setup: Setup, thigh_angle: float) -> Posture:
    """The posture on both feet in which body and load balance; that of a pull, whose lean closed it, balances as well.

    With the legs placed, the upper body and what it carries must supply a first moment N about the hip, and they supply
    A sin T + B cos T; hence T = asin(N / sqrt(A² + B²)) - atan2(B, A).
    """
    shin_angle = shin_at(setup, thigh_angle)
    pressure = setup.balance * body.foot
    balance_x = setup.stance.foot_ahead * pressure
    legs = supported_moments(
        body,
        body.mass + setup.load,
        shin_angle,
        thigh_angle,
        pressure,
        stance=setup.stance,
    )
    return joint_positions(
        body,
        setup.carry,
        shin_angle,
        thigh_angle,
        upper_body_statics(body, setup.load, setup.carry, balance_x).lean(legs.hip, legs.hip_x),
        hip_x=legs.hip_x,
        balance_x=balance_x,
        pitch=setup.pitch,
        limited_by=limits_binding(setup, shin_angle),
        stance=setup.stance,
    )


def split_posture(body: Body, setup: Setup, thigh_angle: float, trunk_lean: float) -> Posture:
    """The lead leg and the trunk at its lean [rad]."""
    shin_angle = shin_at(setup, thigh_angle)
    return joint_positions(
        body,
        setup.carry,
        shin_angle,
        thigh_angle,
        trunk_lean,
        hip_x=body.ankle_from_heel + body.shank * sin(shin_angle) - body.thigh * cos(thigh_angle),
        balance_x=setup.balance * body.foot,
        pitch=setup.pitch,
        limited_by=limits_binding(setup, shin_angle),
    )


def bilateral_moments(body: Body, posture: Posture, load: float, carry: Carry) -> tuple[float, float, float]:
    """Extensor moments at ankle, knee and hip, per leg [N·m], of a posture on both feet."""
    ankle_x, knee_x, hip_x, load_x = posture.ankle.x, posture.knee.x, posture.hip.x, posture.load_point.x
    thigh_x = hip_x + body.thigh_centre * (knee_x - hip_x)
    shank_x = knee_x + body.shank_centre * (ankle_x - knee_x)
    upper = upper_body_moment(body, posture.trunk_lean, carry)
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
    per_leg = GRAVITY / 2
    return per_leg * above_ankle, -per_leg * above_knee, per_leg * above_hip


def lead_leg_moments(body: Body, posture: Posture, support: float) -> tuple[float, float, float]:
    """Extensor moments at ankle, knee and hip [N·m] of a lead leg whose foot bears the weight of a mass [kg]."""
    leg = supported_moments(body, support, posture.shin_angle, posture.thigh_angle, posture.balance_point, legs=0.5)
    return GRAVITY * leg.ankle, GRAVITY * leg.knee, GRAVITY * leg.hip


def upper_body_moment(body: Body, trunk_lean: float, carry: Carry) -> float:
    """First moment of head, arms and trunk about the hip [kg·m] at a trunk lean [rad].

    Arms that hang act on the line from the shoulder to the load, arms that reach forward ahead of it.
    """
    if carry.kind == "trunk":
        return body.upper_mass * body.upper_centre_at_bar * body.trunk * sin(trunk_lean)
    arms = body.arms_mass * body.arms_centre
    along = body.upper_mass * body.upper_centre_hanging * body.trunk + arms
    return along * sin(trunk_lean) + (arms if carry.kind == "pelvis" else -arms * carry.ahead / body.arm)


def lumbosacral_moment(body: Body, posture: Posture, load: float, carry: Carry) -> float:
    """Extensor moment at the lumbosacral joint [N·m]; a belt's load passes it by."""
    lean = sin(posture.trunk_lean)
    if carry.kind == "trunk":
        moment = body.above_mass * (body.above_centre_at_bar - body.lumbosacral_level) * body.trunk * lean
    else:
        arms = body.arms_mass * body.arms_centre
        trunk_alone = body.above_mass * (body.above_centre_hanging - body.lumbosacral_level) * body.trunk
        moment = (trunk_alone + arms) * lean - arms * carry.ahead / body.arm
        if carry.kind == "pelvis":
            return GRAVITY * (moment + arms)
    return GRAVITY * (moment + load * (posture.load_point.x - posture.lumbosacral.x))
