"""Statics of one setup: terms that do not depend on depth are summed once, and each depth then costs a few products."""

from __future__ import annotations

from math import copysign, cos, hypot, pi, sin

from msgspec import Struct

from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.balance import LegStatics, UpperBodyStatics, leg_statics, upper_body_statics
from service.mechanics.body import GRAVITY, Body
from service.mechanics.posture import shin_shape
from service.mechanics.setups import Setup, shin_at

STANDING = pi / 2  # [rad], thigh angle
_RANGE_STEPS = 6  # equal steps of the thigh angle from the bottom to standing


class Solution(Struct, frozen=True, gc=False):
    """Moments and angles of a setup at one thigh angle.

    Attributes:
        ankle: plantar flexor moment, per leg [N·m]
        knee: extensor moment about the normal of the thigh's vertical plane, per leg [N·m]
        hip: extensor moment, about the mediolateral axis, per leg [N·m]
        hip_adductor: adductor moment, about the axis ahead, without a lateral floor force, per leg [N·m]
        lumbosacral: extensor moment [N·m]
        trunk_lean: trunk from the vertical, forward positive [rad]
        shin_angle: shin from the vertical, knee forward positive [rad]
        knee_x: knee ahead of the heel [m]
        hip_x: hip ahead of the heel [m]
    """

    ankle: float
    knee: float
    hip: float
    hip_adductor: float
    lumbosacral: float
    trunk_lean: float
    shin_angle: float
    knee_x: float
    hip_x: float

    @property
    def hip_resultant(self) -> float:
        """Extensor and adductor moment of the hip together, with the sign of the extensor moment, per leg [N·m]."""
        return copysign(hypot(self.hip, self.hip_adductor), self.hip)


class Stations(Struct, frozen=True, gc=False):
    """Depths between the bottom and standing, deepest first.

    Attributes:
        thigh_angle: thigh above the horizontal [rad]
        thigh_cosine: cosine of the thigh angle [1]
        shin_shape: the usual squat's shin angle there, as a fraction of the one at a level thigh [1]
    """

    thigh_angle: tuple[float, ...]
    thigh_cosine: tuple[float, ...]
    shin_shape: tuple[float, ...]


class MomentsAbove(Struct, frozen=True, gc=False):
    """Moments at depths between the bottom and standing, in the order of the stations.

    Attributes:
        knee: extensor moments, per leg [N·m]
        hip: extensor moments, per leg [N·m]
        lumbosacral: extensor moments [N·m]
    """

    knee: list[float]
    hip: list[float]
    lumbosacral: list[float]


def stations_above(bottom: float) -> Stations:
    """The depths from just above a bottom to just short of standing at which moments are computed.

    Args:
        bottom: thigh angle at the bottom [rad]
    """
    return _USUAL_STATIONS.get(bottom) or _stations_above(bottom)


def _stations_above(bottom: float) -> Stations:
    step = (STANDING - bottom) / _RANGE_STEPS
    angles = tuple([bottom + number * step for number in range(1, _RANGE_STEPS)])
    return Stations(angles, tuple(map(cos, angles)), tuple(map(shin_shape, angles)))


_USUAL_STATIONS = {
    rule.thigh_angle: _stations_above(rule.thigh_angle)
    for rule in EXERCISE_RULES.values()
    if rule.thigh_angle is not None
}


