"""Moments of the arm against the gradient of potential energy: each angle of the arm changed a little by itself."""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np
import pytest
from msgspec.structs import replace

from service.mechanics.arm.forces import hand_force
from service.mechanics.arm.moments import arm_moments, own_weight, weight_direction
from service.mechanics.arm.pose import ArmPose, JointAngles, Trunk, elevation, pose_of_angles, trunk_at
from service.mechanics.arm.segments import Arm, arm_of
from service.mechanics.arm.vectors import Vector, dot, length, minus, plus, times
from service.mechanics.body import GRAVITY, build_body
from tests.science.physics.arms import random_arm_cases

STEP = 1e-4  # [rad]
TOLERANCE = 1e-4  # [N·m]: the numerical gradient's own error

ANGLES = ("elevation", "plane", "rotation", "flexion")


def energy(arm: Arm, pose: ArmPose, force: Vector, line: float) -> float:
    """Potential energy of the arm's own weight and of a constant force on the hand [J]."""
    down = times(GRAVITY, weight_direction(line))
    masses = [
        (arm.upper_arm_mass, times(arm.upper_arm_centre, pose.upper_arm)),
        (arm.forearm_mass, plus(pose.elbow, times(arm.forearm_centre, pose.forearm))),
        (arm.hand_mass, plus(pose.wrist, times(arm.hand_centre, pose.forearm))),
    ]
    return -dot(force, pose.grip) - sum(mass * dot(down, position) for mass, position in masses)


def by_virtual_work(arm: Arm, angles: JointAngles, trunk: Trunk, force: Vector, line: float) -> dict[str, float]:
    """What holds each angle: the energy won by increasing it [N·m]."""
    held = {}
    for name in ANGLES:
        one, other = (replace(angles, **{name: getattr(angles, name) + step}) for step in (STEP, -STEP))
        change = energy(arm, pose_of_angles(arm, one, trunk), force, line) - energy(
            arm, pose_of_angles(arm, other, trunk), force, line
        )
        held[name] = change / (2 * STEP)
    return held


def worst_of_random_arms(count: int) -> list[float]:
    """Largest deviation of each of some random arms [N·m]."""
    random = np.random.default_rng(20240918)
    worst = []
    for _ in range(count):
        arm = arm_of(build_body(float(random.uniform(45, 150)), float(random.uniform(1.45, 2.05)), "male"))
        angles = JointAngles(
            elevation=radians(float(random.uniform(3, 177))),
            plane=radians(float(random.uniform(-90, 120))),
            rotation=radians(float(random.uniform(-120, 120))),
            flexion=radians(float(random.uniform(3, 150))),
        )
        trunk, line = trunk_at(radians(float(random.uniform(0, 180)))), radians(float(random.uniform(-90, 90)))
        force = hand_force(float(random.uniform(-800, 800)), float(random.uniform(-0.3, 0.3)))
        worst.append(deviation(arm, angles, trunk, force, line))
    return worst


def deviation(arm: Arm, angles: JointAngles, trunk: Trunk, force: Vector, line: float, error: float = 0.0) -> float:
    pose = pose_of_angles(arm, angles, trunk)
    wrong = replace(arm, forearm_centre=arm.forearm_centre + error)
    moments = arm_moments(own_weight(wrong, line), pose, force)
    raised = elevation(pose)
    assert moments.elbow_extension is not None
    expected = by_virtual_work(arm, angles, trunk, force, line)
    found = {
        "elevation": moments.elevation,
        "plane": moments.axial * cos(raised) + moments.horizontal * sin(raised),
        "rotation": -moments.axial,
        "flexion": -moments.elbow_extension,
    }
    return max(abs(found[name] - expected[name]) for name in ANGLES)


def test_moments_of_the_arm_do_the_virtual_work() -> None:
    assert max(worst_of_random_arms(500)) < TOLERANCE


def test_the_check_notices_a_wrong_centre_of_mass() -> None:
    arm = arm_of(build_body(80.0, 1.75, "male"))
    angles = JointAngles(radians(70), radians(20), radians(30), radians(90))
    assert deviation(arm, angles, trunk_at(radians(90)), hand_force(-100.0), 0.0, error=0.001) > TOLERANCE


def test_the_hand_is_where_it_was_asked_to_be_unless_beyond_reach() -> None:
    """The closed form closes: segments keep their lengths, and the forearm its plane."""
    for case in random_arm_cases(300):
        pose, arm = case.state.pose, case.arm
        assert dot(pose.upper_arm, pose.upper_arm) == pytest.approx(1.0)
        assert dot(pose.forearm, pose.forearm) == pytest.approx(1.0)
        if case.setup.lift.hands == "angles":
            continue
        assert pose.elbow.y == pytest.approx(pose.wrist.y)
        straight = case.setup.technique.wrist_bend == 0.0 or case.setup.lift.hands == "free"
        if straight:
            assert length(minus(pose.grip, plus(pose.wrist, times(arm.grip, pose.forearm)))) < 1e-9
