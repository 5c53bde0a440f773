"""A split stance in equilibrium: how lean, lead shin, foot spacing and the lead leg's share follow from each other.

Two feet bear the weight as two vertical supports, so the lead foot's share p places the common centre of mass:
M (x_lead - x_com) = (1 - p) M D, with D between the centres of pressure. Horizontal forces do not enter with both feet
on one level, and are left out with the rear foot raised. The trail leg is straight from the hip to the rear foot's
centre of pressure, thigh and shank having their masses where they lie on that line by their lengths, the foot at its
end; a leg with its knee bent to the floor has its centre up to 7 cm further forward, less than two points of share. A
step-up begins with the trail leg straight below the hip, its foot on the floor and pushing.

One condition, four quantities: any three give the fourth in closed form. Of what is not stated the most probable values
are taken: each quantity is normal about its usual value with its standard deviation between lifters, and the sum of
squared standardized departures is least under the condition (weighted least squares with one constraint, a fixed number
of Gauss-Newton steps from the usual values, then closed onto the condition). A quantity that would leave its span stays
at the end of it and the others are solved for again.

Source: statics; openstax_college_physics and winter_1995 for the supports.
"""

from __future__ import annotations

from math import degrees, radians
from operator import itemgetter
from typing import Final

from msgspec import Struct

from service.errors import Refusal, into
from service.knowledge.posture_rules import POSTURES
from service.mechanics.supports import QUANTITIES, Quantity, SplitInputs, Supports, Usual, supports_of
from service.messages import message

_STEPS = 4  # Gauss-Newton steps from the usual values: what is left of the condition is less than 1e-5 kg·m
_STEPS_FROM_NEAR = 2  # from another stance of nearly the same lifter
_CLOSED_BY: Final[tuple[Quantity, ...]] = ("lead_share", "trunk_lean", "foot_spacing", "shin_angle")
_CLOSED_BY_INDEX: Final = tuple(map(QUANTITIES.index, _CLOSED_BY))
_LEAN = POSTURES.limits.trunk_lean
_LIMITS: Final = {
    "trunk_lean": (radians(_LEAN.low), radians(_LEAN.high)),
    "shin_angle": (radians(POSTURES.limits.shin_angle.low), radians(POSTURES.limits.shin_angle.high)),
    "foot_spacing": (POSTURES.limits.foot_spacing.low, POSTURES.limits.foot_spacing.high),
    "lead_share": (0.0, 1.0),
}
"""What a quantity may be [any]."""
_TOLERANCE = 1e-9  # [any]


class SplitStance(Struct, frozen=True, gc=False):
    """A split stance in equilibrium.

    Attributes:
        inputs: all that it follows from
        trunk_lean: trunk from the vertical [rad]
        shin_angle: lead shin from the vertical [rad]
        foot_spacing: between the centres of pressure of the feet, the trail one's below the hip in a step-up [m]
        lead_share: share of the weight of body and load on the lead foot [1]
        free: quantities that follow from the others
    """

    inputs: SplitInputs
    trunk_lean: float
    shin_angle: float
    foot_spacing: float
    lead_share: float
    free: tuple[Quantity, ...]

    @property
    def misfit(self) -> float:
        """Largest departure of a free quantity from its usual value, in its standard deviations [1]."""
        return self._furthest[0]

    @property
    def misfit_of(self) -> Quantity:
        """The quantity of that departure."""
        return self._furthest[1]

    @property
    def _furthest(self) -> tuple[float, Quantity]:
        usual = dict(zip(QUANTITIES, self.inputs.usual, strict=True))
        departures = [(abs(getattr(self, name) - usual[name].mean) / usual[name].sd, name) for name in self.free]
        return max(departures, key=itemgetter(0), default=(0.0, QUANTITIES[0]))


def in_equilibrium(inputs: SplitInputs, near: SplitStance | None = None) -> SplitStance:
    """The most probable stance that is in equilibrium and has what is stated.

    Args:
        inputs: all that it follows from
        near: a stance that follows from nearly the same, from which fewer steps are needed

    Raises:
        Refusal: where what is stated contradicts itself, at one of the stated quantities with what is allowed for it
    """
    supports = supports_of(inputs)
    usual, stated = inputs.usual, inputs.stated
    values = [one.mean if value is None else value for one, value in zip(usual, stated, strict=True)]
    free = [index for index, value in enumerate(stated) if value is None]
    if inputs.steps_up:
        free = [index for index in free if index != _SPACING]
    follow = free
    while free:
        solved = _most_probable(supports, inputs.usual, values, free, near)
        outside = [index for index in free if not usual[index].low <= solved[index] <= usual[index].high]
        furthest, index = max([(_beyond(solved[index], usual[index]), index) for index in outside], default=(0.0, 0))
        if furthest <= _TOLERANCE:
            values = solved
            break
        low, high = usual[index].low, usual[index].high
        values[index] = low if solved[index] < low else high
        free = [one for one in free if one != index]
    else:
        last = _last(stated)
        follow = sorted({*follow, QUANTITIES.index(last)})
        values[QUANTITIES.index(last)] = _closed_within(supports, last, values, stated)
    return _stance(inputs, supports, values, follow)


