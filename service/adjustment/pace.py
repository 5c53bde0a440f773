"""What a change of tempo, a bounce or a hold does to the largest moment of a repetition.

At one pace it does nothing, whatever else changes. Otherwise it is what the new lift would ask at its pace against what
it would ask at the present one, so that the steps of a course add up. Where the largest moment is met in the sticking
region, above the turn, a slower repetition takes less of it off.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from service.adjustment.prescription import Prescription
from service.adjustment.region_effect import UPPER_LIMB
from service.intervals import Interval
from service.knowledge.catalogue import REGIONS
from service.knowledge.dynamics import LIFTS
from service.mechanics.arm.repetition import ArmDemand
from service.mechanics.body import Body
from service.mechanics.demand import Demand
from service.mechanics.dynamics import AT_TURN, Met, product, ratio, turn_factor
from service.mechanics.lift_demand import ARM_JOINTS, met_by_arm
from service.mechanics.uncertainty.comparison import Quantity
from service.training.load_repetition import person_curve

JOINTS: Final[dict[str, Quantity]] = {
    "low_back": "lumbosacral",
    "hip": "hip_resultant",
    "knee": "knee",
    "ankle": "ankle",
}
"""The moment that stands for a region. Turning the legs out moves a hip's moment from the extensors to the adductors
and takes nothing off the joint, so it is the resultant of both."""
ADDUCTORS: Final = "groin"
"""The region whose muscles hold the hip's moment to the side, which within one lift stands for it."""


def moment_of(region: str) -> Quantity | None:
    """The moment that stands for a region within one lift, None where none is computed."""
    return "hip_adductor" if region == ADDUCTORS else JOINTS.get(REGIONS[region].whole)


def paces_of(body: Body, present: Prescription, new: Prescription, places: Mapping[str, Met]) -> dict[str, Interval]:
    """Largest moments of a repetition at its pace against those at the present one, all else as it is.

    Args:
        body: the lifter
        present: what is done now
        new: what would be done
        places: where the largest moment of each region is met in it; of those left out it is at the turn

    Returns:
        The ratio by region with ends of one standard deviation [1]; nothing where no figures of the lift are known.
    """
    if new.exercise not in LIFTS:
        return {}
    share = person_curve(present.exercise, 0).share_at(present.reps.high + present.counted_reserve)
    after = turn_factor(new.exercise, body.stature, new.pace, share)
    before = turn_factor(new.exercise, body.stature, present.pace, share)
    if after is None or before is None:
        return {}
    met = {region: places.get(region, AT_TURN) for region in (*JOINTS, ADDUCTORS, *UPPER_LIMB)}
    return {region: ratio(after.of_largest(where), before.of_largest(where)) for region, where in met.items()}


def places_by_posture(demand: Demand) -> dict[str, Met]:
    """Where the largest moment of each region is met in a lift with a solved posture."""
    return {region: demand.met(joint) for region, joint in (*JOINTS.items(), (ADDUCTORS, "hip_adductor"))}


def places_by_arm(demand: ArmDemand) -> dict[str, Met]:
    """Where the largest moment of each region of the arm is met in a press, a pull or a raise."""
    return {region: met_by_arm(demand, region) for region in ARM_JOINTS}


def paced(ratios: Mapping[str, Interval], paces: Mapping[str, Interval]) -> dict[str, Interval]:
    """Ratios with the span of the pace, where it has one, beside their own.

    Args:
        ratios: by region, the pace in them [1]
        paces: by region [1]

    Returns:
        those of the ratios that have a pace, with its span [1]
    """
    return {
        region: product(span.scaled(1.0 / paces[region].value), paces[region])
        for region, span in ratios.items()
        if region in paces
    }


def at_pace_of(new: Prescription, present: Prescription) -> Prescription:
    """A prescription at the pace of another one: in what the muscle is trained by the pace has no part."""
    return new if new.pace == present.pace else new.paced_as(present)
