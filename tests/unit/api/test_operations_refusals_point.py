"""A refusal points at what is stated and takes part in the fault, else at the setup, and says what would help."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from copy import deepcopy
from typing import Any, cast

import pytest

from service.errors import Fault, Refusal
from service.knowledge.posture_rules import EXERCISE_RULES
from tests.support.asking import ask, kg

EACH = 60
"""Requests of each kind [count]."""
LIFTS = (*EXERCISE_RULES, "bench_press", "bent_over_row", "lateral_raise")
MAY_BE_MISSING = ("seen_by", "trunk_lean")
"""Fields that a refusal may ask for: how an angle was seen, and the lean of a lift that has none."""
STATED_ALWAYS = ("", "load", "exercise", "lifter", "posture", "prescription")
ANGLES = {"toe_out": (0, 62), "shin_angle": (-16, 52), "trunk_lean": (0, 88), "thigh_angle": (-27, 77)}
LENGTHS = {
    "heel_lift": (0.0, 0.09),
    "stance_width": (0.05, 1.4),
    "bar_forward_of_midfoot": (-0.05, 0.15),
    "foot_spacing": (0.2, 1.45),
}
LIMITS = {
    "ankle_dorsiflexion": (15, 50),
    "hip_flexion": (60, 160),
    "hip_abduction": (10, 65),
    "hip_external_rotation": (5, 60),
}


class Asker:
    """Random requests, most of them odd."""

    def __init__(self, seed: int) -> None:
        self.draw = random.Random(seed)  # noqa: S311 - no secret

    def some(self, fields: Mapping[str, tuple[float, float]], unit: str, part: float) -> dict[str, Any]:
        return {name: self.quantity(ends, unit) for name, ends in fields.items() if self.draw.random() < part}

    def quantity(self, ends: tuple[float, float], unit: str) -> dict[str, Any]:
        return {"value": round(self.draw.uniform(*ends), 2), "unit": unit}

    def lifter(self) -> dict[str, Any]:
        size = {"body_mass": self.quantity((45, 130), "kg"), "stature": self.quantity((1.5, 2.0), "m")}
        return size | self.some(LIMITS, "deg", 0.2)

    def setup(self) -> dict[str, Any]:
        one: dict[str, Any] = {"exercise": self.draw.choice(LIFTS), "load": self.quantity((0, 220), "kg")}
        technique = self.some(ANGLES, "deg", 0.3) | self.some(LENGTHS, "m", 0.15)
        if "thigh_angle" in technique or self.draw.random() < 0.1:
            technique["seen_by"] = self.draw.choice(("eye", "phone_video", "inclinometer"))
        rule = EXERCISE_RULES.get(one["exercise"])
        if rule is None or rule.family != "split":
            technique.pop("foot_spacing", None)
            if rule is not None and rule.family != "pull" and "seen_by" not in technique:
                technique.pop("trunk_lean", None)  # else nearly all are refused for that
        depth = self.draw.choice([
            {},
            {"thigh_below_horizontal": self.quantity((-78, 28), "deg")},
            {"box_height": self.quantity((0.05, 0.8), "m")},
            {"knee_flexion": self.quantity((5, 160), "deg")},
        ])  # fmt: skip
        return one | ({"technique": technique} if technique else {}) | ({"depth": depth} if depth else {})

    def asked(self, operation: str) -> dict[str, Any]:
        if operation == "leg-distribution":
            angles = {"trunk_lean": (0, 70), "shin_angle": (-16, 52), "thigh_below_horizontal": (-70, 26)}
            stance = self.draw.choice(("split_squat", "rear_foot_elevated_split_squat", "lunge", "step_up"))
            posture = {"lifter": self.lifter()} | self.some(angles, "deg", 0.4)
            spacing = self.some({"foot_spacing": (0.2, 1.4)}, "m", 0.3)
            return {"stance": stance, "load": self.quantity((0, 120), "kg"), "posture": posture} | spacing
        if operation == "adjustments":
            program = {"sets": 3, "reps": {"low": 5, "high": 8}, "reps_in_reserve": 2, "days_per_week": 2}
            complaint = {"region": "low_back", "pain_in_session": 4}
            prescription = self.setup() | program
            return {"lifter": self.lifter(), "prescription": prescription, "complaint": complaint, "aim": "strength"}
        return {"lifter": self.lifter(), "setups": [{"label": label} | self.setup() for label in ("a", "b")]}


def refused(operation: str, request: dict[str, Any]) -> tuple[Fault, ...]:
    try:
        ask(operation, request)
    except Refusal as refusal:
        return refusal.faults
    return ()


def within(request: object, pointer: str) -> dict[str, Any]:
    """What stands at a pointer. Raises LookupError where nothing does."""
    for step in pointer.split("/")[1:]:
        request = request[int(step)] if isinstance(request, list) else cast("dict[str, Any]", request)[step]
    return cast("dict[str, Any]", request)


def all_faults() -> Iterator[Any]:
    for operation in ("joint-demand", "spinal-load", "leg-distribution", "adjustments"):
        asker = Asker(7)
        for number in range(EACH // 3 if operation == "adjustments" else EACH):
            request = asker.asked(operation)
            for fault in refused(operation, request):
                yield pytest.param(operation, request, fault, id=f"{operation}-{number}-{fault.pointer}")


FAULTS = list(all_faults())


def test_enough_is_refused_to_tell() -> None:
    assert len(FAULTS) > EACH


@pytest.mark.parametrize(("operation", "request_", "fault"), FAULTS)
def test_a_refusal_says_what_is_wrong_where_it_is_stated_and_what_would_help(
    operation: str, request_: dict[str, Any], fault: Fault
) -> None:
    assert fault.detail.strip()
    assert fault.allowed
    before, _, field = fault.pointer.rpartition("/")
    if field in MAY_BE_MISSING:
        within(request_, before)
        return
    within(request_, fault.pointer)
    if field in STATED_ALWAYS or field.isdecimal():
        return
    without = deepcopy(request_)
    del within(without, before)[field]
    assert (fault.pointer, fault.detail) not in [(one.pointer, one.detail) for one in refused(operation, without)]


LIFTER = {"body_mass": kg(80), "stature": {"value": 1.78, "unit": "m"}, "sex": "male"}


def fault_of(operation: str, *setups: dict[str, Any], lifter: dict[str, Any] | None = None) -> Fault:
    labelled = [{"label": str(number), "load": kg(100)} | one for number, one in enumerate(setups)]
    (fault,) = refused(operation, {"lifter": lifter or LIFTER, "setups": labelled})
    return fault


def test_where_no_depth_is_stated_none_is_named() -> None:
    upright = {"exercise": "back_squat_high_bar", "technique": {"shin_angle": {"value": -14, "unit": "deg"}}}
    fault = fault_of("joint-demand", upright)
    assert fault.pointer == "/setups/0/technique/shin_angle"
    assert "heel_lift" in (fault.allowed or "")
    deep = upright | {"depth": {"thigh_below_horizontal": {"value": 20, "unit": "deg"}}}
    assert fault_of("joint-demand", deep).pointer.startswith("/setups/0/")


def test_who_would_tip_is_told_the_fields_that_help() -> None:
    drift = {"exercise": "deadlift_conventional", "technique": {"bar_forward_of_midfoot": {"value": 0.15, "unit": "m"}}}
    fault = fault_of("joint-demand", drift)
    assert fault.pointer == "/setups/0/technique/bar_forward_of_midfoot"
    assert "technique/bar_forward_of_midfoot" in (fault.allowed or "")
    assert "balance point" not in (fault.allowed or "")


def test_a_lean_in_the_technique_of_a_lift_without_a_posture_counts_as_that_of_the_setup() -> None:
    lean = {"value": 20, "unit": "deg"}
    lift = {"exercise": "lateral_raise", "load": kg(10)}
    setups = [
        lift | {"label": "as the setup's", "trunk_lean": lean},
        lift | {"label": "in the technique", "technique": {"trunk_lean": lean}},
    ]
    own, technique = ask("spinal-load", {"setups": setups}).setups
    assert technique.moment == own.moment


@pytest.mark.parametrize("limit", sorted(LIMITS))
def test_a_limit_of_the_lifter_is_named_in_a_posture(limit: str) -> None:
    lifter = LIFTER | {limit: {"value": 179, "unit": "deg"}}
    asked = {"stance": "lunge", "load": kg(50), "posture": {"lifter": lifter}}
    assert [fault.pointer for fault in refused("leg-distribution", asked)] == [f"/posture/lifter/{limit}"]
