"""What a lift asks of the arm, with each assumption about lifter and lift moved to the ends of its span by itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from statistics import NormalDist
from typing import Final, Literal, NamedTuple, get_args

from msgspec import Struct
from msgspec.structs import replace

from service.intervals import Interval, combined
from service.knowledge.arm_figures import ARM
from service.knowledge.arm_lifts import Hands
from service.knowledge.records import SourcedRange
from service.mechanics.arm.lifts import ArmSetup, forces_of, held, poses_of, stops_of
from service.mechanics.arm.repetition import (
    OF_REPETITION,
    PARTS,
    ArmDemand,
    ArmPeaks,
    Largest,
    arm_demand,
    peaks_of,
    shoulder_peak,
)
from service.mechanics.arm.segments import Arm, arm_of
from service.mechanics.arm.shoulder import STRENGTH
from service.mechanics.body import Body

Quantity = Literal["shoulder", "shoulder_net", "elbow", "elbow_valgus", "wrist", "behind_the_body"]
QUANTITIES: Final[tuple[Quantity, ...]] = get_args(Quantity)

ShoulderAxis = Literal["elevation", "horizontal", "axial"]

OfLifter = Literal["separation", "shoulder_breadth", "upper_arm", "strength"]
OfPlace = Literal["touch", "height"]
OfLift = Literal["outward", "touch", "height"]
Assumption = Literal["separation", "shoulder_breadth", "upper_arm", "strength", "outward", "touch", "height"]
OF_PLACE: Final[tuple[OfPlace, ...]] = get_args(OfPlace)
OF_LIFT: Final[tuple[OfLift, ...]] = get_args(OfLift)

End = Literal["low", "high"]
ENDS: Final[tuple[End, ...]] = get_args(End)

_ROUNDING: Final = 1e-9
"""A moment or an angle that is smaller is none [N·m, rad]."""

_SPAN: Final = NormalDist().inv_cdf((1.0 + ARM.spans.holding.value) / 2)
"""Ends of the spans in standard deviations."""

_OWN_STRENGTHS: Final = (
    ("extension", "flexion"),
    ("horizontal_forward", "horizontal_backward"),
    ("inward_rotation", "outward_rotation"),
)
"""Movements whose ratio to each other is published and that to adduction is not."""

_IDLE: Final[dict[Hands, tuple[Assumption, ...]]] = {
    "fixed": (),
    "free": ("separation", "shoulder_breadth"),
    "angles": ("separation", "shoulder_breadth", "touch", "height"),
}
"""What changes nothing of an arm whose hand goes where the forearm is, or whose angles are what is stated."""

_STRENGTHS: Final = {
    end: {movements: STRENGTH.times(getattr(ARM.spans.strength, end), *movements) for movements in _OWN_STRENGTHS}
    for end in ENDS
}


class Move(NamedTuple):
    """One assumption at one end of its span.

    Attributes:
        assumption: which
        end: low or high
        movements: whose strength it is, otherwise none
    """

    assumption: Assumption
    end: End
    movements: tuple[str, ...] = ()

    def to(self, end: End) -> Move:
        """The same assumption at an end."""
        return self._replace(end=end)


class UncertainArm(Struct, frozen=True, gc=False):
    """A lift of one lifter.

    Attributes:
        setup: lift and load
        demand: with all as assumed
        moved: with one assumption moved
    """

    setup: ArmSetup
    demand: ArmDemand
    moved: dict[Move, ArmPeaks]

    def interval(self, quantity: Quantity) -> Interval:
        """The size of a quantity with what 68 % of lifters have, all that is assumed taken together [any].

        Args:
            quantity: moments in newton metres, angles in radians
        """
        ends = [(amount(low, quantity), amount(high, quantity)) for low, high in self._ends()]
        return together(amount(self.demand, quantity), ends).at_least(0.0)

    def shoulder_part(self, axis: ShoulderAxis) -> Interval:
        """A part of the shoulder's moment where most is asked of it, with its sign, likewise [N·m].

        Args:
            axis: about which it is
        """

        def part(demand: ArmPeaks) -> float:
            return float(getattr(demand.shoulder.demand.moment, axis))

        return together(part(self.demand), [(part(low), part(high)) for low, high in self._ends()])

    def _ends(self) -> Iterator[tuple[ArmPeaks, ArmPeaks]]:
        """The demands with one assumption at the low and at the high end of its span, for each of them."""
        for move, demand in self.moved.items():
            if move.end == "low":
                yield demand, self.moved[move.to("high")]


def uncertain_arm(body: Body, setup: ArmSetup, demand: ArmDemand | None = None) -> UncertainArm:
    """A lift with its assumptions moved; what was measured of the lifter by the error of measuring alone.

    What is moved is looked at in every second stop, and in each where something is largest with all as assumed.

    Args:
        body: the lifter
        setup: lift and load
        demand: with all as assumed, where it is worked out already

    Raises:
        Refusal: where the hand cannot be where the lift has it
    """
    arm = arm_of(body)
    if demand is None:
        demand = arm_demand(body, arm, setup)
    again = stops_again(demand)
    states = [demand.states[stop] for stop in again]
    poses, forces = [state.pose for state in states], [state.force for state in states]
    stops = stops_of(setup, [OF_REPETITION[stop] for stop in again])
    moved: dict[Move, ArmPeaks] = {}
    idle = _IDLE[setup.lift.hands]
    for end in ENDS:
        moved.update({Move(assumption, end): demand for assumption in idle})
        for of_lifter, other, setup_held in _other_arms(body, setup, end):
            if of_lifter in idle:
                continue
            pushing = forces if setup_held is setup else forces_of(body, setup_held, stops)
            placed = poses_of(other, setup_held, stops)
            moved[Move(of_lifter, end)] = peaks_of(held(other, setup, stops, placed, pushing))
        for movements, strength in _STRENGTHS[end].items():
            moved[Move("strength", end, movements)] = replace(demand, shoulder=shoulder_peak(states, strength))
        pushed = forces_of(body, _moved(setup, "outward", end), stops)
        moved[Move("outward", end)] = peaks_of(held(arm, setup, stops, poses, pushed))
        for place in (place for place in OF_PLACE if place not in idle):
            placed = poses_of(arm, _moved(setup, place, end), stops)
            moved[Move(place, end)] = peaks_of(held(arm, setup, stops, placed, forces))
    return UncertainArm(setup, demand, moved)


def stops_again(demand: ArmDemand) -> list[int]:
    """Numbers of the stops in which what is moved is looked at: every second, and where anything is largest [count]."""
    peaks = (demand.shoulder, demand.shoulder_net, demand.elbow, demand.elbow_valgus, demand.wrist)
    return sorted({*range(0, PARTS + 1, 2), *(round(peak.part * PARTS) for peak in peaks)})


def _other_arms(body: Body, setup: ArmSetup, end: End) -> Iterator[tuple[OfLifter, Arm, ArmSetup]]:
    """Arms that the lifter's may be, with the setup held by them: a measured grip stays as wide on other shoulders."""
    spans, own = ARM.spans, body.own_arm
    breadth = _end_of_length(own.shoulder_breadth, spans.shoulder_breadth, end)
    upper_arm = _end_of_length(own.upper_arm, spans.upper_arm, end)
    technique, on_others = setup.technique, setup
    if technique.grip is not None and technique.grip_measured:
        on_others = replace(setup, technique=replace(technique, grip=technique.grip / breadth))
    yield "separation", arm_of(body, separation=getattr(spans.separation, end)), setup
    yield "shoulder_breadth", arm_of(body, breadth_ratio=breadth), on_others
    yield "upper_arm", arm_of(body, upper_arm_ratio=upper_arm), setup