_SPACING = QUANTITIES.index("foot_spacing")


def _most_probable(
    supports: Supports, usual: tuple[Usual, ...], values: list[float], free: list[int], near: SplitStance | None
) -> list[float]:
    """Weighted least squares of the free quantities under the condition; what is not free does not vary."""
    means, variances, solved = values.copy(), [0.0] * len(QUANTITIES), values.copy()
    for index in free:
        one = usual[index]
        means[index], variances[index] = one.mean, one.sd * one.sd
        solved[index] = one.mean if near is None else getattr(near, QUANTITIES[index])
    if len(free) > 1:
        solved = _stepped(supports, means, variances, solved, _STEPS if near is None else _STEPS_FROM_NEAR)
    closing = next(index for index in _CLOSED_BY_INDEX if index in free)
    solved[closing] = supports.closed(QUANTITIES[closing], solved)
    return solved


def _stepped(
    supports: Supports, means: list[float], variances: list[float], start: list[float], steps: int
) -> list[float]:
    """So many Gauss-Newton steps, spelled out for the four quantities: most of the cost of a split stance is here."""
    lean_mean, shin_mean, spacing_mean, share_mean = means
    of_lean, of_shin, of_spacing, of_share = variances
    lean, shin, spacing, share = start
    for _ in range(steps):
        moment, (per_lean, per_shin, per_spacing, per_share) = supports.linearised(lean, shin, spacing, share)
        lean_gain, shin_gain = of_lean * per_lean, of_shin * per_shin
        spacing_gain, share_gain = of_spacing * per_spacing, of_share * per_share
        left = (
            moment
            + per_lean * (lean_mean - lean)
            + per_shin * (shin_mean - shin)
            + per_spacing * (spacing_mean - spacing)
            + per_share * (share_mean - share)
        )
        left /= lean_gain * per_lean + shin_gain * per_shin + spacing_gain * per_spacing + share_gain * per_share
        lean, shin = lean_mean - lean_gain * left, shin_mean - shin_gain * left
        spacing, share = spacing_mean - spacing_gain * left, share_mean - share_gain * left
    return [lean, shin, spacing, share]


def _beyond(value: float, usual: Usual) -> float:
    """How far a value is beyond its span, in standard deviations [1]."""
    return max(usual.low - value, value - usual.high, 0.0) / usual.sd


def _last(stated: tuple[float | None, ...]) -> Quantity:
    """The quantity that gives way when no other can, the share before the lean before the rest."""
    open_ones = [name for name in _CLOSED_BY if stated[QUANTITIES.index(name)] is None]
    return open_ones[0] if open_ones else "lead_share"


def _closed_within(supports: Supports, last: Quantity, values: list[float], stated: tuple[float | None, ...]) -> float:
    """The last quantity in equilibrium, refused beyond what can be."""
    value = supports.closed(last, values)
    low, high = _LIMITS[last]
    if low - _TOLERANCE <= value <= high + _TOLERANCE and stated[QUANTITIES.index(last)] is None:
        return value
    raise _contradiction(supports, last, values, stated, (low, high))


def _contradiction(
    supports: Supports,
    last: Quantity,
    values: list[float],
    stated: tuple[float | None, ...],
    ends: tuple[float, float],
) -> Refusal:
    """What is stated leaves no equilibrium; what one of it may be so that the last quantity is within its ends."""
    name = next((one for one in QUANTITIES if stated[QUANTITIES.index(one)] is not None and one != last), last)
    allowed = []
    for end in ends:
        ended = values.copy()
        ended[QUANTITIES.index(last)] = end
        allowed.append(supports.closed(name, ended))
    low, high = (min(max(end, _LIMITS[name][0]), _LIMITS[name][1]) for end in sorted(allowed))
    spacing = f"{low:.2f} to {high:.2f} m"
    span = spacing if name == "foot_spacing" else f"{degrees(low):.0f} to {degrees(high):.0f} deg"
    now = stated[QUANTITIES.index(name)]
    change = None if now is None else into(now, low, high)
    return Refusal.one(f"technique/{name}", message("stance_would_topple"), span, change=change)


def _stance(inputs: SplitInputs, supports: Supports, values: list[float], follow: list[int]) -> SplitStance:
    lean, shin_angle, foot_spacing, share = values
    return SplitStance(
        inputs,
        lean,
        shin_angle,
        supports.spacing(shin_angle, foot_spacing),
        share,
        tuple([QUANTITIES[one] for one in follow]),
    )
