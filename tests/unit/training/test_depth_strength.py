"""The maximum of a squat at another depth than a level thigh."""

from __future__ import annotations

from math import radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES
from service.knowledge.posture_rules import POSTURES
from service.training.depth_strength import EXERCISES_BY_DEPTH, strength_at_depth

SHALLOW, LEVEL, DEEP = radians(-25.0), 0.0, radians(20.0)  # design choice: what the studies' words mean
SQUAT = "back_squat_high_bar"


def strength(thigh: float, exercise: str = SQUAT) -> Interval:
    found = strength_at_depth(exercise, thigh)
    assert found is not None
    return found


def test_level_thigh_is_the_reference() -> None:
    assert strength(LEVEL) == Interval(1.0, 1.0, 1.0)


def test_shallower_allows_more_and_the_studies_span_the_interval() -> None:
    found = strength(SHALLOW)
    assert found.value == found.low == pytest.approx(1 / 0.864)  # cotter_2013, abstract
    assert found.high == pytest.approx(1.319)  # enoki_2023, abstract, at a parallel squat of 100 kg


def test_deeper_allows_less_and_one_study_gives_no_span() -> None:
    found = strength(DEEP)
    assert found.value == found.low == found.high == pytest.approx(0.964)  # cotter_2013, abstract


def test_straight_between_the_depths_measured() -> None:
    # design choice
    found = strength(SHALLOW / 2)
    assert found.value == pytest.approx((1 / 0.864 + 1) / 2)
    assert found.high == pytest.approx((1.319 + 1) / 2)


@pytest.mark.parametrize("thigh", [-26.0, 21.0])
def test_nothing_is_said_outside_the_depths_measured(thigh: float) -> None:
    assert strength_at_depth(SQUAT, radians(thigh)) is None


@given(st.floats(SHALLOW, DEEP), st.floats(SHALLOW, DEEP))
def test_deeper_never_allows_more(one: float, other: float) -> None:
    shallow, deep = strength(min(one, other)), strength(max(one, other))
    assert shallow.value >= deep.value
    assert shallow.low >= deep.low
    assert shallow.high >= deep.high
    assert shallow.low <= shallow.value <= shallow.high


@pytest.mark.parametrize("exercise", sorted(EXERCISES_BY_DEPTH))
def test_every_standing_squat_takes_the_back_squats_figures(exercise: str) -> None:
    # our assumption, stated in the data file
    assert (EXERCISES[exercise].family, EXERCISES[exercise].stance) == ("squat", "bilateral")
    assert strength(SHALLOW, exercise) == strength(SHALLOW)


@pytest.mark.parametrize("exercise", ["deadlift_conventional", "bench_press", "leg_press", "split_squat"])
def test_other_lifts_have_no_figures(exercise: str) -> None:
    assert strength_at_depth(exercise, LEVEL) is None


def test_half_squat_is_read_at_the_thigh_angle_where_the_shin_rule_bends_the_knee_to_90_degrees() -> None:
    # design choice, from the shin rule: knee bend = shin angle + 90 degrees less the thigh's angle above the horizontal
    shape = POSTURES.shin_shape
    fraction = dict(zip(shape.thigh_angle, shape.fraction, strict=True))
    at_25 = (fraction[20.0] + fraction[30.0]) / 2
    shin = POSTURES.exercises["back_squat_high_bar"].shin_angle.mean * at_25
    assert shin + 90.0 - 25.0 == pytest.approx(90.0, abs=2.5)  # nearest step of five degrees
