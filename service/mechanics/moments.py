"""Moments that hold a posture at rest: the weight of everything above a joint times its distance ahead of it.

Positive moments are extensor demands (plantar flexor at the ankle); a negative one is a demand on the flexors. Ankle,
knee and hip are per leg; the lumbosacral joint carries the whole trunk.
"""

from __future__ import annotations

from msgspec import Struct

from service.mechanics.balance import Carry
from service.mechanics.body import Body


class Moments(Struct, frozen=True, gc=False):
    """Joint moments of one posture with their moment arms.

    Attributes:
        ankle: plantar flexor moment, per leg [N·m]
        knee: extensor moment, per leg [N·m]
        hip: extensor moment, per leg [N·m]
        lumbosacral: extensor moment [N·m]
        ankle_arm: balance point ahead of the ankle [m]
        knee_arm: knee ahead of the balance point [m]
        hip_arm: balance point ahead of the hip [m]
        lumbosacral_arm: common centre of all weight above the lumbosacral joint, ahead of the joint [m]
    """

    ankle: float
    knee: float
    hip: float
    lumbosacral: float
    ankle_arm: float
    knee_arm: float
    hip_arm: float
    lumbosacral_arm: float


def mass_above_lumbosacral(body: Body, load: float, carry: Carry) -> float:
    """Mass that the spine carries at the lumbosacral joint; a load on a belt hangs below the joint.

    Args:
        body: the lifter
        load: mass of the implement [kg]
        carry: how the load is carried

    Returns:
        body mass above the joint and load carried through it [kg]
    """
    return body.above_mass if carry.kind == "pelvis" else body.above_mass + load
