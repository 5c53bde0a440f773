"""Balance at rest on the feet in the sagittal plane: the moments in the legs, and the trunk lean that balances them.

x forward from the heel, y up from the floor. Angles in radians: the shin from the vertical (knee forward positive), the
thigh above the horizontal (0 level, negative below), the trunk from the vertical (forward positive). First moments are
in kg·m: moments divided by gravity.
"""

from __future__ import annotations

from math import asin, atan2, cos, hypot, pi, sin

from msgspec import Struct

from service.knowledge.posture_rules import CarryKind
from service.mechanics.body import Body
from service.mechanics.stance import SAGITTAL, Stance
from service.mechanics.tipping import refuse_no_lean

BAR_REFERENCE_STATURE = 1.75  # [m], the stature for which the positions of the bar on the trunk are stated

_QUARTER = pi / 2
ON_TRUNK = frozenset({"trunk", "hands_at_shoulder"})


class Carry(Struct, frozen=True, gc=False):
    """How the load is carried, which decides where its weight acts.

    The kinds:

    - trunk: a bar fixed to the trunk; arms up at the bar.
    - pelvis: a belt. The load hangs from the pelvis and its line meets the floor at the balance point: its moment about
      that point is nil, so the body balances as if unloaded, arms reaching forward. The load acts below the lumbosacral
      joint: none of it passes through the spine.
    - hands_at_foot: a bar in straight hanging arms, kept over the foot by the arms (deadlift).
    - hands_at_shoulder: a load that hangs freely, vertically below the shoulder joint.
    - hands_at_side: handles beside the body, so that the legs do not stand in the load's way (trap bar).

    Attributes:
        kind: one of the five
        along: bar beyond the shoulder joint along the trunk, for a stature of 1.75 m and scaled with stature [m]
        anterior: bar ahead of the shoulder joint across the trunk, likewise [m]
        line: plumb line of a load carried at the foot, at the side or at the pelvis, ahead of the heel as a fraction of
            foot length [1]; None for the balance point
        ahead: shoulder ahead of a load carried at the foot or at the side [m]
        lowered: how far the shoulder is let down with such a load [m]
    """

    kind: CarryKind
    along: float = 0.0
    anterior: float = 0.0
    line: float | None = None
    ahead: float = 0.0
    lowered: float = 0.0


class LegStatics(Struct, frozen=True, gc=False):
    """First moments at the joints of a leg as linear functions of how far shin and thigh reach.

    With r the knee's distance ahead of the ankle and R the hip's distance behind the knee: the ankle's moment is
    `ankle`, the knee's `knee + knee_per_reach r`, and the sum of knee and hip `both_per_reach R` at any shin angle.

    Attributes:
        ankle: first moment at the ankle [kg·m]
        knee: first moment at the knee above the ankle, r = 0 [kg·m]
        knee_per_reach: change of the knee's first moment with r [kg]
        both_per_reach: sum of the first moments at knee and hip for each metre of R [kg]
    """

    ankle: float
    knee: float
    knee_per_reach: float
    both_per_reach: float


class SupportedMoments(Struct, frozen=True, gc=False):
    """First moments about the mediolateral axes of a leg's joints above a vertical support, positive for the extensors.

    Attributes:
        ankle: first moment at the ankle [kg·m]
        knee: first moment at the knee [kg·m]
        hip: first moment at the hip [kg·m]
        hip_x: hip ahead of the heel [m]
    """

    ankle: float
    knee: float
    hip: float
    hip_x: float


def leg_statics(body: Body, support: float, pressure_x: float, legs: float = 1.0) -> LegStatics:
    """The moments of a leg summed from the ground up: the support less the weights of foot, shank and thigh.

    Args:
        body: the lifter
        support: mass whose weight the foot bears [kg]
        pressure_x: centre of pressure ahead of the heel [m]
        legs: share of the two legs' mass that stands on the support, 1 for both and 0.5 for one [1]

    Source: statics.
    """
    foot_mass = legs * body.feet_mass
    shank_mass = legs * body.shanks_mass
    ankle_x = body.ankle_from_heel
    ankle = support * (pressure_x - ankle_x) - foot_mass * (body.feet_centre * body.foot - ankle_x)
    above_foot = support - foot_mass
    return LegStatics(
        ankle,
        -ankle,
        above_foot - shank_mass * body.shank_centre,
        above_foot - shank_mass - legs * body.thighs_mass * body.thigh_centre,
    )


def supported_moments(
    body: Body,
    support: float,
    shin_angle: float,
    thigh_angle: float,
    pressure: float,
    *,
    legs: float = 1.0,
    stance: Stance = SAGITTAL,
) -> SupportedMoments:
    """First moments about the mediolateral axes of the leg's joints in one posture.

    Args:
        body: the lifter
        support: mass whose weight the foot bears [kg]
        shin_angle: shin from the vertical [rad]
        thigh_angle: thigh above the horizontal [rad]
        pressure: centre of pressure from the heel along the foot [m]
        legs: share of the two legs' mass that stands on the support [1]
        stance: how far the legs are turned out of the sagittal plane

    Source: statics.
    """
    statics = leg_statics(body, support, pressure, legs)
    knee_reach = stance.shank_ahead * body.shank * sin(shin_angle)
    thigh_reach = stance.thigh_ahead * body.thigh * cos(thigh_angle)
    ankle = stance.foot_ahead * statics.ankle
    knee = statics.knee_per_reach * knee_reach - ankle
    return SupportedMoments(
        ankle,
        knee,
        statics.both_per_reach * thigh_reach - knee,
        stance.foot_ahead * body.ankle_from_heel + knee_reach - thigh_reach,
    )


