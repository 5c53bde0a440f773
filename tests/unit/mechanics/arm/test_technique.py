"""How the arms do a lift as it was asked for."""

from __future__ import annotations

from math import pi, radians

import pytest

from service.mechanics.arm.lifts import AS_USUAL, ArmSetup, state_at
from service.mechanics.arm.segments import arm_of
from service.mechanics.arm.technique import asked_arm_setup
from service.mechanics.body import build_body
from service.mechanics.depth import Depth
from service.mechanics.seen import Seen
from service.mechanics.technique import Technique

BODY = build_body(80.0, 1.75, "male")
ARM = arm_of(BODY)


def asked(exercise: str, depth: Depth | None = None, technique: Technique | None = None) -> ArmSetup:
    setup = asked_arm_setup(BODY, exercise, None, 60.0, depth, technique)
    assert setup is not None
    return setup


def test_nothing_asked_for_is_the_lifts_table() -> None:
    for exercise in ("bench_press", "barbell_row", "lateral_raise", "bench_press_partial"):
        assert asked(exercise).technique == AS_USUAL
        assert asked(exercise, None, Technique()).technique == AS_USUAL


def test_another_implement_is_another_table_or_none() -> None:
    dumbbells = asked_arm_setup(BODY, "floor_press", "dumbbells", 60.0)
    assert dumbbells is not None
    assert (asked("floor_press").lift.hands, dumbbells.lift.hands) == ("fixed", "free")
    assert asked_arm_setup(BODY, "lateral_raise", "cable", 10.0) is None
    assert asked_arm_setup(BODY, "leg_press", None, 10.0) is None


def test_a_grip_in_metres_is_over_the_lifters_shoulders_and_stays_in_metres() -> None:
    technique = asked("bench_press", None, Technique(grip_width=0.60)).technique
    assert technique.grip == pytest.approx(0.60 / BODY.shoulder_breadth)
    assert technique.grip_measured


@pytest.mark.parametrize("ends", [0.95, 2.0])
def test_a_grip_at_the_end_of_its_range_is_computed_with(ends: float) -> None:
    width = ends * BODY.shoulder_breadth
    assert asked("bench_press", None, Technique(grip_width=width * (1 - 1e-12))).technique.grip == pytest.approx(ends)


@pytest.mark.parametrize("angle", [0.0, 80.0])
def test_wrists_at_the_end_of_their_range_are_computed_with(angle: float) -> None:
    """An angle converted from degrees may lie a rounding error beyond its range."""
    beyond = radians(angle) + (5e-10 if angle else -5e-10)
    assert asked("bench_press", None, Technique(wrist_bend=beyond)).technique.wrist_bend == pytest.approx(
        radians(angle)
    )


@pytest.mark.parametrize(
    ("technique", "lean"),
    [
        (Technique(trunk_lean=radians(40)), 40.0),
        (Technique(seen=Seen(None, radians(50), None, "eye")), 50.0),
        (Technique(trunk_lean=radians(40), seen=Seen(None, radians(50), None, "eye")), 50.0),
    ],
)
def test_the_trunk_of_a_row_leans_as_it_was_seen_or_asked_for(technique: Technique, lean: float) -> None:
    found = asked("barbell_row", None, technique).technique.trunk_angle
    assert found == pytest.approx(pi / 2 + radians(lean))


def test_a_lean_is_of_rows_alone_and_a_bench_of_presses() -> None:
    assert asked("overhead_press", None, Technique(trunk_lean=radians(10))).technique.trunk_angle is None
    assert asked("bench_press", None, Technique(bench_angle=radians(-10))).technique.trunk_angle == radians(-10)


@pytest.mark.parametrize(
    "exercise", ["bench_press", "bench_press_partial", "push_up", "dip", "overhead_press", "seated_row"]
)
@pytest.mark.parametrize("stature", [1.55, 1.75, 1.95])
def test_a_lift_turns_as_far_above_its_lowest_point_as_is_asked_for(exercise: str, stature: float) -> None:
    body = build_body(70.0, stature, "female")
    arm = arm_of(body)
    lowest = asked_arm_setup(body, exercise, None, 0.0)
    # a hundredth above what its table leaves out already
    assert lowest is not None
    left_out = lowest.lift.left_out * stature / 1.75
    short = asked_arm_setup(body, exercise, None, 0.0, Depth(above_bottom=left_out + 0.05))
    assert short is not None
    here, there = (state_at(body, arm, setup, 0.0).pose.grip.z for setup in (lowest, short))
    assert abs(there - here) == pytest.approx(0.05, abs=1e-9)
    tops = [state_at(body, arm, setup, 1.0).pose.grip for setup in (lowest, short)]
    assert tops[0] == tops[1]
