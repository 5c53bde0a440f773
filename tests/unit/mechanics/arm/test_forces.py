"""The force of the hand on what it holds."""

from __future__ import annotations

import pytest

from service.knowledge.arm_figures import HAND_FORCES, HandForce
from service.mechanics.arm.forces import hand_force, measured_outward
from service.mechanics.arm.vectors import Vector


@pytest.mark.parametrize("row", HAND_FORCES, ids=lambda row: str(row.grip))
def test_a_measured_grip_has_its_measured_share(row: HandForce) -> None:
    assert measured_outward(row.grip) == pytest.approx(row.outward)


def test_between_grips_by_proportion_and_beyond_them_as_the_nearest() -> None:
    assert measured_outward(1.55) == pytest.approx((-0.011 + 0.144) / 2)
    assert measured_outward(0.5) == HAND_FORCES[0].outward
    assert measured_outward(2.5) == HAND_FORCES[-1].outward


def test_a_hand_that_pushes_outward_is_pushed_inward_whichever_way_the_load_pulls() -> None:
    assert hand_force(-500.0, 0.2) == Vector(-100.0, 0.0, -500.0)
    assert hand_force(500.0, 0.2) == Vector(-100.0, 0.0, 500.0)
