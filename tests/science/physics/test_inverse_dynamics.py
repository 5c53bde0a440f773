"""Joint moments against the inverse dynamics of an independent rigid-body simulator at rest."""

from __future__ import annotations

from collections.abc import Callable
from math import radians

import pytest
from msgspec.structs import replace

from service.knowledge.posture_rules import POSTURE_RULES
from service.mechanics.body import Body
from service.mechanics.demand import JOINTS, Demand
from service.mechanics.frontal import frontal_moments
from tests.science.physics.chains import (
    JointMoments,
    Tree,
    moments_in_split_stance,
    moments_on_both_feet,
    whole_body,
)
from tests.science.physics.lifters import Case, random_cases

TOLERANCE = 1e-6  # [N·m]

Simulated = Callable[[Tree, Body, Demand], JointMoments]


@pytest.fixture(scope="module")
def both_feet() -> list[Case]:
    return random_cases(600, ("squat", "hinge", "pull"))


@pytest.fixture(scope="module")
def split_stances() -> list[Case]:
    return random_cases(200, ("split",))


def largest_difference(
    chain: Tree, simulated: Simulated, case: Case, body: Body, joints: tuple[str, ...] = JOINTS
) -> float:
    """Largest difference [N·m] between the model's moments and those of the simulator for `body`."""
    moments = simulated(chain, body, case.demand)
    left_over = moments.left_over if joints == JOINTS else 0.0
    deviations = (abs(getattr(moments, joint) - getattr(case.demand.moments, joint)) for joint in joints)
    return float(max(left_over, *deviations))


def test_moments_on_both_feet_are_those_of_the_simulator(both_feet: list[Case]) -> None:
    chain = whole_body()
    worst = max(largest_difference(chain, moments_on_both_feet, case, case.body) for case in both_feet)
    assert len(both_feet) >= 500
    assert worst < TOLERANCE


def test_what_a_leg_holds_to_the_side_is_what_the_simulator_finds(both_feet: list[Case]) -> None:
    tree = whole_body()
    for body, demand in both_feet:
        aside = frontal_moments(body, demand.statics, demand.bottom, demand.posture)
        found = moments_on_both_feet(tree, body, demand)
        assert demand.bottom.hip_adductor == pytest.approx(found.hip_adductor, abs=TOLERANCE)
        assert aside.knee_out_of_plane == pytest.approx(found.knee_out_of_plane, abs=TOLERANCE)
        assert found.left_over < TOLERANCE  # balanced, both sides alike, nothing to the side at the spine
        twisted = [abs(demand.setup.stance.thigh - demand.setup.stance.shank) for _, demand in both_feet]
        assert max(twisted) > 0.3


def test_a_lateral_floor_force_changes_what_it_is_said_to_change(both_feet: list[Case]) -> None:
    """Identity E5: nothing about the mediolateral axis, nothing at the spine, and the knee empty."""
    tree = whole_body()
    for body, demand in both_feet:
        aside = frontal_moments(body, demand.statics, demand.bottom, demand.posture)
        found = moments_on_both_feet(tree, body, demand, inward=aside.lateral_force)
        same = (found.ankle, found.hip, found.lumbosacral)
        moments = demand.moments
        if demand.setup.stance.toe_out == demand.setup.stance.shank == 0.0:
            assert same[0] == pytest.approx(moments.ankle, abs=TOLERANCE)
        assert same[1:] == pytest.approx((moments.hip, moments.lumbosacral), abs=TOLERANCE)
        assert found.knee_out_of_plane == pytest.approx(0.0, abs=TOLERANCE)
        assert (found.knee, found.hip_adductor) == pytest.approx((aside.knee, aside.hip_adductor), abs=TOLERANCE)
        assert found.left_over < TOLERANCE


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
    assert any(case.demand.setup.stance.thigh > 0.5 for case in cases)


def test_moments_of_a_split_stance_are_those_of_the_simulator(split_stances: list[Case]) -> None:
    """With the whole lifter in equilibrium on both feet, of which nothing is left over."""
    tree = whole_body()
    worst = max(largest_difference(tree, moments_in_split_stance, case, case.body) for case in split_stances)
    assert worst < TOLERANCE
    on_one_foot = {case.demand.setup.split.inputs.steps_up for case in split_stances if case.demand.setup.split}
    assert on_one_foot == {False, True}


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


@pytest.mark.parametrize("segment", ["thigh", "upper body"])
def test_the_checks_of_split_stances_notice_a_wrong_centre_of_mass(split_stances: list[Case], segment: str) -> None:
    tree, wrong = whole_body(), WRONG_CENTRES[segment]
    seen = [
        largest_difference(tree, moments_in_split_stance, case, wrong(case.body))
        for case in split_stances
        if case.demand.posture.trunk_lean > radians(1.0)
    ]
    assert len(seen) > 150
    assert min(seen) > TOLERANCE


@pytest.mark.parametrize("name", ["foot_spacing", "lead_share"])
def test_a_stance_that_is_off_by_a_thousandth_is_out_of_balance(split_stances: list[Case], name: str) -> None:
    tree = whole_body()
    for case in split_stances:
        setup = case.demand.setup
        assert setup.split is not None
        if name == "foot_spacing" and setup.split.lead_share > 0.99:  # nothing rests where the foot is
            continue
        moved = replace(setup.split, **{name: getattr(setup.split, name) + 0.001})
        wrong = replace(case.demand, setup=replace(setup, split=moved))
        assert moments_in_split_stance(tree, case.body, wrong).left_over > 1000 * TOLERANCE