class Statics(Struct, frozen=True, gc=False):
    """One lifter in one setup.

    A leg that is turned out bends its knee in the vertical plane of the thigh, and what ankle and shank contribute
    counts there by the cosine of the angle between the planes.

    Attributes:
        setup: as resolved
        legs: first moments at the joints of the leg in its own plane
        upper: first moments of the upper body and its load
        per_leg: factor from a first moment of the computed legs to a moment per leg [m/s²]
        shank: ankle joint to knee joint, as it lies in the sagittal plane [m]
        thigh: knee joint to hip joint, as it lies in the sagittal plane [m]
        ankle_x: ankle ahead of the heel [m]
        balance_x: balance point ahead of the heel [m]
        ankle_ahead: part of the ankle's first moment about the mediolateral axis [kg·m]
        ankle_at_knee: part of it about the knee's axis [kg·m]
        shank_at_knee: first moment about the knee's axis for the sine of the shin angle [kg·m]
        ankle_aside: part of the ankle's first moment about the axis ahead [kg·m]
        shank_aside: first moment about the axis ahead for the sine of the shin angle [kg·m]
        thigh_aside: first moment about the axis ahead for the cosine of the thigh angle [kg·m]
        chosen_lean: trunk lean of a split stance or pull [rad]; None where the lean follows from balance
    """

    setup: Setup
    legs: LegStatics
    upper: UpperBodyStatics
    per_leg: float
    shank: float
    thigh: float
    ankle_x: float
    balance_x: float
    ankle_ahead: float
    ankle_at_knee: float
    shank_at_knee: float
    ankle_aside: float
    shank_aside: float
    thigh_aside: float
    chosen_lean: float | None

    def at(self, thigh_angle: float) -> Solution:
        """Moments and angles at one depth, which of a pull is its bottom.

        Args:
            thigh_angle: thigh above the horizontal [rad]

        Raises:
            Refusal: when no trunk lean balances the posture
        """
        shin_angle = shin_at(self.setup, thigh_angle)
        legs, upper, per_leg = self.legs, self.upper, self.per_leg
        shin_sine, thigh_cosine = sin(shin_angle), cos(thigh_angle)
        knee_reach = self.shank * shin_sine
        thigh_reach = self.thigh * thigh_cosine
        knee = self.shank_at_knee * shin_sine - self.ankle_at_knee
        hip = legs.both_per_reach * thigh_reach - (legs.knee_per_reach * knee_reach - self.ankle_ahead)
        adductor = self.thigh_aside * thigh_cosine - self.shank_aside * shin_sine + self.ankle_aside
        knee_x = self.ankle_x + knee_reach
        hip_x = knee_x - thigh_reach
        lean = upper.lean(hip, hip_x) if self.chosen_lean is None else self.chosen_lean
        return Solution(
            per_leg * legs.ankle,
            per_leg * knee,
            per_leg * hip,
            per_leg * adductor,
            GRAVITY * upper.lumbosacral(lean, hip_x),
            lean,
            shin_angle,
            knee_x,
            hip_x,
        )

    def hip_adductor(self, thigh_angle: float) -> float:
        """The adductor moment of `at` alone, per leg [N·m].

        Args:
            thigh_angle: thigh above the horizontal [rad]
        """
        shin_sine = sin(shin_at(self.setup, thigh_angle))
        aside = self.thigh_aside * cos(thigh_angle) - self.shank_aside * shin_sine + self.ankle_aside
        return self.per_leg * aside

    def above_bottom(self, stations: Stations, bottom: Solution) -> MomentsAbove:
        """The moments of `at` for depths above the bottom up to where all of them fall, without the rest of it.

        On the way up an extensor moment rises to one peak, if that is not at the bottom, and then falls until the
        lifter stands. A flexor moment may grow all the way, and a shin held back by the ankle makes a second peak.
        A pull is hardest where it begins or turns (brown_abani_1985), and closes anew at every height. Not for split
        stances.

        Args:
            stations: depths, deepest first
            bottom: solution at the bottom

        Raises:
            Refusal: when no trunk lean balances one of the postures
        """
        setup, legs, upper, per_leg = self.setup, self.legs, self.upper, self.per_leg
        if setup.pull is not None:
            return MomentsAbove([], [], [])
        shank, thigh, ankle_x = self.shank, self.thigh, self.ankle_x
        ankle_ahead, knee_per_reach, both_per_reach = self.ankle_ahead, legs.knee_per_reach, legs.both_per_reach
        at_knee, shank_at_knee = self.ankle_at_knee, self.shank_at_knee
        shin, limit, shape_at_bottom = setup.shin_angle, setup.shin_limit, setup.shape_at_bottom
        knees, hips, spines = [], [], []
        last = (bottom.knee, bottom.hip, bottom.lumbosacral)
        one_peak_each = min(last) > 0.0 and shin < limit
        for cosine, shape in zip(stations.thigh_cosine, stations.shin_shape, strict=True):
            shin_sine = sin(min(shin * (shape / shape_at_bottom), limit))
            knee_reach = shank * shin_sine
            thigh_reach = thigh * cosine
            hip = both_per_reach * thigh_reach - (knee_per_reach * knee_reach - ankle_ahead)
            hip_x = ankle_x + knee_reach - thigh_reach
            lean = upper.lean(hip, hip_x)
            knee = shank_at_knee * shin_sine - at_knee
            moments = (per_leg * knee, per_leg * hip, GRAVITY * upper.lumbosacral(lean, hip_x))
            knees.append(moments[0])
            hips.append(moments[1])
            spines.append(moments[2])
            if one_peak_each and moments[0] <= last[0] and moments[1] <= last[1] and moments[2] <= last[2]:
                break
            last = moments
        return MomentsAbove(knees, hips, spines)


def statics_of(body: Body, setup: Setup) -> Statics:
    """The statics of a lifter in a setup.

    Args:
        body: the lifter
        setup: as resolved
    """
    mass = body.mass + setup.load
    pressure, stance = setup.balance * body.foot, setup.stance
    balance_x = stance.foot_ahead * pressure
    split = setup.family == "split"
    legs = leg_statics(body, setup.lead_share * mass, pressure, 0.5) if split else leg_statics(body, mass, pressure)
    of_shank = legs.knee_per_reach * body.shank
    return Statics(
        setup,
        legs,
        upper_body_statics(body, setup.load, setup.carry, balance_x),
        GRAVITY if split else GRAVITY / 2,
        stance.shank_ahead * body.shank,
        stance.thigh_ahead * body.thigh,
        stance.foot_ahead * body.ankle_from_heel,
        balance_x,
        stance.foot_ahead * legs.ankle,
        cos(stance.toe_out - stance.thigh) * legs.ankle,
        cos(stance.shank - stance.thigh) * of_shank,
        stance.foot_aside * legs.ankle,
        stance.shank_aside * of_shank,
        stance.thigh_aside * body.thigh * legs.both_per_reach,
        setup.trunk_lean if split or setup.family == "pull" else None,
    )
