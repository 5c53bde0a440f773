"""Two feet as two vertical supports: the condition under which a split stance is in equilibrium."""

from __future__ import annotations

from math import asin, cos, inf, sin
from typing import Final, Literal

from msgspec import Struct

from service.mechanics.balance import Carry, upper_body_statics
from service.mechanics.body import Body

Quantity = Literal["trunk_lean", "shin_angle", "foot_spacing", "lead_share"]

QUANTITIES: Final[tuple[Quantity, ...]] = ("trunk_lean", "shin_angle", "foot_spacing", "lead_share")


class Usual(Struct, frozen=True, gc=False):
    """What a quantity is where it is not stated: normal, inside a span.

    Attributes:
        mean: of lifters [any]
        sd: standard deviation between lifters [any]
        low: end of the span [any]
        high: end of the span [any]
        limit: what nobody exceeds, whatever the span [any]
    """

    mean: float
    sd: float
    low: float
    high: float
    limit: float = inf

    def moved(self, deviations: float) -> Usual:
        """The same of a lifter who differs from others, span and all.

        Args:
            deviations: by how many standard deviations [1]
        """
        shift, limit = deviations * self.sd, self.limit
        return Usual(min(self.mean + shift, limit), self.sd, self.low + shift, min(self.high + shift, limit), limit)


class SplitInputs(Struct, frozen=True, gc=False):
    """All that a split stance at one depth follows from.

    Attributes:
        body: the lifter
        load: mass of the implement [kg]
        carry: how the load is carried, on the trunk or hanging from the shoulders
        balance: centre of pressure of the lead foot from the heel, as a fraction of foot length [1]
        thigh_angle: lead thigh above the horizontal [rad]
        steps_up: whether the trail leg stands straight below the hip, so that the spacing follows from the lead leg
        usual: by quantity, in the order of QUANTITIES
        stated: by quantity, None where it follows [any]
    """

    body: Body
    load: float
    carry: Carry
    balance: float
    thigh_angle: float
    steps_up: bool
    usual: tuple[Usual, Usual, Usual, Usual]
    stated: tuple[float | None, float | None, float | None, float | None]


