"""By how much the largest force of a repetition exceeds the weight: at the turn at the bottom, or at lift-off.

The way up is taken as half a sine: from the mean speed v over the travel D of the bar, or from the time T of the phase,
F / W = 1 + k pi² v² / (2 g D) = 1 + k pi² D / (2 g T²), where k is the movement of the centre of mass of what is moved
over that of the bar. Figures of a tempo are whole seconds: from 2 on they are taken for the time, and 1 for the usual
pace, between 1 and 1.5 s, as where no tempo is stated. In the sticking region the force is below the weight; there the
factor is 1. A faster descent alone raises nothing (achermann_2025), but takes the relief of a slow way up away; a
bounce multiplies the factor.

It enters newtons and comparisons of tempo. Between variants at one tempo it cancels and is left out.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, hypot, pi
from typing import Final

from msgspec import Struct

from service.interpolation import interpolated
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.knowledge.dynamics import LIFTS, SHARED, LiftDynamics
from service.mechanics.body import GRAVITY

REFERENCE_STATURE: Final = 1.75
"""Stature for which the travel of the bar is stated [m]."""
_FAST: Final = CHOICES.tempo.as_fast_as_possible
_LARGEST: Final = SHARED.largest.value - 1
_BOUNCE: Final = SHARED.bounce


class Pace(Struct, frozen=True, gc=False):
    """How a repetition comes through its turn.

    Attributes:
        tempo: lowering, bottom, lifting, top [s], such as 3-1-X-1; None where none is stated
        bounce: whether it is bounced out of the bottom
        held: whether it is a static repetition
    """

    tempo: str | None = None
    bounce: bool = False
    held: bool = False

    @property
    def paused(self) -> bool:
        """Whether seconds at the bottom are stated."""
        return self.tempo is not None and self.tempo.split("-")[1] not in ("0", "X")

    @property
    def bounce_taken_away(self) -> bool:
        """Whether a bounce is stated that a pause or a hold at the bottom leaves nothing of."""
        return self.bounce and (self.held or self.paused)


class TurnFactor(Struct, frozen=True, gc=False):
    """Force at the turn over the weight, with its change by one standard deviation of each input.

    The inputs are of the lifter: two factors move with them together.

    Attributes:
        value: the factor [1]
        formula: change with the error of the formula, its travel and speeds [1]
        usual_pace: change with how fast the lifter moves where no seconds are stated [1]
        bounce: change with what a bounce does [1]
    """

    value: float
    formula: float = 0.0
    usual_pace: float = 0.0
    bounce: float = 0.0

    @property
    def interval(self) -> Interval:
        """The factor with ends of one standard deviation, never below 1 [1]."""
        spread = hypot(self.formula, self.usual_pace, self.bounce)
        return Interval(self.value, max(1.0, self.value - spread), self.value + spread)

    def of_largest(self, met: Met) -> TurnFactor:
        """Of the largest moment of the range, wherever it is met.

        Args:
            met: where the moment at rest is largest
        """
        if met.at_turn == 1.0:
            return self
        excess = self.value - 1.0
        places = ((met.at_turn, 1.0), *met.between, (1.0, met.accelerated))
        moment, left = max(places, key=lambda place: place[0] * (1.0 + place[1] * excess))
        return self._part(moment * (1.0 + left * excess), moment * left)

    def _part(self, value: float, part: float) -> TurnFactor:
        return TurnFactor(value, part * self.formula, part * self.usual_pace, part * self.bounce)


class Met(Struct, frozen=True, gc=False):
    """Where on the way up the largest moment at rest is met.

    Attributes:
        at_turn: moment at the turn over it [1]
        accelerated: part of the turn's excess that is left there, nothing in the sticking region [1]
        between: of places between the turn and there the moment over the largest, and what is left of the excess [1]
    """

    at_turn: float = 1.0
    accelerated: float = 1.0
    between: tuple[tuple[float, float], ...] = ()


AT_TURN: Final = Met()
_STATIC: Final = TurnFactor(1.0)


def met_above(at_turn: float, way: float, between: Iterable[tuple[float, float]] = ()) -> Met:
    """Where a moment is met that is largest above the turn.

    Args:
        at_turn: moment at the turn over it [1]
        way: part of the way up there [1]
        between: moments over it at parts of the way below [1]

    Source: derived, a sinusoidal way.
    """
    return Met(at_turn, _accelerated(way), tuple((moment, _accelerated(part)) for moment, part in between))


def _accelerated(way: float) -> float:
    return max(0.0, cos(pi * way))


def turn_factor(exercise: str, stature: float, pace: Pace, share: float | None = None) -> TurnFactor | None:
    """The factor of one lift at one pace.

    Args:
        exercise: id of the exercise
        stature: of the lifter [m]
        pace: how the repetition comes through its turn
        share: load over the maximum [1], None where it is not known; it enters where lifting is X alone

    Returns:
        The factor; None for a lift of which no figures are known.
    """
    lift = LIFTS.get(exercise)
    if lift is None:
        return None
    if pace.held:
        return _STATIC
    unstated = TurnFactor(lift.usual.value, usual_pace=lift.usual.sd)
    factor = unstated if pace.tempo is None else _at_tempo(lift, stature, pace, share, unstated)
    if not pace.bounce or pace.paused:
        return factor
    more = _BOUNCE.value
    return TurnFactor(more * factor.value, more * factor.formula, more * factor.usual_pace, _BOUNCE.sd * factor.value)


def ratio(new: TurnFactor, reference: TurnFactor) -> Interval:
    """One factor over another of the same lifter, the inputs moved together, with ends of one standard deviation [1].

    Source: JCGM 100:2008.
    """
    quotient = new.value / reference.value
    spread = quotient * hypot(
        *(
            mine / new.value - other / reference.value
            for mine, other in (
                (new.formula, reference.formula),
                (new.usual_pace, reference.usual_pace),
                (new.bounce, reference.bounce),
            )
        )
    )
    return Interval(quotient, quotient - spread, quotient + spread)


def product(value: Interval, factor: Interval) -> Interval:
    """A value times a factor that is independent of it, their spans combined by root sum of squares.

    Args:
        value: with ends of one standard deviation [any]
        factor: above nil, with ends of one standard deviation [1]

    Returns:
        the product in the value's unit [any]
    """
    central, times = value.value * factor.value, factor.value
    below = hypot((value.value - value.low) * times, value.value * (factor.value - factor.low))
    above = hypot((value.high - value.value) * times, value.value * (factor.high - factor.value))
    return Interval(central, central - below, central + above)


def excess_of_time(lift: LiftDynamics, stature: float, seconds: float) -> float:
    """Largest force over the weight, less 1, of a phase that takes so long.

    Args:
        lift: figures of the kind of lift
        stature: of the lifter [m]
        seconds: of lifting or lowering [s]

    Returns:
        The excess [1], not above the largest that is taken from the formula.

    Source: derived, a sinusoidal way.
    """
    if seconds <= 0:
        return _LARGEST
    return min(_LARGEST, lift.part_of_bar.value * pi**2 * _travel(lift, stature) / (2 * GRAVITY * seconds**2))


def excess_of_share(lift: LiftDynamics, stature: float, share: float) -> float | None:
    """Largest force over the weight, less 1, of lifting as fast as possible.

    Args:
        lift: figures of the kind of lift
        stature: of the lifter [m]
        share: load over the maximum [1]; outside the loads whose speed is known that of the nearest stands

    Returns:
        The excess [1], not above the largest that is taken from the formula; None where no speeds are known.

    Source: derived, a sinusoidal way at the mean speed.
    """
    if lift.speeds is None:
        return None
    speed = interpolated(lift.speeds.share, lift.speeds.speed, share)
    return min(_LARGEST, lift.part_of_bar.value * pi**2 * speed**2 / (2 * GRAVITY * _travel(lift, stature)))


def _travel(lift: LiftDynamics, stature: float) -> float:
    return lift.travel.value * stature / REFERENCE_STATURE


def _at_tempo(lift: LiftDynamics, stature: float, pace: Pace, share: float | None, unstated: TurnFactor) -> TurnFactor:
    """The factor of lifting; where it turns without a pause no less than a fast descent leaves of the unstated one."""
    lowering, _, lifting, _ = (pace.tempo or "").split("-")
    factor = _of_phase(lift, stature, lifting, share, unstated)
    if not lift.turns or pace.paused:
        return factor
    descent = _of_phase(lift, stature, lowering, None, unstated)
    if descent.value > unstated.value:
        descent = unstated
    return max(factor, descent, key=lambda one: one.value)


def _of_phase(lift: LiftDynamics, stature: float, text: str, share: float | None, unstated: TurnFactor) -> TurnFactor:
    """The factor of one figure of a tempo; in whole seconds 1 is the pace that is usual where none is stated."""
    if text == "1":
        return unstated
    usual_pace = 0.0
    if text != "X":
        excess = excess_of_time(lift, stature, float(text))
    elif share is not None and (known := excess_of_share(lift, stature, share)) is not None:
        excess = known
    else:
        excess, least, most = (excess_of_time(lift, stature, time) for time in (_FAST.value, _FAST.high, _FAST.low))
        usual_pace = (most - least) / 2
    return TurnFactor(1 + excess, max(SHARED.spread.value * excess, SHARED.least_spread.value), usual_pace)
