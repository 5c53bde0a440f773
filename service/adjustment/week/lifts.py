"""The lifts of a week: what a repetition of each asks of every region, where that is computed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from typing import Final, get_args

from msgspec import Struct

from service.adjustment.maximum import lifted_near, maximum_of
from service.adjustment.pace import JOINTS
from service.adjustment.prescription import Prescription
from service.adjustment.week.exposure import Contribution, Spread
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.mechanics.arm.directions import numbered
from service.mechanics.arm.uncertain import ENDS, OF_LIFT, Assumption, OfLifter, Quantity, UncertainArm, amount
from service.mechanics.body import Body
from service.mechanics.lift_demand import SolvedLift, solved_lift
from service.mechanics.setups import Maximum
from service.mechanics.uncertainty.intervals import Changes, changes_of, parts_of
from service.mechanics.uncertainty.propagation import Variant

_OF_ARM: Final[dict[str, Quantity]] = {"shoulder": "shoulder_net", "elbow": "elbow", "wrist": "wrist"}


class PlannedLift(Struct, frozen=True):
    """A prescription on its day of the week.

    Attributes:
        day: of the week, 1 to 7 [days]
        prescription: of that day alone, without days a week
    """

    day: int
    prescription: Prescription


class Asked(Struct, frozen=True):
    """What the hardest repetition of a lift asks of a region.

    Attributes:
        moment: peak on average over repetitions, at rest [N·m]
        spread: what is not known of it
    """

    moment: float
    spread: Spread


def asked_of_regions(body: Body, prescription: Prescription, maximum: Maximum | None = None) -> dict[str, Asked]:
    """What a repetition asks of each region whose moment is computed; nothing where none is.

    Args:
        body: the lifter
        prescription: as it is done, with the lifter's limits in its technique
        maximum: of the lift, None where its own set tells it

    Raises:
        Refusal: for a posture that cannot be had
    """
    one = lifted_near(maximum or maximum_of(prescription), prescription)
    lift = solved_lift(body, one.exercise, one.implement, one.load, one.depth, one.technique)
    moments: dict[str, float] = {}
    if lift.legs is not None:
        moments |= {region: lift.legs.peaks[joint].moment for region, joint in JOINTS.items()}
    if lift.back is not None:
        moments["low_back"] = lift.back.central.moment
    if lift.arm is not None:
        setup, demand = lift.arm
        known = numbered(setup)
        moments |= {region: amount(demand, quantity) for region, quantity in _OF_ARM.items() if region in known}
    variant = prescription.exercise, prescription.implement
    return {
        region: Asked(moment, Spread(partial(_spread, lift, region, variant))) for region, moment in moments.items()
    }


def _spread(lift: SolvedLift, region: str, of_arm: Variant) -> tuple[Changes, Variant]:
    """What is not known of a moment of the lift, and by what its exercise's own is shared."""
    known = lift.uncertain
    if known.legs is not None and region in JOINTS:
        return known.legs.changes[JOINTS[region]], known.legs.variant
    if known.back is not None and region == "low_back":
        return known.back.moment, known.back.variant
    if known.arm is not None:
        return _changes_of_arm(known.arm, _OF_ARM[region]), of_arm
    raise KeyError(region)


def _changes_of_arm(arm: UncertainArm, quantity: Quantity) -> Changes:
    """The changes of a moment of the arm with each assumption at the ends of its span, taken as its deviations."""
    central = amount(arm.demand, quantity)
    ends = {(move.assumption, move.movements, move.end): amount(one, quantity) for move, one in arm.moved.items()}

    def columns(assumptions: Iterable[Assumption]) -> tuple[float, ...]:
        moved = ([ends.get((one, (), end), central) - central for end in ENDS] for one in assumptions)
        return tuple(column for sides in moved for column in _even_and_uneven(*sides))

    return changes_of(columns(get_args(OfLifter)), columns(OF_LIFT))


def _even_and_uneven(down: float, up: float) -> tuple[float, float]:
    parts = parts_of(down, up)
    return parts.even, parts.uneven


def contributions(
    week: Sequence[PlannedLift], asked: Sequence[Mapping[str, Asked]], region: str
) -> list[Contribution | None]:
    """What each lift asks of one region in the week; None of lifts whose moment there is not known.

    Args:
        week: its lifts
        asked: of each of them
        region: region whose exposure it is
    """
    return [contribution(one, of_lift, region) for one, of_lift in zip(week, asked, strict=True)]


def contribution(one: PlannedLift, asked: Mapping[str, Asked], region: str) -> Contribution | None:
    """What one lift asks of a region in the week; None where its moment there is not known.

    For a finer region it is what the whole is asked by the lifts that load the part.

    Args:
        one: the lift on its day
        asked: of it
        region: region whose exposure it is
    """
    entry, prescription = REGIONS[region], one.prescription
    known = asked.get(entry.whole)
    if known is None or (entry.finer and region not in EXERCISES[prescription.exercise].regions):
        return None
    return Contribution(one.day, prescription.reps_a_session, max(0.0, known.moment), known.spread)
