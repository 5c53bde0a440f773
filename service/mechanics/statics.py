"""The statics of one setup: what depth leaves alone is summed once, then any depth is a handful of products."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, sin

from msgspec import Struct

from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.balance import LegStatics, UpperBodyStatics, leg_statics, upper_body_statics
from service.mechanics.body import GRAVITY, Body
from service.mechanics.posture import shin_shape
from service.mechanics.setups import Setup, shin_at

STANDING = pi / 2  # [rad], thigh angle
_RANGE_STEPS = 6  # postures looked at from the bottom to just short of standing


class Solution(Struct, frozen=True, gc=False):
    """One posture of a setup in numbers.

    ankle, knee, hip (per leg), lumbosacral: moments, positive for the extensors [N·m]; trunk_lean, shin_angle [rad];
    knee_x, hip_x: from the heel [m].
    """

    ankle: float
    knee: float
    hip: float
    lumbosacral: float
    trunk_lean: float
    shin_angle: float
    knee_x: float
    hip_x: float


Station = tuple[float, float, float]
"""A thigh angle on the way [rad], its cosine, and the usual squat's shin angle there (shin_shape)."""


def stations_above(bottom: float) -> tuple[Station, ...]:
    """The depths that are looked at from just above a bottom [rad] to just short of standing."""
    return _USUAL_STATIONS.get(bottom) or _stations_above(bottom)


def _stations_above(bottom: float) -> tuple[Station, ...]:
    step = (STANDING - bottom) / _RANGE_STEPS
    angles = [bottom + number * step for number in range(1, _RANGE_STEPS)]
    return tuple((angle, cos(angle), shin_shape(angle)) for angle in angles)


_USUAL_STATIONS = {
    rule.thigh_angle: _stations_above(rule.thigh_angle)
    for rule in EXERCISE_RULES.values()
    if rule.thigh_angle is not None
}


class Statics(Struct, frozen=True, gc=False):
    """One lifter in one setup.

    per_leg: weight of a first moment, for the legs that are counted [m/s²]; shank; thigh: as far as it lies in the
    sagittal plane; ankle_x, balance_x: from the heel [m]; chosen_lean: split stances, else None: it follows [rad].
    """

    setup: Setup
    legs: LegStatics
    upper: UpperBodyStatics
    per_leg: float
    shank: float
    thigh: float
    ankle_x: float
    balance_x: float
    chosen_lean: float | None

    def at(self, thigh_angle: float) -> Solution:
        """The posture at one thigh angle [rad]; raises Refusal when it cannot be balanced."""
        shin_angle = shin_at(self.setup, thigh_angle)
        legs, upper, per_leg = self.legs, self.upper, self.per_leg
        knee_reach = self.shank * sin(shin_angle)
        thigh_reach = self.thigh * cos(thigh_angle)
        knee = legs.knee + legs.knee_per_reach * knee_reach
        hip = legs.both_per_reach * thigh_reach - knee
        knee_x = self.ankle_x + knee_reach
        hip_x = knee_x - thigh_reach
        lean = upper.lean(hip, hip_x) if self.chosen_lean is None else self.chosen_lean
        spine = GRAVITY * upper.lumbosacral(lean, hip_x)
        return Solution(per_leg * legs.ankle, per_leg * knee, per_leg * hip, spine, lean, shin_angle, knee_x, hip_x)

    def above_bottom(self, stations: Sequence[Station]) -> list[tuple[float, float, float]]:
        """Moments at knee, hip and lumbosacral joint [N·m] on the way to standing: at() without the rest of it.

        Raises Refusal when one of the postures cannot be balanced.
        """
        setup, legs, upper, per_leg = self.setup, self.legs, self.upper, self.per_leg
        shank, thigh, ankle_x, chosen_lean = self.shank, self.thigh, self.ankle_x, self.chosen_lean
        at_ankle, knee_per_reach, both_per_reach = legs.knee, legs.knee_per_reach, legs.both_per_reach
        shin, limit, shape_at_bottom = setup.shin_angle, setup.shin_limit, setup.shape_at_bottom
        moments = []
        for _, cosine, shape in stations:
            knee_reach = shank * sin(min(shin * (shape / shape_at_bottom), limit))
            thigh_reach = thigh * cosine
            knee = at_ankle + knee_per_reach * knee_reach
            hip = both_per_reach * thigh_reach - knee
            hip_x = ankle_x + knee_reach - thigh_reach
            lean = upper.lean(hip, hip_x) if chosen_lean is None else chosen_lean
            moments.append((per_leg * knee, per_leg * hip, GRAVITY * upper.lumbosacral(lean, hip_x)))
        return moments


def statics_of(body: Body, setup: Setup, share: float) -> Statics:
    """A lifter in a setup; share: of the system weight on the lead leg, split stances only [1]."""
    mass = body.mass + setup.load
    balance_x = setup.balance * body.foot
    split = setup.family == "split"
    return Statics(
        setup,
        leg_statics(body, share * mass, balance_x, 0.5) if split else leg_statics(body, mass, balance_x),
        upper_body_statics(body, setup.load, setup.carry, balance_x),
        GRAVITY if split else GRAVITY / 2,
        body.shank,
        setup.thigh_projection * body.thigh,
        body.ankle_from_heel,
        balance_x,
        setup.trunk_lean if split else None,
    )
