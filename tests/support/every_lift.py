"""Requests of every lift and region of the catalogue, and what a refusal of one may say."""

from __future__ import annotations

from itertools import product
from typing import Any, Final

from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS
from tests.support.asking import Answered, ask
from tests.support.consultations import quantity

LIFTS: Final = sorted(EXERCISES)
LIFTS_AND_REGIONS: Final = list(product(LIFTS, sorted(REGIONS)))
LIFTER: Final = {"body_mass": quantity(77, "kg"), "stature": quantity(174, "cm")}


def prescription(exercise: str, load: float = 60) -> dict[str, Any]:
    return {
        "exercise": exercise,
        "sets": 4,
        "reps": {"low": 6, "high": 8},
        "load": quantity(load, "kg"),
        "reps_in_reserve": 2,
        "days_per_week": 2,
    }


def way_back(adjusted: str, original: str, region: str) -> dict[str, Any]:
    return {
        "lifter": LIFTER,
        "original": prescription(original),
        "adjusted": prescription(adjusted, 40),
        "region": region,
        "step": 0.3,
    }


def asked(operation: str, request: dict[str, Any], exercise: str, region: str, pointer: str) -> Answered | None:
    """The answer; None where it was refused at the pointer to the region; whatever else is refused is raised.

    Only a way back between two lifts may be refused, where the original does not load the region.
    """
    loads = EXERCISES[exercise].regions
    try:
        return ask(operation, request)
    except Refusal as refusal:
        if [fault.pointer for fault in refusal.faults] != [pointer]:
            raise
        (fault,) = refusal.faults
        assert region not in loads
        assert operation == "return-plan"
        assert fault.detail == f"{EXERCISES[exercise].name} is not known to load the {REGIONS[region].name.lower()}."
        assert (fault.allowed or "").split(", ") == list(loads)
        return None


def asked_way_back(adjusted: str, original: str, region: str) -> Answered | None:
    """The plan; None where it was refused for the region, or because every way asks for a larger step a week."""
    try:
        return asked("return-plan", way_back(adjusted, original, region), original, region, "/region")
    except Refusal as refusal:
        (fault,) = refusal.faults
        assert fault.pointer == "/step"
        assert "more than 30 % of the original" in fault.detail
        assert region in EXERCISES[original].regions
        return None
