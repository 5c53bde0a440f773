"""Joint moments against the inverse dynamics of an independent rigid-body simulator at rest."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from msgspec.structs import replace

from service.knowledge.posture_rules import POSTURE_RULES
from service.mechanics.body import Body
from service.mechanics.demand import JOINTS, Demand
from tests.science.physics.chains import (
    Chain,
    JointMoments,
    moments_of_lead_leg,
    moments_on_both_feet,
    single_leg,
    whole_body,
)
from tests.science.physics.lifters import Case, random_cases

TOLERANCE = 1e-6  # [N·m]

Simulated = Callable[[Chain, Body, Demand], JointMoments]


@pytest.fixture(scope="module")
def both_feet() -> list[Case]:
    return random_cases(600, ("squat", "hinge", "pull"))


@pytest.fixture(scope="module")
def split_stances() -> list[Case]:
    return random_cases(200, ("split",))


def largest_difference(
    chain: Chain, simulated: Simulated, case: Case, body: Body, joints: tuple[str, ...] = JOINTS
) -> float:
    """Largest difference [N·m] between the model's moments and those of the simulator for `body`."""
    moments = simulated(chain, body, case.demand)
    return float(max(abs(getattr(moments, joint) - getattr(case.demand.moments, joint)) for joint in joints))


def test_moments_on_both_feet_are_those_of_the_simulator(both_feet: list[Case]) -> None:
    chain = whole_body()
    worst = max(largest_difference(chain, moments_on_both_feet, case, case.body) for case in both_feet)
    assert len(both_feet) >= 500
    assert worst < TOLERANCE


def test_every_exercise_and_carry_was_among_the_cases(both_feet: list[Case], split_stances: list[Case]) -> None:
    cases = both_feet + split_stances
    assert {case.demand.setup.carry.kind for case in cases} == {
        "trunk",
        "pelvis",
        "hands_at_foot",
        "hands_at_side",
        "hands_at_shoulder",
    }
    assert len({case.demand.exercise for case in cases}) == len(POSTURE_RULES)
    assert any(case.demand.limited_by for case in cases)
    assert any(case.demand.setup.thigh_projection < 1.0 for case in cases)


def test_moments_of_a_lead_leg_are_those_of_the_simulator(split_stances: list[Case]) -> None:
    chain = single_leg()
    legs = ("ankle", "knee", "hip")
    worst = max(largest_difference(chain, moments_of_lead_leg, case, case.body, legs) for case in split_stances)
    assert worst < TOLERANCE


def test_lumbosacral_moment_of_a_split_stance_is_that_of_the_simulator(split_stances: list[Case]) -> None:
    chain = whole_body()
    spine = ("lumbosacral",)
    worst = max(largest_difference(chain, moments_on_both_feet, case, case.body, spine) for case in split_stances)
    assert worst < TOLERANCE


WRONG_CENTRES: dict[str, Callable[[Body], Body]] = {
    "thigh": lambda body: replace(body, thigh_centre=body.thigh_centre + 0.001),
    "shank": lambda body: replace(body, shank_centre=body.shank_centre + 0.001),
    "upper body": lambda body: replace(
        body,
        upper_centre_at_bar=body.upper_centre_at_bar + 0.001,
        upper_centre_hanging=body.upper_centre_hanging + 0.001,
    ),
    "above the lumbosacral joint": lambda body: replace(
        body,
        above_centre_at_bar=body.above_centre_at_bar + 0.001,
        above_centre_hanging=body.above_centre_hanging + 0.001,
    ),
}


@pytest.mark.parametrize("segment", WRONG_CENTRES)
def test_the_check_notices_a_centre_of_mass_that_is_wrong_by_a_thousandth(both_feet: list[Case], segment: str) -> None:
    chain = whole_body()
    wrong = WRONG_CENTRES[segment]
    noticed = [
        largest_difference(chain, moments_on_both_feet, case, wrong(case.body)) > TOLERANCE
        for case in both_feet
        if abs(case.demand.posture.shin_angle) > 0.01
    ]
    assert len(noticed) > 300
    assert all(noticed)


def test_the_lead_leg_check_notices_a_wrong_centre_of_mass(split_stances: list[Case]) -> None:
    chain = single_leg()
    legs = ("ankle", "knee", "hip")
    assert all(
        largest_difference(chain, moments_of_lead_leg, case, WRONG_CENTRES["thigh"](case.body), legs) > TOLERANCE
        for case in split_stances
    )
