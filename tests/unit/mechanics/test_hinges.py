"""The good morning: lifters keep the lean, and the hips go back to balance it."""

from __future__ import annotations

from math import degrees, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.errors import Refusal
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.body import Body, build_body
from service.mechanics.demand import setup_demand
from service.mechanics.setups import Depth, Technique

LIFTER = build_body(80.0, 1.78, "male")
RULE = EXERCISE_RULES["good_morning"]
people = st.builds(
    lambda stature, index, sex: build_body(index * stature**2, stature, sex),
    st.floats(1.5, 2.0),
    st.floats(18.0, 35.0),
    st.sampled_from(["female", "male", None]),
)


@given(body=people, ratio=st.floats(0.0, 1.0))
def test_the_lean_is_kept_whatever_the_load_and_the_hips_go_back(body: Body, ratio: float) -> None:
    assert RULE.trunk_lean is not None
    usual = setup_demand(body, "good_morning", 0.25 * body.mass)
    demand = setup_demand(body, "good_morning", ratio * body.mass)
    assert demand.trunk_lean == pytest.approx(RULE.trunk_lean.mean, abs=1e-9)
    assert demand.posture.knee_flexion == pytest.approx(usual.posture.knee_flexion, abs=1e-9)
    assert (demand.posture.shin_angle < usual.posture.shin_angle) == (ratio > 0.25)
    assert RULE.shin_angle.low <= demand.posture.shin_angle <= RULE.shin_angle.high


@given(body=people, ratio=st.floats(0.0, 2.0))
def test_none_is_refused_and_none_falls_over(body: Body, ratio: float) -> None:
    demand = setup_demand(body, "good_morning", ratio * body.mass)
    assert 50.0 < degrees(demand.trunk_lean) < 80.0
    assert demand.posture.shin_angle >= RULE.shin_angle.low


def test_beyond_the_span_of_the_shin_the_lean_gives_way() -> None:
    straight = Depth(knee_flexion=radians(2.0))
    lighter, heavier = (setup_demand(LIFTER, "good_morning", load, straight) for load in (120.0, 160.0))
    assert lighter.posture.shin_angle == heavier.posture.shin_angle == RULE.shin_angle.low
    assert heavier.trunk_lean < lighter.trunk_lean


def test_with_a_stated_shin_the_knee_gives_way() -> None:
    usual = setup_demand(LIFTER, "good_morning", 40.0)
    stated = setup_demand(LIFTER, "good_morning", 40.0, None, Technique(shin_angle=radians(-5.0)))
    assert stated.trunk_lean == pytest.approx(usual.trunk_lean, abs=1e-9)
    assert stated.posture.knee_flexion > usual.posture.knee_flexion


@pytest.mark.parametrize("depth", [None, Depth(thigh_below_horizontal=radians(-67.0)), Depth(knee_flexion=0.3)])
def test_a_shin_that_no_hinge_balances_is_the_one_refused(depth: Depth | None) -> None:
    with pytest.raises(Refusal) as refusal:
        setup_demand(LIFTER, "good_morning", 40.0, depth, Technique(shin_angle=radians(40.0)))
    [fault] = refusal.value.faults
    assert fault.pointer == "/technique/shin_angle"
    assert fault.allowed is not None
    within = float(fault.allowed.split(" to ")[1].split()[0]) - 1.0
    assert setup_demand(LIFTER, "good_morning", 40.0, depth, Technique(shin_angle=radians(within))).trunk_lean > 0.0


def test_less_depth_asks_less_of_the_back() -> None:
    usual = setup_demand(LIFTER, "good_morning", 40.0)
    thigh = usual.posture.thigh_angle
    stated = Depth(thigh_below_horizontal=-thigh)
    assert setup_demand(LIFTER, "good_morning", 40.0, stated).trunk_lean == pytest.approx(usual.trunk_lean, abs=1e-9)
    higher = Depth(thigh_below_horizontal=-thigh - radians(8.0))
    assert setup_demand(LIFTER, "good_morning", 40.0, higher).moments.lumbosacral < usual.moments.lumbosacral
