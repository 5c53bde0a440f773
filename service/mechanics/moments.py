"""Moments that hold a posture at rest: the weight of everything above a joint times its distance ahead of it.

Positive moments are extensor demands (plantar flexor at the ankle); a negative one is asked of the muscles on the other
side. Ankle, knee and hip are per leg, the lumbosacral joint carries the whole trunk.
"""

from __future__ import annotations

from msgspec import Struct

from service.mechanics.balance import Carry
from service.mechanics.body import Body


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


def mass_above_lumbosacral(body: Body, load: float, carry: Carry) -> float:
    """Body mass and load that the spine carries at the lumbosacral joint [kg]: a belt hangs its load below it."""
    return body.above_mass if carry.kind == "pelvis" else body.above_mass + load
