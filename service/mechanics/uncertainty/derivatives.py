"""Derivatives of balance: how one posture changes with the terms of its statics."""

from __future__ import annotations

from math import cos, sin
from typing import Final, TypeAlias

from msgspec import Struct

from service.mechanics.body import GRAVITY
from service.mechanics.peaks import MOMENTS
from service.mechanics.stance import SAGITTAL, Stance
from service.mechanics.statics import Solution, Statics

RESULTS: Final = (*MOMENTS, "trunk_lean")
"""The results of a setup: the peaks of its moments [N·m], and the trunk lean at the bottom [rad]."""

Deviation: TypeAlias = tuple[float, float, float, float, float, float, float]
"""Changes of the results with one input, in the order of RESULTS: one column of what a setup's results depend on."""


def times(deviation: Deviation, factor: float) -> Deviation:
    """A multiple of a deviation.

    Args:
        deviation: to be multiplied
        factor: [1], or in the unit of the input where it is a derivative
    """
    if not factor:
        return NIL
    ankle, knee, hip, adductor, resultant, spine, lean = deviation
    return (
        factor * ankle,
        factor * knee,
        factor * hip,
        factor * adductor,
        factor * resultant,
        factor * spine,
        factor * lean,
    )


def plus(deviation: Deviation, other: Deviation, factor: float) -> Deviation:
    """A deviation with a multiple of another one added.

    Args:
        deviation: to which it is added
        other: the one to add
        factor: its multiple [1], or in the unit of the input where `other` is a derivative
    """
    ankle, knee, hip, adductor, resultant, spine, lean = deviation
    more_ankle, more_knee, more_hip, more_adductor, more_resultant, more_spine, more_lean = other
    return (
        ankle + factor * more_ankle,
        knee + factor * more_knee,
        hip + factor * more_hip,
        adductor + factor * more_adductor,
        resultant + factor * more_resultant,
        spine + factor * more_spine,
        lean + factor * more_lean,
    )


Turn = tuple[float, float]
"""Changes of the azimuths of thigh and shank [rad]."""

UNTURNED: Turn = (0.0, 0.0)

NIL: Deviation = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def of_spine(lumbosacral: float, trunk_lean: float = 0.0) -> Deviation:
    """The deviation of an input that changes nothing below the spine.

    Args:
        lumbosacral: change of the moment [N·m]
        trunk_lean: change of the trunk's angle [rad]
    """
    return (0.0, 0.0, 0.0, 0.0, 0.0, lumbosacral, trunk_lean)


class Response(Struct, frozen=True, gc=False):
    """The derivatives at one posture.

    Attributes:
        per_leg: factor from a first moment of the computed legs to a moment per leg [m/s²]
        stance: how far the legs are turned out
        knee_reach: knee from the ankle along the floor [m]
        knee_out_of_plane: first moment at the knee about the thigh's horizontal direction [kg·m]
        thigh_reach: hip from the knee along the floor [m]
        extensor_share: change of the hip's resultant with its extensor moment [1]
        adductor_share: change of the hip's resultant with its adductor moment [1]
        knee_per_reach: change of the knee's first moment with the knee's reach [kg]
        both_per_reach: change of the sum of the first moments at knee and hip with the thigh's reach [kg]
        hanging: load that keeps to its own plumb line [kg]
        spine_hanging: load on its own plumb line that the spine carries [kg]
        lean_per_moment: change of the trunk lean with the first moment that the hip has to hold [rad/(kg·m)]
        spine_per_lean: change of the first moment at the lumbosacral joint with the lean [kg·m/rad]
    """

    per_leg: float
    stance: Stance
    knee_reach: float
    knee_out_of_plane: float
    thigh_reach: float
    extensor_share: float
    adductor_share: float
    knee_per_reach: float
    both_per_reach: float
    hanging: float
    spine_hanging: float
    lean_per_moment: float
    spine_per_lean: float

    def to(
        self,
        *,
        ankle: float = 0.0,
        ankle_x: float = 0.0,
        shank: float = 0.0,
        thigh: float = 0.0,
        turn: Turn = UNTURNED,
        hip_moment: float = 0.0,
        spine_moment: float = 0.0,
    ) -> Deviation:
        """The response to small changes.

        Args:
            ankle: change of the first moment at the ankle in the foot's plane [kg·m]
            ankle_x: change of the ankle's position ahead of the load's line [m]
            shank: change of the knee's distance from the ankle along the floor [m]
            thigh: change of the hip's distance from the knee along the floor [m]
            turn: changes of the azimuths of thigh and shank [rad]
            hip_moment: change of the first moment about the hip of upper body and load at an unchanged lean [kg·m]
            spine_moment: change of their first moment about the lumbosacral joint at an unchanged lean [kg·m]
        """
        stance, per_leg = self.stance, self.per_leg
        thigh_turn, shank_turn = turn
        thigh_swept, shank_swept = self.thigh_reach * thigh_turn, self.knee_reach * shank_turn
        shank_ahead = stance.shank_ahead * shank - stance.shank_aside * shank_swept
        shank_aside = stance.shank_aside * shank + stance.shank_ahead * shank_swept
        thigh_ahead = stance.thigh_ahead * thigh - stance.thigh_aside * thigh_swept
        thigh_aside = stance.thigh_aside * thigh + stance.thigh_ahead * thigh_swept
        knee_ahead = self.knee_per_reach * shank_ahead - stance.foot_ahead * ankle
        knee_aside = self.knee_per_reach * shank_aside - stance.foot_aside * ankle
        knee = stance.thigh_ahead * knee_ahead + stance.thigh_aside * knee_aside - self.knee_out_of_plane * thigh_turn
        hip = self.both_per_reach * thigh_ahead - knee_ahead
        aside = self.both_per_reach * thigh_aside - knee_aside
        hip_x = ankle_x + shank_ahead - thigh_ahead
        lean = self.lean_per_moment * (hip + self.hanging * hip_x - hip_moment)
        spine = self.spine_per_lean * lean + spine_moment - self.spine_hanging * hip_x
        return (
            per_leg * ankle,
            per_leg * knee,
            per_leg * hip,
            per_leg * aside,
            per_leg * (self.extensor_share * hip + self.adductor_share * aside),
            GRAVITY * spine,
            lean,
        )


def response_at(statics: Statics, solution: Solution, knee_reach: float, thigh_reach: float) -> Response:
    """The derivatives at a posture that is not at the edge of tipping, where the lean changes without bounds.

    Args:
        statics: of the setup
        solution: at the posture
        knee_reach: knee from the ankle along the floor [m]
        thigh_reach: hip from the knee along the floor [m]
    """
    legs, upper, stance = statics.legs, statics.upper, statics.setup.stance
    lean = solution.trunk_lean
    extensor_share, adductor_share, out_of_plane = 1.0, 0.0, 0.0
    if stance is not SAGITTAL:
        resultant = solution.hip_resultant
        if resultant:
            extensor_share, adductor_share = solution.hip / resultant, solution.hip_adductor / resultant
        of_shank = legs.knee_per_reach * knee_reach
        out_of_plane = of_shank * sin(stance.thigh - stance.shank) - legs.ankle * sin(stance.thigh - stance.toe_out)
    return Response(
        statics.per_leg,
        stance,
        knee_reach,
        out_of_plane,
        thigh_reach,
        extensor_share,
        adductor_share,
        legs.knee_per_reach,
        legs.both_per_reach,
        upper.hanging,
        upper.spine_hanging,
        1.0 / (upper.amplitude * cos(lean + upper.offset)),
        upper.spine_along * cos(lean) - upper.spine_across * sin(lean),
    )
