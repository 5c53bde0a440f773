"""The pose of an arm: segments keep their lengths, the elbow is outside, and angles come back."""

from __future__ import annotations

from math import degrees, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.errors import Refusal
from service.mechanics.arm.pose import (
    ArmPose,
    JointAngles,
    behind_the_body,
    elbow_flexion,
    elevation,
    outward_rotation,
    plane_of_elevation,
    pose_of_angles,
    pose_of_free_hand,
    poses_of_hand,
    trunk_at,
)
from service.mechanics.arm.segments import arm_of
from service.mechanics.arm.vectors import Vector, length, minus
from service.mechanics.body import build_body

ARM = arm_of(build_body(80.0, 1.75, "male"))
LYING, UPRIGHT = trunk_at(0.0), trunk_at(radians(90.0))

turns = st.floats(-80.0, 80.0)


def angles_of(pose: ArmPose) -> tuple[float, float, float, float]:
    return elevation(pose), plane_of_elevation(pose), outward_rotation(pose) or 0.0, elbow_flexion(pose)


@given(st.floats(2.0, 178.0), turns, turns, st.floats(2.0, 150.0), st.floats(0.0, 180.0))
def test_joint_angles_come_back(raised: float, plane: float, turn: float, bend: float, trunk: float) -> None:
    angles = JointAngles(*map(radians, (raised, plane, turn, bend)))
    pose = pose_of_angles(ARM, angles, trunk_at(radians(trunk)))
    expected = (angles.elevation, angles.plane, angles.rotation, angles.flexion)
    assert angles_of(pose) == pytest.approx(expected, abs=1e-9)


@given(st.floats(-0.1, 0.3), st.floats(-0.2, 0.2), st.floats(0.2, 0.5), st.sampled_from([-1.0, 1.0]))
def test_a_hand_is_reached_by_segments_of_their_length(side: float, across: float, along: float, sign: float) -> None:
    [pose] = poses_of_hand(ARM, [Vector(side, across, sign * along)], LYING)
    assert length(pose.elbow) == pytest.approx(ARM.upper_arm)
    assert length(minus(pose.wrist, pose.elbow)) == pytest.approx(ARM.forearm)
    assert length(minus(pose.grip, pose.wrist)) == pytest.approx(ARM.grip)
    assert pose.elbow.y == pytest.approx(pose.wrist.y) == pytest.approx(across)


def test_the_elbow_is_outside_the_line_from_shoulder_to_hand() -> None:
    for along in (0.3, -0.3):
        [pose] = poses_of_hand(ARM, [Vector(0.1, 0.0, along)], LYING)
        assert pose.elbow.x > pose.grip.x / 2
        assert elbow_flexion(pose) > radians(60)


def test_a_bent_wrist_takes_the_hand_off_the_line_of_the_forearm() -> None:
    bend = radians(30.0)
    [pose] = poses_of_hand(ARM, [Vector(0.1, -0.1, 0.3)], LYING, bend)
    assert pose.grip.y - pose.wrist.y == pytest.approx(ARM.grip * 0.5)
    assert length(minus(pose.grip, pose.wrist)) == pytest.approx(ARM.grip)
    assert length(minus(pose.wrist, pose.elbow)) == pytest.approx(ARM.forearm)


def test_a_hand_beyond_reach_is_drawn_in_to_the_straight_arm() -> None:
    [pose] = poses_of_hand(ARM, [Vector(0.1, 0.0, 0.9)], LYING)
    assert length(pose.grip) == pytest.approx(ARM.upper_arm + ARM.forearm + ARM.grip)
    assert pose.grip.x == 0.1
    assert pose.hinge is None
    assert outward_rotation(pose) is None
    free = pose_of_free_hand(ARM, 0.0, -0.9, LYING)
    assert free.elbow.z == pytest.approx(-ARM.upper_arm)


def test_hands_farther_apart_than_the_arms_reach_are_refused() -> None:
    with pytest.raises(Refusal) as refused:
        poses_of_hand(ARM, [Vector(0.8, 0.0, 0.1)], LYING)
    assert [fault.pointer for fault in refused.value.faults] == ["/technique/grip_width"]


@pytest.mark.parametrize("bend", [0.0, 40.0])
@pytest.mark.parametrize(
    "grip",
    [Vector(0.01, 0.0, 0.02), Vector(0.01, -0.15, -0.02), Vector(0.1, 0.30, 0.3), Vector(0.1, -0.45, -0.3)],
    ids=["nearer than a folded arm", "nearer and below", "too far across", "too far across and below"],
)
def test_a_hand_where_the_arm_does_not_let_it_come_is_drawn_to_where_it_does(grip: Vector, bend: float) -> None:
    [pose] = poses_of_hand(ARM, [grip], LYING, radians(bend))
    assert length(pose.elbow) == pytest.approx(ARM.upper_arm)
    assert length(minus(pose.wrist, pose.elbow)) == pytest.approx(ARM.forearm)
    assert length(minus(pose.grip, pose.wrist)) == pytest.approx(ARM.grip)
    assert pose.grip.x == pytest.approx(grip.x)
    assert abs(pose.elbow.y) < ARM.upper_arm
    assert pose.grip.z * grip.z > 0


@pytest.mark.parametrize("across", [0.30, -0.45])
def test_a_free_hand_too_far_across_is_drawn_in(across: float) -> None:
    pose = pose_of_free_hand(ARM, across, -0.3, LYING)
    assert length(pose.elbow) == pytest.approx(ARM.upper_arm)
    assert 0.98 * ARM.upper_arm < pose.elbow.y * (1 if across > 0 else -1) < ARM.upper_arm


def test_an_arm_behind_the_body_says_by_how_much() -> None:
    behind = pose_of_angles(ARM, JointAngles(radians(90), radians(-25), 0.0, radians(90)), UPRIGHT)
    before = pose_of_angles(ARM, JointAngles(radians(90), radians(25), 0.0, radians(90)), UPRIGHT)
    assert degrees(behind_the_body([behind])) == pytest.approx(25.0)
    assert behind_the_body([before]) == 0.0


def test_a_trunk_that_turns_with_its_arm_keeps_the_joint_angles() -> None:
    angles = JointAngles(radians(70), radians(-20), radians(15), radians(100))
    lying, upright = (angles_of(pose_of_angles(ARM, angles, trunk)) for trunk in (LYING, UPRIGHT))
    assert lying == pytest.approx(upright)
