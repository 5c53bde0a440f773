"""The lifts of a week: what a repetition of each asks of every region, where that is computed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from service.adjustment.maximum import lifted_near, maximum_told
from service.adjustment.pace import JOINTS
from service.adjustment.prescription import Prescription
from service.adjustment.present import uncertain_of
from service.adjustment.week.exposure import Contribution
from service.knowledge.catalogue import EXERCISES
from service.mechanics.body import Body
from service.mechanics.spinal_setups import CARRIES
from service.mechanics.uncertainty.intervals import Changes
from service.mechanics.uncertainty.spine import of_lean


class PlannedLift(Struct, frozen=True):
    """A prescription on its day of the week.

    Attributes:
        day: 1 to 7
        prescription: of that day alone, without days a week
    """

    day: int
    prescription: Prescription


class Asked(Struct, frozen=True):
    """What the hardest repetition of a lift asks of a region.

    Attributes:
        moment: peak on average over repetitions, at rest [N·m]
        changes: with the uncertain inputs
        variant: what two lifts have to have in common to share what is the exercise's own
    """

    moment: float
    changes: Changes
    variant: tuple[str, ...]


def asked_of_regions(body: Body, prescription: Prescription) -> dict[str, Asked]:
    """What a repetition asks of each region whose moment is computed; nothing where none is.

    Args:
        body: the lifter
        prescription: as it is done, with the lifter's limits in its technique

    Raises:
        Refusal: for a posture that cannot be had
    """
    told = maximum_told(
        prescription.exercise, prescription.posture, prescription.load, prescription.reps.high, prescription.reserve
    )
    uncertain = uncertain_of(body, lifted_near(told, prescription))
    if uncertain is not None:
        return {
            region: Asked(getattr(uncertain.values, joint), uncertain.changes[joint], uncertain.variant)
            for region, joint in JOINTS.items()
        }
    exercise = EXERCISES[prescription.exercise]
    lean = exercise.lean_in_radians
    if exercise.carry not in CARRIES or lean is None or "low_back" not in exercise.regions:
        return {}
    spine = of_lean(body, exercise, prescription.load, lean, "assumed")
    return {"low_back": Asked(spine.central.moment, spine.moment, spine.variant)}


def contributions(
    week: Sequence[PlannedLift], asked: Sequence[Mapping[str, Asked]], region: str
) -> list[Contribution | None]:
    """What each lift asks of one region in the week; None of lifts whose moment there is not known.

    Args:
        week: its lifts
        asked: of each of them
        region: region whose exposure it is
    """
    return [
        Contribution(one.day, one.prescription.reps_a_session, max(0.0, known.moment), known.changes, known.variant)
        if (known := of_lift.get(region)) is not None
        else None
        for one, of_lift in zip(week, asked, strict=True)
    ]
