"""What a moment asks of the shoulder."""

from __future__ import annotations

from math import radians

import pytest

from service.mechanics.arm.moments import HumeralMoment
from service.mechanics.arm.pose import JointAngles, pose_of_angles, trunk_at
from service.mechanics.arm.segments import arm_of
from service.mechanics.arm.shoulder import STRENGTH, Movement, shoulder_demand
from service.mechanics.body import build_body

ARM = arm_of(build_body(80.0, 1.75, "male"))


def demand(plane: float, moment: HumeralMoment, raised: float = 80.0) -> tuple[float, Movement]:
    pose = pose_of_angles(ARM, JointAngles(radians(raised), radians(plane), 0.0, radians(90)), trunk_at(radians(90)))
    found = shoulder_demand(pose, moment)
    return found.weighed, found.leading


@pytest.mark.parametrize(
    ("plane", "moment", "strength", "leading"),
    [
        (0, HumeralMoment(0, 10, 0), STRENGTH.abduction, "raising"),
        (0, HumeralMoment(0, -10, 0), STRENGTH.adduction, "lowering"),
        (90, HumeralMoment(0, 10, 0), STRENGTH.flexion, "raising"),
        (90, HumeralMoment(0, -10, 0), STRENGTH.extension, "lowering"),
        (-90, HumeralMoment(0, 10, 0), STRENGTH.extension, "raising"),
        (-90, HumeralMoment(0, -10, 0), STRENGTH.flexion, "lowering"),
        (0, HumeralMoment(0, 0, 10), STRENGTH.horizontal_forward, "forward"),
        (0, HumeralMoment(0, 0, -10), STRENGTH.horizontal_backward, "backward"),
        (0, HumeralMoment(10, 0, 0), STRENGTH.inward_rotation, "inward_rotation"),
        (0, HumeralMoment(-10, 0, 0), STRENGTH.outward_rotation, "outward_rotation"),
    ],
)
def test_a_part_alone_is_weighed_by_its_movement(
    plane: float, moment: HumeralMoment, strength: float, leading: str
) -> None:
    weighed, found = demand(plane, moment)
    assert weighed == pytest.approx(10 / strength)
    assert found == leading


def test_the_leading_part_is_the_largest_for_its_strength_not_the_largest() -> None:
    assert demand(0, HumeralMoment(0, 40, 60))[1] == "raising"


def test_an_arm_in_line_with_the_trunk_is_flexed_when_it_hangs_and_extended_when_it_is_up() -> None:
    forward = HumeralMoment(0, 10, 0)
    assert demand(0, forward, raised=0.0)[0] == pytest.approx(10 / STRENGTH.flexion)
    assert demand(0, forward, raised=180.0)[0] == pytest.approx(10 / STRENGTH.extension)
