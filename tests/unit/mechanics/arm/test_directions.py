"""Which lift asks more of the arm, said only where it survives what is assumed."""

from __future__ import annotations

from math import radians

import pytest

from service.knowledge.arm_lifts import ARM_LIFTS
from service.mechanics.arm.directions import Direction, direction
from service.mechanics.arm.lifts import ArmSetup, ArmTechnique, arm_setup
from service.mechanics.arm.uncertain import QUANTITIES, Quantity, uncertain_arm
from service.mechanics.body import Body, build_body

BODY = build_body(80.0, 1.75, "male")


def directions(body: Body, reference: ArmSetup, new: ArmSetup) -> dict[Quantity, Direction]:
    one, other = (uncertain_arm(body, setup) for setup in (new, reference))
    return {quantity: direction(one, other, quantity) for quantity in QUANTITIES}


@pytest.mark.parametrize("quantity", QUANTITIES[:-1])
def test_less_load_in_the_same_lift_is_less_of_everything(quantity: Quantity) -> None:
    found = directions(BODY, arm_setup("bench_press", 100.0), arm_setup("bench_press", 80.0))[quantity]
    assert found.difference == "lower"
    assert found.change.low <= found.change.value <= found.change.high < 0
    assert found.ratio is not None
    assert 0.75 < found.ratio.low <= found.ratio.value <= found.ratio.high < 0.9
    assert found.turned_by == ()


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_a_lift_does_not_differ_from_itself(quantity: Quantity) -> None:
    same = arm_setup("pull_up", 0.0)
    assert directions(BODY, same, same)[quantity].difference == "no_clear_difference"


def test_dumbbells_spare_the_elbow_and_not_the_shoulder() -> None:
    """83 kg in two dumbbells against 100 kg on a bar, each the most that is lifted."""
    found = directions(BODY, arm_setup("bench_press", 100.0), arm_setup("bench_press_dumbbell", 83.0))
    assert found["elbow"].difference == "lower"
    assert found["elbow"].ratio is not None
    assert found["elbow"].ratio.high < 0.05
    assert found["shoulder_net"].difference == "higher"


def test_nothing_is_in_proportion_to_a_reference_that_is_nothing() -> None:
    found = directions(BODY, arm_setup("bench_press_dumbbell", 83.0), arm_setup("bench_press", 100.0))["elbow"]
    assert found.ratio is None
    assert found.difference == "higher"


def test_a_floor_press_takes_the_arm_less_far_behind_the_body_and_no_moment_away() -> None:
    found = directions(BODY, arm_setup("bench_press", 100.0), arm_setup("floor_press", 100.0))
    assert found["behind_the_body"].difference == "lower"
    assert found["shoulder_net"].difference == "no_clear_difference"


def test_medium_against_wide_grip_is_unclear_at_the_elbow_where_studies_contradict_each_other() -> None:
    found = directions(BODY, arm_setup("bench_press", 100.0), arm_setup("bench_press_wide_grip", 100.0))["elbow"]
    assert found.difference == "no_clear_difference"
    assert "outward" in found.turned_by


def test_what_moves_together_in_one_lift_moves_apart_between_two() -> None:
    """Sideways force and touch point of two grips are not known together, so a small change of grip says nothing."""
    little = directions(BODY, arm_setup("bench_press", 100.0), arm_setup("bench_press", 100.0, ArmTechnique(grip=1.5)))[
        "shoulder_net"
    ]
    assert little.difference == "no_clear_difference"
    assert "outward" in little.turned_by
    assert "touch" in little.turned_by
    assert "height" not in little.turned_by


def test_arms_farther_from_the_trunk_touch_elsewhere() -> None:
    """Three centimetres of the touch point are as much as six degrees of the upper arm: less says nothing."""
    tucked, little_more, flared = (
        arm_setup("bench_press", 100.0, ArmTechnique(abduction=radians(angle))) for angle in (55.0, 58.0, 85.0)
    )
    little = directions(BODY, tucked, little_more)["shoulder_net"]
    assert little.difference == "no_clear_difference"
    assert little.turned_by == ("touch",)
    assert directions(BODY, tucked, flared)["shoulder_net"].difference == "lower"


@pytest.mark.parametrize("exercise", ARM_LIFTS)
def test_every_lift_can_be_compared_for_short_and_tall_lifters(exercise: str) -> None:
    for stature in (1.45, 2.10):
        body = build_body(70.0, stature, "female")
        added = directions(body, arm_setup(exercise, 10.0), arm_setup(exercise, 20.0))
        assert added["shoulder_net"].difference == "higher"