class UpperBodyStatics(Struct, frozen=True, gc=False):
    """First moments of the upper body and its load as functions of the trunk lean T and of hip_x.

    About the hip: amplitude sin(T + offset) + still - hanging (hip_x - line_x).
    About the lumbosacral joint: spine_along sin T + spine_across cos T + spine_still - spine_hanging (hip_x - line_x).

    Attributes:
        amplitude: greatest first moment about the hip of what leans with the trunk [kg·m]
        offset: lean at which that moment is nil, with its sign changed [rad]
        still: first moment about the hip that does not depend on lean [kg·m]
        hanging: load that keeps to its own plumb line [kg]
        spine_along: coefficient of sin T about the lumbosacral joint [kg·m]
        spine_across: coefficient of cos T about the lumbosacral joint [kg·m]
        spine_still: first moment about the lumbosacral joint that does not depend on lean [kg·m]
        spine_hanging: load on its own plumb line that the spine carries [kg]
        line_x: plumb line of the load ahead of the heel [m]
    """

    amplitude: float
    offset: float
    still: float
    hanging: float
    spine_along: float
    spine_across: float
    spine_still: float
    spine_hanging: float
    line_x: float

    def lean(self, hip_moment: float, hip_x: float) -> float:
        """The trunk lean that balances the legs.

        Args:
            hip_moment: first moment that the hip has to hold [kg·m]
            hip_x: hip ahead of the heel [m]

        Returns:
            trunk lean [rad]

        Raises:
            Refusal: when no lean supplies that moment
        """
        needed = hip_moment - self.still + self.hanging * (hip_x - self.line_x)
        if not -self.amplitude <= needed <= self.amplitude:
            refuse_no_lean(hip_x - self.line_x)
        return asin(needed / self.amplitude) - self.offset

    def lumbosacral(self, lean: float, hip_x: float) -> float:
        """First moment about the lumbosacral joint.

        Args:
            lean: trunk from the vertical [rad]
            hip_x: hip ahead of the heel [m]

        Returns:
            first moment [kg·m]
        """
        return (
            self.spine_along * sin(lean)
            + self.spine_across * cos(lean)
            + self.spine_still
            - self.spine_hanging * (hip_x - self.line_x)
        )


def upper_body_statics(body: Body, load: float, carry: Carry, balance_x: float) -> UpperBodyStatics:
    """How trunk, head, arms and load act on hip and lower back.

    The first moment about the hip has a term in sin T and, from a bar ahead of or behind the trunk's axis, one in
    cos T; their sum is one sine. Arms at a bar go with the trunk, arms that hang act on the line from the shoulder to
    the load, and arms that reach forward act ahead of the shoulder.

    Args:
        body: the lifter
        load: mass of the implement [kg]
        carry: how the load is carried
        balance_x: balance point ahead of the heel [m]

    Source: statics; the mass above the lumbosacral joint after Dumas & Wojtusch 2018.
    """
    trunk = body.trunk
    joint = body.lumbosacral_level * trunk
    if carry.kind == "trunk":
        along = body.upper_mass * body.upper_centre_at_bar * trunk
        spine_along = body.above_mass * (body.above_centre_at_bar * trunk - joint)
        arms = 0.0
    else:
        arms = body.arms_mass * body.arms_centre
        along = body.upper_mass * body.upper_centre_hanging * trunk + arms
        spine_along = body.above_mass * (body.above_centre_hanging * trunk - joint) + arms
    if acts_on_trunk(carry):
        bar_along, bar_anterior = bar_on_trunk(body, carry)
        along += load * bar_along
        across = load * bar_anterior
        spine_along += load * (bar_along - joint)
        amplitude, offset = hypot(along, across), atan2(across, along)
        return UpperBodyStatics(amplitude, offset, 0.0, 0.0, spine_along, across, 0.0, 0.0, balance_x)
    line_x = line_of_load(body, carry, balance_x)
    if carry.kind == "pelvis":
        return UpperBodyStatics(along, 0.0, arms, load, spine_along, 0.0, arms, 0.0, line_x)
    swung = -body.arms_mass * body.arms_centre / body.arm * carry.ahead
    return UpperBodyStatics(along, 0.0, swung, load, spine_along - load * joint, 0.0, swung, load, line_x)


def line_of_load(body: Body, carry: Carry, balance_x: float) -> float:
    """Plumb line of a load that does not move with the trunk.

    Args:
        body: the lifter
        carry: how the load is carried
        balance_x: balance point ahead of the heel [m]

    Returns:
        where the line meets the floor, ahead of the heel [m]
    """
    return balance_x if carry.line is None else carry.line * body.foot


def acts_on_trunk(carry: Carry) -> bool:
    """Whether the load moves with the trunk, so that leaning the trunk moves the load."""
    return carry.kind in ON_TRUNK


def bar_on_trunk(body: Body, carry: Carry) -> tuple[float, float]:
    """Where a load fixed to the trunk acts in the trunk's frame.

    Returns:
        distance from the hip along the trunk and ahead of it [m]
    """
    scale = body.stature / BAR_REFERENCE_STATURE
    return body.trunk + carry.along * scale, carry.anterior * scale
