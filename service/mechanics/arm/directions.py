"""Whether one lift asks more of the arm than another, said only where it survives all that is not known well.

What is of the lifter moves in both lifts together, and so does what is of the lift where both are the same one; else it
moves in each by itself.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Final

from msgspec import Struct

from service.intervals import Interval
from service.mechanics.arm.lifts import ArmSetup
from service.mechanics.arm.repetition import ArmPeaks
from service.mechanics.arm.uncertain import OF_LIFT, Assumption, Quantity, UncertainArm, amount, together
from service.vocabulary import Difference

OF_NO_SIZE: Final = 0.01
"""A moment, an angle or a change that is smaller is as good as none [N·m, rad]."""
JUDGED_BY: Final[Mapping[str, tuple[Quantity, ...]]] = {
    "shoulder": ("shoulder", "shoulder_net"),
    "elbow": ("elbow",),
    "wrist": ("wrist",),
}
"""What a joint's demand goes by, then what has to agree with it: of a shoulder the weighed moment, then the net."""


def numbered(setup: ArmSetup) -> tuple[str, ...]:
    """The joints whose moment is a number, of JUDGED_BY.

    A free hand goes where the forearm lies along the load's line: next to nothing is left beyond the shoulder, and how
    much is not known, for nobody's forearm lies there to the degree.

    Args:
        setup: lift and load
    """
    return ("shoulder",) if setup.lift.hands == "free" else tuple(JUDGED_BY)


def alike(one: ArmSetup, other: ArmSetup) -> bool:
    """Whether the arms do two lifts in one way, whatever their loads.

    Args:
        one: lift and load
        other: likewise
    """
    return one.lift.id == other.lift.id and one.technique == other.technique


class Direction(Struct, frozen=True, gc=False):
    """One quantity of a lift against that of another.

    Attributes:
        change: new less reference, with the least and the most over all that is moved [any]
        ratio: new over reference, with what 68 % of lifters have; None where the reference is ever as good as nothing
            [1]
        extremes: the same with the least and the most over all that is moved; None likewise [1]
        difference: of the new lift, where all agree
        turned_by: assumptions that turn the sign or leave no change
    """

    change: Interval
    ratio: Interval | None
    extremes: Interval | None
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
        (assumption, [(amount(one, quantity), amount(other, quantity)) for one, other in ends])
        for assumption, ends in _moved_pairs(new, reference)
    ]
    change = _change(*central)
    turned = dict.fromkeys(name for name, ends in moved if any(_change(*pair) * change <= 0 for pair in ends))
    pairs = [central, *(pair for _, ends in moved for pair in ends)]
    clear: Difference = "higher" if change > 0 else "lower"
    in_proportion = all(other >= OF_NO_SIZE for _, other in pairs)
    return Direction(
        change=_least_and_most([_change(one, other) for one, other in pairs]),
        ratio=_ratio(central, [ends for _, ends in moved]) if in_proportion else None,
        extremes=_least_and_most([one / other for one, other in pairs]) if in_proportion else None,
        difference="no_clear_difference" if turned else clear,
        turned_by=tuple(turned),
    )


def directions_at(new: UncertainArm, reference: UncertainArm, joint: str) -> tuple[Direction, ...]:
    """All that has to agree on what a joint is asked for, first what its demand goes by.

    Args:
        new: the lift that is asked about
        reference: what it is compared with
        joint: of JUDGED_BY
    """
    return tuple(direction(new, reference, quantity) for quantity in JUDGED_BY[joint])


def agreed(verdicts: Collection[Difference]) -> Difference:
    """The verdict on which all agree, else no clear difference."""
    return next(iter(verdicts)) if len(set(verdicts)) == 1 else "no_clear_difference"


def _change(new: float, reference: float) -> float:
    return 0.0 if abs(new - reference) < OF_NO_SIZE else new - reference


def _least_and_most(values: list[float]) -> Interval:
    """The first with the least and the largest of all."""
    return Interval(values[0], min(values), max(values))


def _ratio(central: tuple[float, float], moved: list[list[tuple[float, float]]]) -> Interval:
    """New over reference, with what 68 % of lifters have [1]."""
    ends = [(low[0] / low[1], high[0] / high[1]) for low, high in moved]
    return together(central[0] / central[1], ends).at_least(0.0)


def _moved_pairs(
    new: UncertainArm, reference: UncertainArm
) -> Iterator[tuple[Assumption, tuple[tuple[ArmPeaks, ArmPeaks], tuple[ArmPeaks, ArmPeaks]]]]:
    """Demands of both lifts with one assumption at the low and at the high end of its span."""
    shared = _shared(new, reference)
    for low in new.moved:
        if low.end != "low":
            continue
        high = low.to("high")
        one, other = new.moved, reference.moved
        if low.assumption not in OF_LIFT or low.assumption in shared:
            yield low.assumption, ((one[low], other[low]), (one[high], other[high]))
        else:
            yield low.assumption, ((one[low], reference.demand), (one[high], reference.demand))
            yield low.assumption, ((new.demand, other[low]), (new.demand, other[high]))


def _shared(new: UncertainArm, reference: UncertainArm) -> tuple[Assumption, ...]:
    """What is of the lift and moves in both together: another grip or another arm touches elsewhere."""
    if new.setup.lift.id != reference.setup.lift.id:
        return ()
    one, other = new.setup.technique, reference.setup.technique
    if one.grip != other.grip:
        return ("height",)
    return ("height", "outward") if one.abduction != other.abduction else OF_LIFT
