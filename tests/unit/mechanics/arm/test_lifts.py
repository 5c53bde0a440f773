"""The arm in each part of a lift of the catalogue."""

from __future__ import annotations

from math import degrees, radians

import pytest
from msgspec.structs import replace

from service.errors import Refusal
from service.knowledge.anthropometry import Sex
from service.knowledge.arm_lifts import ARM_LIFTS
from service.mechanics.arm.lifts import ArmSetup, ArmTechnique, arm_setup, state_at
from service.mechanics.arm.pose import elevation
from service.mechanics.arm.segments import arm_of
from service.mechanics.arm.vectors import length
from service.mechanics.body import GRAVITY, build_body

BODY = build_body(80.0, 1.75, "male")
ARM = arm_of(BODY)


@pytest.mark.parametrize("stature", [1.45, 1.60, 1.75, 1.90, 2.10])
@pytest.mark.parametrize("exercise", ARM_LIFTS)
def test_every_lift_can_be_done_by_every_lifter(exercise: str, stature: float) -> None:
    sexes: tuple[Sex, ...] = ("female", "male")
    for sex in sexes:
        body = build_body(70.0, stature, sex)
        arm = arm_of(body)
        for step in range(9):
            state = state_at(body, arm, arm_setup(exercise, 20.0), step / 8)
            assert length(state.pose.elbow) == pytest.approx(arm.upper_arm)


def test_two_hands_share_the_load_and_one_arm_has_it_alone() -> None:
    both = state_at(BODY, ARM, arm_setup("bench_press", 100.0), 0.0)
    one = state_at(BODY, ARM, arm_setup("dumbbell_row", 30.0), 0.0)
    assert both.force.z == pytest.approx(-50.0 * GRAVITY)
    assert one.force.z == pytest.approx(-30.0 * GRAVITY)


def test_hands_carry_their_share_of_the_body_and_what_is_added() -> None:
    bottom, top = (state_at(BODY, ARM, arm_setup("push_up", 0.0), part) for part in (0.0, 1.0))
    assert bottom.force.z == pytest.approx(0.746 * 80.0 * GRAVITY / 2)
    assert top.force.z == pytest.approx(0.670 * 80.0 * GRAVITY / 2)
    weighted = state_at(BODY, ARM, arm_setup("dip", 20.0), 0.5)
    assert weighted.force.z == pytest.approx(100.0 * GRAVITY / 2)


def test_less_range_leaves_out_the_bottom() -> None:
    whole, less = (state_at(BODY, ARM, _bench(left_out), 0.0).pose.grip.z for left_out in (0.0, 0.3))
    assert whole == pytest.approx(0.20)
    assert less > 0.29
    assert state_at(BODY, ARM, _bench(0.3), 1.0).pose.grip.z == pytest.approx(
        state_at(BODY, ARM, _bench(0.0), 1.0).pose.grip.z
    )


def _bench(left_out: float) -> ArmSetup:
    return arm_setup("bench_press", 100.0, ArmTechnique(left_out=left_out))


def test_a_steeper_bench_raises_the_arm_further() -> None:
    flat, steep = (
        state_at(BODY, ARM, arm_setup("bench_press", 100.0, ArmTechnique(trunk_angle=radians(angle))), 0.5)
        for angle in (0.0, 45.0)
    )
    assert degrees(elevation(steep.pose)) > degrees(elevation(flat.pose)) + 10


def test_a_cable_is_a_weight_turned() -> None:
    """Without the arm's own weight a level cable before an upright trunk is a weight under a level one."""
    light = replace(ARM, upper_arm_mass=0.0, forearm_mass=0.0, hand_mass=0.0)
    cable = arm_setup("one_arm_cable_row", 30.0)
    weight = replace(cable, lift=replace(cable.lift, line=0.0, trunk_angle=180.0))
    one, other = (state_at(BODY, light, setup, 0.4).moments for setup in (cable, weight))
    assert one.shoulder == pytest.approx(other.shoulder, abs=1e-9)
    assert one.horizontal == pytest.approx(other.horizontal)


@pytest.mark.parametrize(
    ("exercise", "technique", "pointer"),
    [
        ("back_squat_high_bar", ArmTechnique(), "exercise"),
        ("bench_press", ArmTechnique(grip=3.0), "technique/grip"),
        ("bench_press_dumbbell", ArmTechnique(grip=1.5), "technique/grip"),
        ("bench_press", ArmTechnique(outward=0.9), "technique/outward"),
        ("bench_press", ArmTechnique(wrist_bend=radians(100)), "technique/wrist_bend"),
    ],
)
def test_what_is_not_computed_for_is_refused_by_name(exercise: str, technique: ArmTechnique, pointer: str) -> None:
    with pytest.raises(Refusal) as refused:
        arm_setup(exercise, 50.0, technique)
    assert [fault.pointer for fault in refused.value.faults] == [f"/{pointer}"]
