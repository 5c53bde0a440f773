"""Every ordered pair of lifts: an answer, or the refusal that one of the two gets by itself."""

from __future__ import annotations

from functools import cache
from typing import Any, Final

import pytest

from service.errors import Refusal
from service.knowledge.catalogue import REGIONS
from tests.support.asking import ask
from tests.support.consultations import quantity
from tests.support.every_lift import LIFTER, LIFTS, asked_way_back

pytestmark = pytest.mark.nightly

FIRST: Final = pytest.mark.parametrize("first", LIFTS)
COMPARED: Final = "front_squat"  # a lift that every operation answers for


def refused(operation: str, first: str, second: str, *, lifter: bool = True) -> tuple[str, str] | None:
    """Pointer and detail of the refusal of two setups; None where they are answered."""
    setups = [
        {"label": label, "exercise": exercise, "load": quantity(40, "kg")}
        for label, exercise in (("a", first), ("b", second))
    ]
    request: dict[str, Any] = {"setups": setups} | ({"lifter": LIFTER} if lifter else {})
    try:
        answer = ask(operation, request)
    except Refusal as refusal:
        (fault,) = refusal.faults
        return fault.pointer, fault.detail
    assert [one.label for one in answer.setups] == ["a", "b"]
    return None


@cache
def by_itself(operation: str, exercise: str, *, lifter: bool) -> tuple[str, str] | None:
    """The field of a setup and the detail for which the lift is refused beside one that never is."""
    found = refused(operation, exercise, COMPARED, lifter=lifter)
    return found and (found[0].removeprefix("/setups/0/"), found[1])


def expected(operation: str, pair: tuple[str, str], *, lifter: bool = True) -> tuple[str, str] | None:
    for place, exercise in enumerate(pair):
        alone = by_itself(operation, exercise, lifter=lifter)
        if alone:
            return f"/setups/{place}/{alone[0]}", alone[1]
    return None


@FIRST
def test_return_plan_from_every_lift_for_every_region(first: str) -> None:
    for original in LIFTS:
        for region in REGIONS:
            asked_way_back(first, original, region)


@FIRST
def test_joint_demand_against_every_lift(first: str) -> None:
    assert by_itself("joint-demand", first, lifter=True) is None  # without a posture rule by what was published
    for other in LIFTS:
        assert refused("joint-demand", first, other) == expected("joint-demand", (first, other))


@FIRST
@pytest.mark.parametrize("lifter", [True, False], ids=["a-lifter", "no-lifter"])
def test_spinal_load_against_every_lift(first: str, *, lifter: bool) -> None:
    alone = by_itself("spinal-load", first, lifter=lifter)
    assert alone is None or alone[0] in ("exercise", "trunk_lean")
    for other in LIFTS:
        wanted = expected("spinal-load", (first, other), lifter=lifter)
        assert refused("spinal-load", first, other, lifter=lifter) == wanted
