"""One arm of a lifter."""

from __future__ import annotations

import pytest

from service.errors import Refusal
from service.knowledge.anthropometry import Sex
from service.mechanics.arm.segments import arm_of, with_own_arm
from service.mechanics.arm_lengths import ArmLengths
from service.mechanics.body import build_body

BODY = build_body(80.0, 1.75, "male")


@pytest.mark.parametrize("sex", ["female", "male", None])
def test_two_arms_have_the_mass_of_the_bodys_arms(sex: Sex | None) -> None:
    body = build_body(70.0, 1.70, sex)
    arm = arm_of(body)
    assert 2 * (arm.upper_arm_mass + arm.forearm_mass + arm.hand_mass) == pytest.approx(body.arms_mass, rel=1e-3)


def test_lengths_are_from_joint_to_joint_and_shorter_than_those_of_the_surface() -> None:
    arm = arm_of(BODY)
    assert 0.355 < (arm.upper_arm + arm.forearm + arm.grip) / BODY.stature < 0.363
    assert arm.upper_arm + arm.forearm + arm.grip < BODY.arm


def test_own_measurements_take_the_place_of_the_table() -> None:
    body = with_own_arm(BODY, ArmLengths(shoulder_breadth=0.44, upper_arm=0.30, forearm=0.25))
    arm = arm_of(body)
    assert body.shoulder_breadth == 0.44
    assert (arm.upper_arm, arm.forearm) == (0.30, 0.25)
    assert arm.shoulder_offset == pytest.approx(0.85 * 0.22)
    assert arm.upper_arm_centre / arm.upper_arm == pytest.approx(arm_of(BODY).upper_arm_centre / arm_of(BODY).upper_arm)


def test_a_length_that_is_of_nobody_of_this_stature_is_refused_by_name() -> None:
    with pytest.raises(Refusal) as refused:
        with_own_arm(BODY, ArmLengths(upper_arm=0.40))
    assert [fault.pointer for fault in refused.value.faults] == ["/lengths/upper_arm"]
