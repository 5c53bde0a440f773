"""Loads on the lumbosacral joint with their uncertainty: one posture for all, and what setups share moved together."""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.knowledge.anthropometry import BODY as BODY_TABLES
from service.knowledge.catalogue import EXERCISES
from service.mechanics.body import GRAVITY, build_body
from service.mechanics.body_variants import length_spread, mass_above_range
from service.mechanics.spine import ARM
from service.mechanics.uncertainty.intervals import average_of, interval_of
from service.mechanics.uncertainty.propagation import uncertain_demand
from service.mechanics.uncertainty.spine import LeanFrom, UncertainSpine, against_reference, of_lean, of_posture
from tests.support.asking import ask_drawn, kg

BODY = build_body(80.0, 1.78, "male")
BACK_SQUAT = "back_squat_high_bar"
LIFTER = {"body_mass": kg(80), "stature": {"value": 178, "unit": "cm"}}

exercises = st.sampled_from([BACK_SQUAT, "front_squat", "split_squat", "deadlift_conventional", "belt_squat"])


def solved(exercise: str, load: float) -> UncertainSpine:
    return of_posture(uncertain_demand(BODY, exercise, load))


def leaning(lean_from: LeanFrom, load: float, lean: float = 40.0, exercise: str = BACK_SQUAT) -> UncertainSpine:
    return of_lean(BODY, EXERCISES[exercise], load, radians(lean), lean_from)


@pytest.mark.parametrize("exercise", [BACK_SQUAT, "front_squat", "goblet_squat", "good_morning"])
def test_three_times_the_load_in_the_same_lift_is_sure_to_ask_more(exercise: str) -> None:
    found = against_reference(solved(exercise, 90.0), solved(exercise, 30.0))
    assert (found.load, found.difference) == (3.0, "higher")
    assert found.moment.ratio is not None
    assert found.moment.ratio.one.low > 1.2


@pytest.mark.parametrize("lean_from", ["stated", "assumed"])
def test_so_is_it_at_a_lean_that_is_stated_or_assumed(lean_from: LeanFrom) -> None:
    found = against_reference(leaning(lean_from, 180.0), leaning(lean_from, 60.0))
    assert found.difference == "higher"


def test_the_moment_is_that_of_the_joints_with_its_uncertainty() -> None:
    uncertain = uncertain_demand(BODY, "front_squat", 90.0)
    found = of_posture(uncertain)
    assert found.central.moment == uncertain.values.lumbosacral
    assert interval_of(found.central.moment, found.moment) == uncertain.intervals["lumbosacral"]


def test_muscle_arm_and_mass_above_cancel_where_both_setups_share_them() -> None:
    """The arm alone makes a compression uncertain by a fifth, and of the ratio next to nothing is left."""
    one, other = leaning("assumed", 100.0), leaning("assumed", 110.0)
    span = average_of(one.central.compression, one.compression)
    ratio = against_reference(other, one).compression.ratio
    assert ratio is not None
    assert (span.high - span.low) / (2 * span.value) > 0.15
    assert (ratio.on_average.high - ratio.on_average.low) / 2 < 0.01


def test_stated_leans_are_each_misread_and_assumed_ones_of_one_exercise_go_together() -> None:
    stated, assumed = (against_reference(leaning(how, 105.0), leaning(how, 100.0)) for how in ("stated", "assumed"))
    assert (stated.difference, assumed.difference) == ("no_clear_difference", "higher")


def test_of_the_reference_itself_every_ratio_is_one() -> None:
    one = leaning("stated", 60.0)
    found = against_reference(one, one)
    assert (found.load, found.difference) == (1.0, "no_clear_difference")
    assert found.moment.ratio is not None
    assert (found.moment.ratio.one.low, found.moment.ratio.one.high) == (1.0, 1.0)


def test_a_reference_without_a_load_through_the_spine_gives_no_ratio_of_loads() -> None:
    found = against_reference(solved(BACK_SQUAT, 50.0), solved("belt_squat", 50.0))
    assert (found.load, found.difference) == (None, "higher")


@pytest.mark.parametrize("lean", [15.0, 40.0, 70.0])
def test_spans_at_a_stated_lean_are_those_of_drawn_lifters(lean: float) -> None:
    """Drawn from the stated spreads: mass above, muscle arm, lean as seen, spine's curve, repetition, joint, trunk."""
    z = np.random.default_rng(5).standard_normal((7, 60_000))
    lightest, heaviest = mass_above_range(BODY)
    mass = BODY.above_mass + z[0] * np.where(z[0] < 0, BODY.above_mass - lightest, heaviest - BODY.above_mass)
    per_arm = 1 / ARM.value - z[1] * np.where(z[1] < 0, 1 / ARM.low - 1 / ARM.value, 1 / ARM.value - 1 / ARM.high)
    tilt = radians(lean) + np.radians(6.0) * z[2] + np.radians(5.0) * z[3] + np.radians(3.5) * z[4]
    level = BODY.lumbosacral_level + BODY_TABLES.spread.lumbosacral_level.value * z[5]
    trunk = BODY.trunk * (1 + length_spread("male").trunk * z[6])
    first = trunk * (mass * (BODY.above_centre_hanging - level) + 100.0 * (1 - level))
    moment = GRAVITY * np.sin(tilt) * (first + BODY.arms_mass * BODY.arms_centre)
    compression = moment * per_arm + GRAVITY * np.cos(tilt) * (mass + 100.0)
    found = leaning("stated", 100.0, lean, "barbell_row")
    for drawn, value, changes in (
        (moment, found.central.moment, found.moment),
        (compression, found.central.compression, found.compression),
    ):
        span, (low, high) = interval_of(value, changes), np.percentile(drawn, [15.87, 84.13])
        assert (span.low, span.high) == pytest.approx((low, high), abs=0.12 * (high - low))


def test_forces_follow_from_the_moment_where_it_is_greatest() -> None:
    uncertain = uncertain_demand(BODY, BACK_SQUAT, 100.0)
    demand = uncertain.demand
    lean = demand.statics.at(demand.peaks["lumbosacral"].thigh_angle).trunk_lean
    found = of_posture(uncertain).central
    assert found.shear == pytest.approx(demand.weight_above * sin(lean))
    assert found.compression == pytest.approx(found.moment / ARM.value + demand.weight_above * cos(lean))


@settings(max_examples=60)
@given(exercises, exercises, st.floats(1, 250), st.floats(1, 250), st.floats(0, 80), st.floats(0, 80))
def test_difference_is_claimed_only_where_moment_and_compression_agree(
    one: str, other: str, load: float, other_load: float, lean: float, other_lean: float
) -> None:
    setups = [
        {"label": label, "exercise": exercise, "load": kg(mass), "trunk_lean": {"value": angle, "unit": "deg"}}
        for label, exercise, mass, angle in (("one", one, load, lean), ("other", other, other_load, other_lean))
    ]
    first, second = ask_drawn("spinal-load", {"setups": setups, "lifter": LIFTER}).setups
    assert first.difference == "no_clear_difference"
    for setup in (first, second):
        for quantity in ("moment", "compression", "shear"):
            span = getattr(setup, quantity)
            assert span.low <= span.value <= span.high
    ratios = [ratio for ratio in (second.relative.moment, second.relative.compression) if ratio is not None]
    assert all(ratio.low <= ratio.value <= ratio.high for ratio in ratios)
    if second.difference == "lower":
        assert all(ratio.value < 1 for ratio in ratios)
    if second.difference == "higher":
        assert all(ratio.value > 1 for ratio in ratios)
