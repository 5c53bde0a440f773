"""Whether a complaint can be about the lift that it comes with: one answer wherever a region is asked for.

What a lift loads is what the catalogue says of it. The model also computes joints that the lift leaves to the weight of
the body alone, as the lumbosacral joint in belt squats; no change of such a lift is aimed at them.
"""

from __future__ import annotations

from service.adjustment.demand import Present
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS


def check_loaded(exercise: str, region: str, parameter: str) -> None:
    """Check that a lift loads a region: otherwise nothing done to the lift can help it.

    Args:
        exercise: id of the lift
        region: region that is sore
        parameter: name of the argument to which a refusal points

    Raises:
        Refusal: where the lift does not load the region
    """
    lift = EXERCISES[exercise]
    if region not in lift.regions:
        raise Refusal.one(
            parameter, f"{lift.name} is not known to load the {REGIONS[region].name.lower()}.", ", ".join(lift.regions)
        )


def check_comparable(present: Present, region: str, parameter: str) -> None:
    """Check that enough is asked of a region for a share of it to mean anything.

    Args:
        present: present prescription with its demand
        region: region that is sore
        parameter: name of the argument to which a refusal points

    Raises:
        Refusal: where next to nothing is asked of the region
    """
    if region in present.moments and region not in present.comparable:
        lift = EXERCISES[present.prescription.exercise]
        name = REGIONS[region].name.lower()
        others = [one for one in lift.regions if one not in present.moments or one in present.comparable]
        raise Refusal.one(
            parameter,
            f"{lift.name} asks next to nothing of the {name} here, and no share of that says anything.",
            ", ".join(others),
        )
