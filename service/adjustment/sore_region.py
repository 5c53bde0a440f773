"""Whether the way back from another lift can be found for a region: the original has to load it."""

from __future__ import annotations

from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS


def check_loaded(exercise: str, region: str, parameter: str) -> None:
    """Check that a lift loads a region: otherwise nothing says what another lift asks of it against this one.

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
            parameter,
            f"{lift.name} is not known to load the {REGIONS[region].name.lower()}.",
            ", ".join(lift.regions),
            one_of=lift.regions,
        )
