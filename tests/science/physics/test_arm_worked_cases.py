"""Seventeen arms under a load worked out beforehand, to the printed digits.

Source: derived (statics by a separate script, each case confirmed by virtual work).
"""

from __future__ import annotations

import csv
from math import cos, degrees, radians, sin
from pathlib import Path
from typing import Final

import pytest

from service.mechanics.arm.forces import hand_force
from service.mechanics.arm.moments import ArmMoments, arm_moments, own_weight
from service.mechanics.arm.pose import (
    ArmPose,
    JointAngles,
    elbow_flexion,
    elevation,
    plane_of_elevation,
    pose_of_angles,
    poses_of_hand,
    trunk_at,
)
from service.mechanics.arm.segments import Arm
from service.mechanics.arm.vectors import Vector, cross, dot, plus, times
from service.mechanics.body import GRAVITY

CASES = Path(__file__).parents[1] / "reference" / "data" / "arm_cases.csv"
RELATIVE = 1e-5  # six figures are printed
SMALLEST = 1e-5  # [N·m, deg] where nothing is printed

# The arm of the worked cases.
ARM: Final = Arm(
    stature=1.75,
    shoulder_breadth=0.4144,
    shoulder_offset=0.1761,
    upper_arm=0.2832,
    forearm=0.2704,
    grip=0.0700,
    upper_arm_mass=2.168,
    forearm_mass=1.296,
    hand_mass=0.488,
    upper_arm_centre=0.5772 * 0.2832,
    forearm_centre=0.4574 * 0.2704,
    hand_centre=0.0684,
)


def worked_cases() -> list[dict[str, str]]:
    with CASES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def number(row: dict[str, str], name: str) -> float:
    return float(row[name] or 0.0)


def angle(row: dict[str, str], name: str) -> float:
    return radians(number(row, name))


def pose_of(row: dict[str, str]) -> ArmPose:
    trunk, bend = trunk_at(angle(row, "trunk")), angle(row, "wrist_bend")
    names = ("elevation", "plane", "rotation", "flexion")
    if row["pose"] == "hand":
        side = number(row, "grip") * ARM.shoulder_breadth / 2 - ARM.shoulder_offset
        grip = Vector(side, number(row, "across"), number(row, "along"))
        return poses_of_hand(ARM, [grip], trunk, bend)[0]
    with_angles = pose_of_angles(ARM, JointAngles(*(angle(row, name) for name in names)), trunk)
    if row["pose"] == "angles":
        return with_angles
    beyond = Vector(0.0, ARM.grip * sin(bend), ARM.forearm + ARM.grip * cos(bend))
    return poses_of_hand(ARM, [plus(with_angles.elbow, beyond)], trunk, bend)[0]


def moments_of(row: dict[str, str], pose: ArmPose) -> ArmMoments:
    weight = number(row, "load") * GRAVITY / 2
    along = weight if row["pull"] == "up" else -weight
    return arm_moments(own_weight(ARM), pose, hand_force(along, number(row, "outward")))


def shoulder_vector(pose: ArmPose, moments: ArmMoments) -> Vector:
    """The shoulder's moment about the axes of the pose, from its parts about the upper arm's own axes."""
    raising = pose.raising_axis
    of_axes = (
        times(moments.axial, pose.upper_arm),
        times(moments.elevation, raising),
        times(moments.horizontal, cross(pose.upper_arm, raising)),
    )
    return plus(plus(of_axes[0], of_axes[1]), of_axes[2])


def computed(row: dict[str, str]) -> dict[str, float | None]:
    """What the model says, under the names of the printed columns; the shoulder's moment about the trunk's axes."""
    pose = pose_of(row)
    moments = moments_of(row, pose)
    shoulder = shoulder_vector(pose, moments)
    return {
        "abduction_deg": degrees(elevation(pose)),
        "plane_deg": degrees(plane_of_elevation(pose)),
        "elbow_flexion_deg": degrees(elbow_flexion(pose)),
        "shoulder_x": shoulder.x,
        "shoulder_y": dot(shoulder, pose.trunk.head),
        "shoulder_z": dot(shoulder, pose.trunk.front),
        "shoulder_magnitude": moments.shoulder,
        "shoulder_axial": moments.axial,
        "shoulder_elevation": moments.elevation,
        "shoulder_horizontal": moments.horizontal,
        "elbow_extension": moments.elbow_extension,
        "elbow_varus_valgus": moments.elbow_valgus,
        "elbow_magnitude": moments.elbow,
        "wrist_magnitude": moments.wrist,
    }


def largest_deviation(row: dict[str, str]) -> float:
    """Over what is printed of one case, as a fraction of what may be [1]."""
    found = computed(row)
    if row["pose"] == "angles" and number(row, "elevation") in {0.0, 180.0}:
        del found["plane_deg"]  # an arm in line with the trunk is in every plane
    deviations = []
    for name, value in found.items():
        printed = row[f"printed_{name}"]
        if not printed:
            assert value is None, name
            continue
        assert value is not None, name
        deviations.append(abs(value - float(printed)) / max(SMALLEST, RELATIVE * abs(float(printed))))
    return max(deviations)


def test_there_are_seventeen_worked_cases() -> None:
    assert [row["id"] for row in worked_cases()] == [f"K{number:02d}" for number in range(1, 18)]


@pytest.mark.parametrize("row", worked_cases(), ids=lambda row: row["id"])
def test_a_worked_arm_is_as_printed(row: dict[str, str]) -> None:
    assert largest_deviation(row) < 1.0, computed(row)


@pytest.mark.parametrize("row", worked_cases(), ids=lambda row: row["id"])
def test_moments_are_linear_in_the_load_beside_the_weight_of_the_arm(row: dict[str, str]) -> None:
    pose = pose_of(row)
    none, once, twice = (moments_of(row | {"load": str(times * number(row, "load"))}, pose) for times in (0, 1, 2))
    for part in ("axial", "elevation", "horizontal", "elbow_extension", "elbow_valgus"):
        first, second, third = (getattr(each, part) or 0.0 for each in (none, once, twice))
        assert third - second == pytest.approx(second - first, abs=1e-9)


def test_the_sideways_force_enters_linearly() -> None:
    [row] = [row for row in worked_cases() if row["id"] == "K07"]
    pose = pose_of(row)
    moments = [moments_of(row | {"outward": str(outward)}, pose).horizontal for outward in (-0.1, 0.0, 0.1)]
    assert moments[2] - moments[1] == pytest.approx(moments[1] - moments[0], abs=1e-9)


def test_flare_does_not_change_the_net_moment_under_an_upright_forearm() -> None:
    """With the elbow as far below the joint, only the direction of the moment turns."""
    nets = []
    for flare in (45.0, 60.0, 75.0, 90.0):
        elbow_below = 0.30 * ARM.upper_arm
        level = (ARM.upper_arm**2 - elbow_below**2) ** 0.5
        elbow = Vector(level * sin(radians(flare)), -level * cos(radians(flare)), -elbow_below)
        grip = plus(elbow, Vector(0.0, 0.0, ARM.forearm + ARM.grip))
        [pose] = poses_of_hand(ARM, [grip], trunk_at(0.0))
        moments = arm_moments(own_weight(ARM), pose, hand_force(-40.0 * GRAVITY))
        nets.append(moments.shoulder)
    assert nets == pytest.approx([114.05] * 4, abs=0.005)