class Supports(Struct, frozen=True, gc=False):
    """The condition of equilibrium: the first moment about the lead foot's centre of pressure is nil.

    still + per_reach r + amplitude sin(T + offset) + ((1 - p) mass - trailing) D = 0, the knee being r ahead of the
    ankle; in a step-up D is the hip's distance behind the centre of pressure, straight - r.

    Attributes:
        still: first moment of the legs with the lead shin upright and the rear foot at the lead foot [kg·m]
        per_reach: its change with the knee's reach [kg]
        amplitude: greatest first moment of trunk and load about the hip [kg·m]
        offset: lean at which that moment is nil, with its sign changed [rad]
        mass: body and load [kg]
        trailing: mass that the trail leg has behind the hip, for each metre of spacing [kg]
        shank: ankle joint to knee joint [m]
        straight: hip behind the centre of pressure with the lead shin upright [m]
        steps_up: whether the trail leg stands straight below the hip
    """

    still: float
    per_reach: float
    amplitude: float
    offset: float
    mass: float
    trailing: float
    shank: float
    straight: float
    steps_up: bool

    def spacing(self, shin_angle: float, foot_spacing: float) -> float:
        """Distance of the two feet, of which in a step-up the trail one is below the hip.

        Args:
            shin_angle: lead shin from the vertical [rad]
            foot_spacing: between the centres of pressure of the feet [m]

        Returns:
            the same, or in a step-up that of the hip [m]
        """
        return self.straight - self.shank * sin(shin_angle) if self.steps_up else foot_spacing

    def moment(self, lean: float, shin_angle: float, foot_spacing: float, share: float) -> float:
        """First moment about the lead foot's centre of pressure.

        Args:
            lean: trunk from the vertical [rad]
            shin_angle: lead shin from the vertical [rad]
            foot_spacing: between the centres of pressure of the feet [m]
            share: share of the weight of body and load on the lead foot [1]

        Returns:
            first moment, nil in equilibrium [kg·m]
        """
        behind = ((1.0 - share) * self.mass - self.trailing) * self.spacing(shin_angle, foot_spacing)
        at_hip = self.amplitude * sin(lean + self.offset)
        return self.still + self.per_reach * self.shank * sin(shin_angle) + at_hip + behind

    def linearised(
        self, lean: float, shin_angle: float, foot_spacing: float, share: float
    ) -> tuple[float, tuple[float, float, float, float]]:
        """The first moment, and how it changes with each quantity.

        Args:
            lean: trunk from the vertical [rad]
            shin_angle: lead shin from the vertical [rad]
            foot_spacing: between the centres of pressure of the feet [m]
            share: share of the weight of body and load on the lead foot [1]

        Returns:
            as of moment [kg·m]; its derivatives in the order of QUANTITIES [any]
        """
        behind = (1.0 - share) * self.mass - self.trailing
        knee_reach, leaning = self.shank * sin(shin_angle), lean + self.offset
        spacing, per_reach = foot_spacing, self.per_reach
        of_spacing = behind
        if self.steps_up:
            spacing, per_reach, of_spacing = self.straight - knee_reach, per_reach - behind, 0.0
        moment = self.still + self.per_reach * knee_reach + self.amplitude * sin(leaning) + behind * spacing
        return moment, (
            self.amplitude * cos(leaning),
            per_reach * self.shank * cos(shin_angle),
            of_spacing,
            -self.mass * spacing,
        )

    def closed(self, quantity: Quantity, values: list[float]) -> float:
        """The value of one quantity in equilibrium with the others, in closed form.

        Where none is, as far beyond what can be as is needed to say so: a right angle, an endless spacing.

        Args:
            quantity: to be solved for
            values: of all, in the order of QUANTITIES [any]

        Returns:
            value of the quantity [any]
        """
        lean, shin_angle, foot_spacing, share = values
        moment = self.moment(lean, shin_angle, foot_spacing, share)
        behind = (1.0 - share) * self.mass - self.trailing
        if quantity == "lead_share":
            return share + moment / (self.mass * self.spacing(shin_angle, foot_spacing))
        if quantity == "foot_spacing":
            return foot_spacing - moment / behind if behind else inf
        if quantity == "trunk_lean":
            return _arcsine(sin(lean + self.offset) - moment / self.amplitude) - self.offset
        per_reach = self.per_reach - (behind if self.steps_up else 0.0)
        return _arcsine(sin(shin_angle) - moment / (per_reach * self.shank))


def _arcsine(value: float) -> float:
    return asin(max(-1.0, min(1.0, value)))


def supports_of(inputs: SplitInputs) -> Supports:
    """The condition of equilibrium of a split stance.

    Args:
        inputs: all that it follows from
    """
    body, load, steps_up = inputs.body, inputs.load, inputs.steps_up
    upper = upper_body_statics(body, load, inputs.carry, 0.0)
    pressure_x = inputs.balance * body.foot
    thigh, shank, foot = body.thighs_mass / 2, body.shanks_mass / 2, body.feet_mass / 2
    leg = body.thigh + body.shank
    along = (thigh * body.thigh_centre * body.thigh + shank * (body.thigh + body.shank_centre * body.shank)) / leg
    straight = pressure_x - body.ankle_from_heel + body.thigh * cos(inputs.thigh_angle)
    at_knee = thigh * body.thigh_centre + shank * (1.0 - body.shank_centre)
    at_hip = body.upper_mass + load + thigh * (1.0 - body.thigh_centre) + thigh + shank - along
    still = shank * body.shank_centre * (body.ankle_from_heel - pressure_x)
    still += foot * (body.feet_centre * body.foot - pressure_x)
    return Supports(
        still + at_knee * (body.ankle_from_heel - pressure_x) - at_hip * straight,
        at_knee + at_hip,
        upper.amplitude,
        upper.offset,
        body.mass + load,
        along + foot,
        body.shank,
        straight,
        steps_up,
    )
