"""What a leg that is turned out holds to the side: the knee out of its plane, and what a lateral floor force takes off.

Both feet may push apart or together by equal forces, which statics leaves open and no lifter feels as imbalance. Such
a force changes no moment about the mediolateral axis, no trunk lean and nothing at the spine. It does change the
moments to the side, so these are spans: without it, and with the one that empties the knee out of its plane. Measured
forces point inward, most so in wide stances with the toes far out (sinclair_2022a, abstract).

All at the bottom, per leg; one leg described, the other mirrored.
"""

from __future__ import annotations

from math import cos, radians, sin, tan

from msgspec import Struct

from service.knowledge.posture_rules import POSTURES
from service.mechanics.body import Body
from service.mechanics.posture import Posture
from service.mechanics.setups import Technique
from service.mechanics.stance import Stance
from service.mechanics.statics import Solution, Statics

_USUAL_LIMIT = radians(POSTURES.stance.usual_azimuth_limit.value)
_ASK_TOE_OUT = radians(POSTURES.stance.ask_toe_out.value)
_LARGEST_TWIST = radians(POSTURES.stance.largest_knee_twist.value)


class Frontal(Struct, frozen=True, gc=False):
    """Moments of one leg to the side at the bottom.

    Attributes:
        knee_out_of_plane: moment about the thigh's horizontal direction without a lateral force; positive where the
            floor's force passes outside the thigh's plane and pushes the knee inward [N·m]
        lateral_force: force of the floor on the foot, inward positive, that makes it nil [N]
        knee: extensor moment of the knee with that force [N·m]
        hip_adductor: adductor moment of the hip with that force [N·m]
    """

    knee_out_of_plane: float
    lateral_force: float
    knee: float
    hip_adductor: float


def frontal_moments(body: Body, statics: Statics, solution: Solution, posture: Posture) -> Frontal:
    """What the leg holds to the side, and the lateral force that empties the knee out of its plane.

    Args:
        body: the lifter
        statics: of the setup
        solution: at the bottom
        posture: at the bottom

    Source: statics.
    """
    stance, legs = statics.setup.stance, statics.legs
    of_shank = legs.knee_per_reach * body.shank * sin(solution.shin_angle)
    aside = of_shank * sin(stance.thigh - stance.shank) - legs.ankle * sin(stance.thigh - stance.toe_out)
    out_of_plane = statics.per_leg * aside
    force = out_of_plane / (posture.knee.y * cos(stance.thigh))
    return Frontal(
        out_of_plane,
        force,
        solution.knee + out_of_plane * tan(stance.thigh),
        solution.hip_adductor - force * posture.hip.y,
    )


def stance_cautions(stance: Stance, technique: Technique) -> list[str]:
    """Codes of the cautions that a stance asks for; without a stated limit of the hip nothing is refused for it.

    Args:
        stance: as resolved
        technique: as requested, with the lifter's own limits
    """
    codes = []
    if stance.thigh >= _USUAL_LIMIT:
        codes.append("thighs_far_out")
        if technique.hip_abduction is None:
            codes.append("hip_abduction_not_stated")
    if technique.hip_external_rotation is None and stance.toe_out > _ASK_TOE_OUT:
        codes.append("hip_rotation_not_stated")
    if abs(stance.thigh - stance.shank) > _LARGEST_TWIST:
        codes.append("knee_twisted")
    return codes
