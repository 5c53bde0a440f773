"""How a squat's posture goes with the load, and with the share of the maximum that it is."""

from __future__ import annotations

from math import degrees

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.body import build_body
from service.mechanics.demand import Demand, setup_demand
from service.mechanics.habits import AS_THE_RULE, habit_with
from service.mechanics.setups import Maximum, Technique
from service.mechanics.uncertainty.propagation import uncertain_demand

BODY = build_body(71.0, 1.73, "male")
SQUAT = "back_squat_high_bar"
RULE = EXERCISE_RULES[SQUAT]


def squat(load: float, maximum: float | None = None) -> Demand:
    technique = Technique(maximum=None if maximum is None else Maximum(SQUAT, maximum))
    return setup_demand(BODY, SQUAT, load, technique=technique)


def test_the_usual_load_is_lifted_as_the_rule_has_it() -> None:
    habit = habit_with(BODY, RULE, BODY.mass)
    assert (habit.shin_angle, habit.balance) == pytest.approx((0.0, 0.0))


@pytest.mark.parametrize("exercise", ["back_squat_high_bar", "back_squat_low_bar"])
def test_ranges_hardly_change_from_a_quarter_to_five_quarters_of_body_weight(exercise: str) -> None:
    # squat_balance_loads, eight lifters: a shin and a balance point that are kept would change the lean by six degrees
    light, heavy = (setup_demand(BODY, exercise, share * BODY.mass) for share in (0.25, 1.25))
    assert abs(degrees(light.trunk_lean - heavy.trunk_lean)) < 3.0
    assert abs(degrees(light.bottom.shin_angle - heavy.bottom.shin_angle)) < 3.0


@given(load=st.floats(5.0, 200.0))
def test_shin_and_balance_give_way_towards_the_lean_that_is_kept(load: float) -> None:
    habit = habit_with(BODY, RULE, load)
    lighter = load < BODY.mass
    assert (habit.shin_angle >= 0.0) == lighter
    assert (habit.balance <= 0.0) == lighter


def test_above_seventy_percent_the_shin_comes_back_and_the_trunk_goes_down() -> None:
    at_70, at_80, at_90 = (squat(load, 100.0) for load in (70.0, 80.0, 90.0))
    steps = (
        degrees(at_80.bottom.shin_angle - at_70.bottom.shin_angle),
        degrees(at_90.bottom.shin_angle - at_80.bottom.shin_angle),
    )
    assert all(-1.3 < step < -0.5 for step in steps)
    assert at_70.trunk_lean < at_80.trunk_lean < at_90.trunk_lean


def test_the_maximum_of_another_lift_says_nothing() -> None:
    technique = Technique(maximum=Maximum("front_squat", 60.0))
    assert setup_demand(BODY, SQUAT, 55.0, technique=technique).setup == setup_demand(BODY, SQUAT, 55.0).setup


def test_a_belt_asks_for_no_other_lean_with_another_load() -> None:
    assert habit_with(BODY, EXERCISE_RULES["belt_squat"], 90.0) == AS_THE_RULE


def test_the_shin_is_surer_where_the_share_of_the_maximum_is_known() -> None:
    def width(maximum: float | None) -> float:
        technique = Technique(maximum=None if maximum is None else Maximum(SQUAT, maximum))
        span = uncertain_demand(BODY, SQUAT, BODY.mass, technique=technique).intervals["knee"]
        return span.high - span.low

    assert width(2.0 * BODY.mass) < width(None)
    assert width(1.05 * BODY.mass) > width(2.0 * BODY.mass)
