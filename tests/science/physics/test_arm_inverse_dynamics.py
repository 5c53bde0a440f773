"""Moments of the arm against the inverse dynamics of an independent simulator, in three dimensions and at rest."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from msgspec.structs import replace

from service.knowledge.arm_lifts import ARM_LIFTS
from service.mechanics.arm.segments import Arm
from service.mechanics.arm.vectors import length, minus
from tests.science.physics.arms import Case, SimulatedArm, held_by_the_model, random_arm_cases

TOLERANCE = 1e-6  # [N·m]
CASES = 600


@pytest.fixture(scope="module")
def cases() -> list[Case]:
    return random_arm_cases(CASES)


def largest_difference(simulated: SimulatedArm, case: Case, arm: Arm) -> float:
    """Largest difference [N·m] between the model's moments and those of the simulator for `arm`."""
    held = simulated.held(arm, case.setup, case.state)
    return max(abs(one - other) for one, other in zip(held, held_by_the_model(case.state), strict=True))


def test_moments_of_the_arm_are_those_of_the_simulator(cases: list[Case]) -> None:
    simulated = SimulatedArm()
    assert len(cases) >= 500
    assert max(largest_difference(simulated, case, case.arm) for case in cases) < TOLERANCE


def test_the_wrist_is_where_the_simulator_has_it(cases: list[Case]) -> None:
    simulated = SimulatedArm()
    for case in cases:
        simulated.held(case.arm, case.setup, case.state)
        assert length(minus(simulated.wrist(), case.state.pose.wrist)) < 1e-9


def test_every_lift_and_kind_of_load_was_among_the_cases(cases: list[Case]) -> None:
    assert {case.setup.lift.id for case in cases} == ARM_LIFTS.keys()
    assert {case.setup.lift.hands for case in cases} == {"fixed", "free", "angles"}
    assert {case.setup.lift.pull for case in cases} == {"down", "up"}
    assert any(case.setup.technique.wrist_bend > 0 for case in cases)
    assert {case.body.sex for case in cases} == {"female", "male", None}


WRONG: dict[str, Callable[[Arm], Arm]] = {
    "centre of the upper arm": lambda arm: replace(arm, upper_arm_centre=arm.upper_arm_centre + 0.0005),
    "centre of the forearm": lambda arm: replace(arm, forearm_centre=arm.forearm_centre + 0.0005),
    "mass of the hand": lambda arm: replace(arm, hand_mass=arm.hand_mass * 1.01),
}


@pytest.mark.parametrize("what", WRONG)
def test_the_check_notices_what_is_a_little_wrong(cases: list[Case], what: str) -> None:
    simulated = SimulatedArm()
    leaning = [case for case in cases if case.setup.lift.hands == "fixed"]  # the centre of an upright forearm is idle
    noticed = [largest_difference(simulated, case, WRONG[what](case.arm)) > TOLERANCE for case in leaning]
    assert len(leaning) > 250
    assert sum(noticed) > 0.98 * len(leaning)
