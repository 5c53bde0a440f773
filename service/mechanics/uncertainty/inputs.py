"""How far the uncertain inputs of a demand are moved."""

from __future__ import annotations

from msgspec import Struct


class InputSteps(Struct, frozen=True, gc=False, kw_only=True):
    """Steps by which the inputs are moved; nil where an input is certain or does not enter.

    Attributes:
        shank: ankle joint to knee joint [m]
        thigh: knee joint to hip joint, moved together with the trunk [m]
        trunk: hip joint to shoulder joint, moved together with the thigh [m]
        foot: heel to toe, relative to its length [1]
        shin_angle: preferred shin angle [rad]
        balance: balance point of the body itself, as a fraction of foot length [1]
        bar_anterior: bar ahead of the shoulder joint, for a stature of 1.75 m [m]
        hip_centres: distance between the hip joints [m]
        abduction: azimuth of the thighs [rad]
        lumbosacral_level: lumbosacral joint from the hip, as a fraction of trunk length [1]
        above_mass: body mass above the lumbosacral joint [kg]
        thigh_angle: thigh at the bottom about the depth asked for [rad]
    """

    shank: float = 0.0
    thigh: float = 0.0
    trunk: float = 0.0
    foot: float = 0.0
    shin_angle: float = 0.0
    balance: float = 0.0
    bar_anterior: float = 0.0
    hip_centres: float = 0.0
    abduction: float = 0.0
    lumbosacral_level: float = 0.0
    above_mass: float = 0.0
    thigh_angle: float = 0.0
