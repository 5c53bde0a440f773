"""Whether a way back can be measured for a region: it needs something to go by, a demand or loads that compare."""

from __future__ import annotations

from service.adjustment.demand import region_ratio
from service.adjustment.prescription import Prescription, total_load
from service.adjustment.present import Present
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
            parameter, f"{lift.name} is not known to load the {REGIONS[region].name.lower()}.", ", ".join(lift.regions)
        )


def check_measurable(present: Present, new: Prescription, region: str, parameter: str) -> None:
    """Check that something says how much a prescription asks of a region: a number, or loads that can be compared.

    A ratio of loads says nothing of a lift of the body alone; only the same lift of the body alone asks as much again.

    Args:
        present: present prescription with its demand
        new: the prescription that is compared with it
        region: region that is sore
        parameter: name of the argument to which a refusal points

    Raises:
        Refusal: where no number is known and one of the two has no load
    """
    old = present.prescription
    loaded, was_loaded = (bool(total_load(one, present.body.mass)) for one in (new, old))
    same_body = new.exercise == old.exercise and not was_loaded and not loaded
    if (loaded and was_loaded) or same_body or region_ratio(present, new, region) is not None:
        return
    lift, name = EXERCISES[new.exercise].name, REGIONS[region].name.lower()
    field, allowed = ("load", "more than 0") if was_loaded else ("exercise", old.exercise)
    raise Refusal.one(
        f"{parameter}/{field}",
        f"What {lift} asks of the {name} against the original is not known in numbers, and with body mass alone there "
        "is no load to go by: no rise from there can be bounded.",
        f"{allowed}, or a lift of which the demand on the {name} is known in numbers",
    )
