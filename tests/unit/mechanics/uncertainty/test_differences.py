"""Changes of a pull with its uncertain inputs, by solving it anew."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest
from msgspec.structs import replace

from service.errors import Refusal
from service.knowledge.posture_rules import POSTURE_RULES, POSTURES
from service.mechanics.body import SegmentLengths, build_body
from service.mechanics.body_variants import length_spread
from service.mechanics.demand import setup_demand
from service.mechanics.peaks import MOMENTS
from service.mechanics.pull_setups import pull_setup
from service.mechanics.setups import Depth, Technique
from service.mechanics.statics import statics_of
from service.mechanics.uncertainty.differences import pull_differences, turns_in_the_air
from service.mechanics.uncertainty.propagation import uncertain_demand

STANDARD = build_body(80.0, 1.78, "male")
PULLS = sorted(name for name, rule in POSTURE_RULES.items() if rule.family == "pull" and "/" not in name)


@pytest.mark.parametrize("exercise", PULLS)
def test_the_inputs_are_those_that_enter(exercise: str) -> None:
    rule = POSTURE_RULES[exercise]
    found = set(pull_differences(setup_demand(STANDARD, exercise, 100.0), None))
    usual = {"shank", "thigh_and_trunk", "foot", "arm", "lumbosacral_level", "above_mass", "shin_angle"}
    usual |= {"shoulder_ahead", "shoulder_drop"}
    usual |= {"shin_to_front"} if rule.line is None else set()
    usual |= {"abduction"} if rule.abduction else set()
    usual |= {"turning_height"} if rule.grip_height is None else set()
    assert found == usual


def test_what_is_measured_or_stated_does_not_move() -> None:
    measured = build_body(80.0, 1.78, "male", SegmentLengths(shank=0.44, thigh=0.43, trunk=0.51, foot=0.27))
    technique = Technique(shin_angle=0.2, trunk_lean=1.0)
    found = set(pull_differences(setup_demand(measured, "deadlift_conventional", 100.0, None, technique), None))
    assert not found & {"shank", "thigh_and_trunk", "foot", "shin_angle", "shoulder_ahead"}


def test_a_bar_on_the_floor_or_on_blocks_does_not_turn_in_the_air() -> None:
    deadlift, romanian = (
        setup_demand(STANDARD, name, 100.0) for name in ("deadlift_conventional", "romanian_deadlift")
    )
    assert not turns_in_the_air(deadlift, None)
    assert not turns_in_the_air(deadlift, Depth(box_height=0.1))
    assert turns_in_the_air(deadlift, Depth(knee_flexion=0.8))
    assert turns_in_the_air(romanian, None)


def test_the_further_ahead_the_shoulder_the_less_the_lower_back_and_the_more_the_lean() -> None:
    down, up = pull_differences(setup_demand(STANDARD, "deadlift_conventional", 100.0), None)["shoulder_ahead"]
    spine, lean = MOMENTS.index("lumbosacral"), len(MOMENTS)
    assert up[spine] < 0.0 < down[spine]
    assert down[lean] < 0.0 < up[lean]


@pytest.mark.parametrize("exercise", ["deadlift_conventional", "deadlift_trap_bar", "romanian_deadlift"])
def test_the_interval_is_that_of_many_lifters(exercise: str) -> None:
    """Drawn anew from the same spreads, the deviation of the low back agrees within a tenth."""
    random = np.random.default_rng(5)
    uncertain = uncertain_demand(STANDARD, exercise, 120.0)
    nominal, pull = uncertain.demand.setup, POSTURES.pull
    base = nominal.pull
    assert base is not None
    assert nominal.closed is not None
    spread, scale = length_spread("male"), STANDARD.stature / 1.75
    shin = POSTURE_RULES[exercise].shin_angle
    moments = []
    for draw in random.standard_normal((3000, 9)):
        limb = draw[1]
        body = replace(
            STANDARD,
            shank=STANDARD.shank * (1 + spread.shank * draw[0]),
            thigh=STANDARD.thigh * (1 + spread.thigh * limb),
            trunk=STANDARD.trunk * (1 - spread.trunk * limb),
            arm=STANDARD.arm * (1 + pull.arm_spread.value * draw[2]),
            lumbosacral_level=STANDARD.lumbosacral_level + 0.04 * draw[3],
        )
        habit = hypot(shin.between, shin.within) * draw[4]
        moved = replace(
            base,
            body=body,
            shin_angle=base.shin_angle + habit,
            ahead=base.ahead + hypot(pull.shoulder_ahead.between * scale, pull.shoulder_ahead.within) * draw[5],
            lowered=base.lowered + hypot(pull.shoulder_drop.between * scale, pull.shoulder_drop.within) * draw[6],
            shin_to_bar=base.shin_to_bar + pull.shin_to_front.between * scale * draw[7],
        )
        air = 0.0 if POSTURE_RULES[exercise].grip_height else hypot(pull.turning_height.between, 0.02) * draw[8]
        try:
            there = pull_setup(exercise, moved, nominal.closed.grip_height + air, nominal.shin_limit, 0.0)
        except Refusal:
            continue
        moments.append(statics_of(body, there).at(there.thigh_angle).lumbosacral)
    assert len(moments) > 2800
    interval = uncertain.intervals["lumbosacral"]
    assert (interval.high - interval.low) / 2 == pytest.approx(float(np.std(moments)), rel=0.15)


@pytest.mark.parametrize("load", [40.0, 70.0, 100.0, 150.0])
def test_near_the_limit_of_tipping_the_interval_is_that_of_lifters_on_both_sides_of_it(load: float) -> None:
    """Shoulder, shin and bar alone decide here: what leaning further does goes with as many as are expected to."""
    body = replace(STANDARD, measured=("shank", "thigh", "trunk", "foot"))
    uncertain = uncertain_demand(body, "deadlift_conventional", load)
    nominal, base = uncertain.demand.setup, uncertain.demand.setup.pull
    assert base is not None
    assert nominal.closed is not None
    pull, shin, scale = POSTURES.pull, POSTURE_RULES["deadlift_conventional"].shin_angle, body.stature / 1.75
    leans = []
    for draw in np.random.default_rng(6).standard_normal((3000, 5)):
        moved = replace(
            base,
            body=replace(body, arm=body.arm * (1 + pull.arm_spread.value * draw[4])),
            shin_angle=base.shin_angle + hypot(shin.between, shin.within) * draw[0],
            ahead=base.ahead + scale * hypot(pull.shoulder_ahead.between, pull.shoulder_ahead.within) * draw[1],
            lowered=base.lowered + scale * hypot(pull.shoulder_drop.between, pull.shoulder_drop.within) * draw[2],
            shin_to_bar=base.shin_to_bar + scale * pull.shin_to_front.between * draw[3],
        )
        try:
            there = pull_setup("deadlift_conventional", moved, nominal.closed.grip_height, nominal.shin_limit, 0.0)
        except Refusal:
            continue
        leans.append(there.trunk_lean)
    found, (low, high) = uncertain.intervals["trunk_lean"], np.percentile(leans, [15.87, 84.13])
    assert (found.low, found.high) == pytest.approx((low, high), abs=0.15 * (high - low))
