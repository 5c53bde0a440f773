"""Whether one lift asks more of the arm than another, said only where it survives all that is not known well.

What is of the lifter moves in both lifts together, and so does what is of the lift where both are the same one; else it
moves in each by itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from msgspec import Struct

from service.intervals import Interval
from service.mechanics.arm.repetition import ArmPeaks
from service.mechanics.arm.uncertain import OF_LIFT, Assumption, Quantity, UncertainArm, amount
from service.vocabulary import Difference

OF_NO_SIZE: Final = 0.01
"""A moment, an angle or a change that is smaller is as good as none [N·m, rad]."""


class Direction(Struct, frozen=True, gc=False):
    """One quantity of a lift against that of another.

    Attributes:
        change: new less reference, with the least and the most over all that is moved [any]
        ratio: new over reference, likewise; None where the reference is ever as good as nothing
            [1]
        difference: of the new lift, where all agree
        turned_by: assumptions that turn the sign or leave no change
    """

    change: Interval
    ratio: Interval | None
    difference: Difference
    turned_by: tuple[Assumption, ...]


def direction(new: UncertainArm, reference: UncertainArm, quantity: Quantity) -> Direction:
    """Whether a lift asks more of the arm than another of the same lifter.

    Args:
        new: the one that is asked about
        reference: what it is compared with
        quantity: what is compared
    """
    central = amount(new.demand, quantity), amount(reference.demand, quantity)
    moved = [
        (assumption, amount(one, quantity), amount(other, quantity))
        for assumption, one, other in _moved_pairs(new, reference)
    ]
    change = _change(*central)
    turned = dict.fromkeys(assumption for assumption, *pair in moved if _change(*pair) * change <= 0)
    pairs = [central, *((one, other) for _, one, other in moved)]
    clear: Difference = "higher" if change > 0 else "lower"
    return Direction(
        change=_interval([_change(one, other) for one, other in pairs]),
        ratio=_interval([one / other for one, other in pairs])
        if all(other >= OF_NO_SIZE for _, other in pairs)
        else None,
        difference="no_clear_difference" if turned else clear,
        turned_by=tuple(turned),
    )


def of_shoulder(new: UncertainArm, reference: UncertainArm) -> Difference:
    """Whether a lift asks more of the shoulder than another: only where the net moment and the weighed one agree.

    The net moment leaves out that some movements are weaker, and the weights of some are our own.

    Args:
        new: the one that is asked about
        reference: what it is compared with
    """
    net, weighed = (direction(new, reference, quantity).difference for quantity in ("shoulder_net", "shoulder"))
    return net if net == weighed else "no_clear_difference"


def _change(new: float, reference: float) -> float:
    return 0.0 if abs(new - reference) < OF_NO_SIZE else new - reference


def _interval(values: list[float]) -> Interval:
    """The first with the least and the largest of all."""
    return Interval(values[0], min(values), max(values))


def _moved_pairs(new: UncertainArm, reference: UncertainArm) -> Iterator[tuple[Assumption, ArmPeaks, ArmPeaks]]:
    same_lift = new.setup.lift.id == reference.setup.lift.id
    same_grip = same_lift and new.setup.technique.grip == reference.setup.technique.grip
    for move, moved in new.moved.items():
        together = move.assumption not in OF_LIFT or (same_grip if move.assumption == "outward" else same_lift)
        if together:
            yield move.assumption, moved, reference.moved[move]
        else:
            yield move.assumption, moved, reference.demand
            yield move.assumption, new.demand, reference.moved[move]