def _end_of_length(measured: float | None, span: SourcedRange, end: End) -> float:
    """The least or most of a length over what it is taken for [1]."""
    if measured is None:
        return float(getattr(span, end))
    error = ARM.reading.length.value / measured
    return 1.0 - error if end == "low" else 1.0 + error


def amount(demand: ArmPeaks, quantity: Quantity) -> float:
    """The size of a quantity over a repetition, whatever its sign; angles in radians [any]."""
    match quantity:
        case "shoulder":
            return demand.shoulder.demand.weighed
        case "behind_the_body":
            return demand.behind_the_body
        case _:
            largest: Largest = getattr(demand, quantity)
            return abs(largest.value)


def together(value: float, ends: Iterable[tuple[float, float]]) -> Interval:
    """A value with what 68 % of lifters have; what is left by rounding is nothing [any].

    Args:
        value: with all as assumed [any]
        ends: what each assumption makes of it at the low and the high end of its span [any]
    """
    spans = combined(value, *ends)
    below, above = (spans.value - spans.low) / _SPAN, (spans.high - spans.value) / _SPAN
    central, low, high = (
        0.0 if abs(one) < _ROUNDING else one for one in (spans.value, spans.value - below, spans.value + above)
    )
    return Interval(central, low, high)


def _moved(setup: ArmSetup, assumption: OfLift, end: End) -> ArmSetup:
    if assumption == "outward":
        return replace(setup, technique=replace(setup.technique, outward_error=_outward_error(setup, end)))
    span: SourcedRange = getattr(ARM.spans, assumption)
    shifted = getattr(setup.technique, assumption) + getattr(span, end)
    return replace(setup, technique=replace(setup.technique, **{assumption: shifted}))


def _outward_error(setup: ArmSetup, end: End) -> float:
    usual = setup.lift.outward
    if usual is None or setup.technique.outward is not None:
        return float(getattr(ARM.spans.outward, end))
    return float(getattr(usual, end) - usual.value)
