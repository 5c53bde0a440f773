"""What a lift asks of the arm, with each assumption about lifter and lift moved to the ends of its span by itself."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple, get_args

from msgspec import Struct
from msgspec.structs import replace

from service.intervals import Interval
from service.knowledge.arm_figures import ARM
from service.knowledge.records import SourcedRange
from service.mechanics.arm.lifts import ArmSetup
from service.mechanics.arm.repetition import ArmDemand, Largest, arm_demand, repetition
from service.mechanics.arm.segments import ArmLengths, arm_of
from service.mechanics.arm.shoulder import STRENGTH
from service.mechanics.body import Body

Quantity = Literal["shoulder", "shoulder_net", "elbow", "elbow_valgus", "wrist", "behind_the_body"]
QUANTITIES: Final[tuple[Quantity, ...]] = get_args(Quantity)

ShoulderAxis = Literal["elevation", "horizontal", "axial"]

OfLifter = Literal["separation", "upper_arm", "strength"]
OfLift = Literal["outward", "touch", "height"]
Assumption = OfLifter | OfLift
OF_LIFT: Final[tuple[OfLift, ...]] = get_args(OfLift)

End = Literal["low", "high"]
ENDS: Final[tuple[End, ...]] = get_args(End)

_ROUNDING: Final = 1e-9
"""A moment or an angle that is smaller is none [N·m, rad]."""

_OWN_STRENGTHS: Final = (
    ("extension", "flexion"),
    ("horizontal_forward", "horizontal_backward"),
    ("inward_rotation", "outward_rotation"),
)
"""Movements whose ratio to each other is published and that to adduction is not."""


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


class UncertainArm(Struct, frozen=True, gc=False):
    """A lift of one lifter.

    Attributes:
        setup: lift and load
        demand: with all as assumed
        moved: with one assumption moved
    """

    setup: ArmSetup
    demand: ArmDemand
    moved: dict[Move, ArmDemand]

    def interval(self, quantity: Quantity) -> Interval:
        """A quantity with its least and largest size over all that is moved [any].

        Args:
            quantity: moments in newton metres, angles in radians
        """
        every = [amount(self.demand, quantity), *(amount(demand, quantity) for demand in self.moved.values())]
        return _interval(every)

    def shoulder_part(self, axis: ShoulderAxis) -> Interval:
        """A part of the shoulder's moment where most is asked of it, with its sign, least and most likewise [N·m].

        Args:
            axis: about which it is
        """
        every = [float(getattr(demand.shoulder.demand.moment, axis)) for demand in (self.demand, *self.moved.values())]
        return _interval(every)


def uncertain_arm(body: Body, setup: ArmSetup, lengths: ArmLengths | None = None) -> UncertainArm:
    """A lift with its assumptions moved.

    Args:
        body: the lifter
        setup: lift and load
        lengths: the lifter's own measurements; a measured upper arm is not moved

    Raises:
        Refusal: where the hand cannot be where the lift has it
    """
    spans, separation = ARM.spans, ARM.both.separation.value
    arm = arm_of(body, lengths)
    states = repetition(body, arm, setup)
    moved: dict[Move, ArmDemand] = {}
    for end in ENDS:
        other = arm_of(body, lengths, separation=getattr(spans.separation, end))
        moved[Move("separation", end)] = arm_demand(repetition(body, other, setup))
        if lengths is None or lengths.upper_arm is None:
            other = arm_of(body, lengths, separation, getattr(spans.upper_arm, end))
            moved[Move("upper_arm", end)] = arm_demand(repetition(body, other, setup))
        for movements in _OWN_STRENGTHS:
            strength = STRENGTH.times(getattr(spans.strength, end), *movements)
            moved[Move("strength", end, movements)] = arm_demand(states, strength)
        for assumption in OF_LIFT:
            moved[Move(assumption, end)] = arm_demand(repetition(body, arm, _moved(setup, assumption, end)))
    return UncertainArm(setup, arm_demand(states), moved)


def amount(demand: ArmDemand, quantity: Quantity) -> float:
    """The size of a quantity over a repetition, whatever its sign; angles in radians [any]."""
    match quantity:
        case "shoulder":
            return demand.shoulder.demand.weighed
        case "behind_the_body":
            return demand.postures.behind_the_body
        case _:
            largest: Largest = getattr(demand, quantity)
            return abs(largest.value)


def _interval(values: list[float]) -> Interval:
    """The first with the least and the largest of all; what is left by rounding is nothing."""
    central, low, high = (0.0 if abs(value) < _ROUNDING else value for value in (values[0], min(values), max(values)))
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
