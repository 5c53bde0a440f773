"""The single-muscle model of the lumbosacral joint: how it must answer to load, lean, arm and errors."""

from __future__ import annotations

from math import hypot, radians

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from service.errors import Refusal
from service.intervals import Interval
from service.mechanics.spine import SpineSetup, UpperBody, check_lean, extremes, span, spine_load
from tests.support.asking import Answered, ask, kg

masses = st.floats(40, 150)
statures = st.floats(1.4, 2.1)
leans = st.floats(0, 80).map(radians)
loads = st.floats(0, 300)


def on_trunk(load: float, lean: float, along: float = 0.40, anterior: float = 0.0) -> SpineSetup:
    return SpineSetup(load=load, along=along, anterior=anterior, lean=lean)


@given(loads, st.floats(0.1, 100), leans, masses, statures)
def test_more_load_means_more_moment_compression_and_shear(
    load: float, more: float, lean: float, mass: float, stature: float
) -> None:
    assume(lean > 0.01)
    light, heavy = (
        spine_load(on_trunk(each, lean), 0.53 * mass, 0.17 * stature, lean, 0.06) for each in (load, load + more)
    )
    assert heavy.moment > light.moment
    assert heavy.compression > light.compression
    assert heavy.shear > light.shear


@given(loads, leans, st.floats(0.01, 0.5), masses, statures)
def test_more_lean_means_more_moment_and_shear(
    load: float, lean: float, more: float, mass: float, stature: float
) -> None:
    assume(lean + more <= radians(80))
    upright, bent = (
        spine_load(on_trunk(load, each), 0.53 * mass, 0.17 * stature, each, 0.06) for each in (lean, lean + more)
    )
    assert bent.moment > upright.moment
    assert bent.shear > upright.shear


@given(loads, leans, masses, statures, st.floats(0.05, 0.075))
def test_longer_muscle_arm_lowers_the_force_in_proportion(
    load: float, lean: float, mass: float, stature: float, arm: float
) -> None:
    one = spine_load(on_trunk(load, lean), 0.53 * mass, 0.17 * stature, lean, arm)
    other = spine_load(on_trunk(load, lean), 0.53 * mass, 0.17 * stature, lean, 2 * arm)
    assert other.muscle * 2 == pytest.approx(one.muscle)
    assert other.moment == one.moment
    assert other.shear == pytest.approx(one.shear)


@given(loads, leans, masses, statures)
def test_forces_on_the_joint_balance_weight_and_muscle(load: float, lean: float, mass: float, stature: float) -> None:
    found = spine_load(on_trunk(load, lean), 0.53 * mass, 0.17 * stature, lean, 0.06)
    weight = (0.53 * mass + load) * 9.81
    assert hypot(found.compression - found.muscle, found.shear) == pytest.approx(weight)


def test_upright_trunk_without_offset_has_weight_alone() -> None:
    found = spine_load(on_trunk(50, 0.0), 0.53 * 80, 0.17 * 1.75, 0.0, 0.06)
    assert (found.moment, found.shear) == (0, 0)
    assert found.compression == pytest.approx((0.53 * 80 + 50) * 9.81)


def test_bar_ahead_of_the_trunk_adds_moment_even_upright() -> None:
    found = spine_load(on_trunk(50, 0.0, anterior=0.1), 0.53 * 80, 0.17 * 1.75, 0.0, 0.06)
    assert found.moment == pytest.approx(50 * 9.81 * 0.1)


@pytest.mark.parametrize("lean", [-0.01, radians(80.1), 2.0])
def test_lean_outside_the_model_is_refused(lean: float) -> None:
    with pytest.raises(Refusal) as caught:
        check_lean(lean, "trunk_lean")
    assert caught.value.faults[0].pointer == "/trunk_lean"
    assert caught.value.faults[0].allowed == "0 to 80 deg"


@pytest.mark.parametrize("lean", [0.0, radians(40), radians(80)])
def test_lean_inside_the_model_is_not(lean: float) -> None:
    check_lean(lean, "trunk_lean")


exercises = st.sampled_from(
    ["back_squat_high_bar", "front_squat", "split_squat", "deadlift_conventional", "belt_squat"]
)


def setup(label: str, exercise: str, load: float, lean: float) -> dict[str, object]:
    angle = {"value": lean, "unit": "deg"}
    return {"label": label, "exercise": exercise, "load": kg(load), "trunk_lean": angle}


def holds(span: Answered, value: float) -> bool:
    slack = 2e-3 * abs(span.high)  # near the steepest lean the greatest value lies between the ends; it is flat there
    return bool(span.low - slack <= value <= span.high + slack)


@settings(max_examples=60)
@given(exercises, st.floats(1, 250), st.floats(0, 80), st.floats(-1, 1))
def test_span_holds_every_value_inside_the_error_of_the_lean(
    exercise: str, load: float, lean: float, shift: float
) -> None:
    moved_lean = min(80.0, max(0.0, lean + 10 * shift))
    setups = [setup("stated", exercise, load, lean), setup("moved", exercise, load, moved_lean)]
    stated, moved = ask("spinal-load", {"setups": setups}).setups
    for quantity in ("moment", "compression", "shear"):
        span, value = getattr(stated, quantity), getattr(moved, quantity).value
        assert span.low <= span.value <= span.high
        assert holds(span, value)


@settings(max_examples=100)
@given(st.floats(0, 250), leans, st.floats(-1, 1), st.floats(0.05, 0.075), st.floats(36, 44), st.floats(-0.1, 0.15))
def test_corners_of_the_ranges_hold_what_lies_between_them(
    load: float, lean: float, shift: float, arm: float, upper: float, anterior: float
) -> None:
    one = on_trunk(load, lean, anterior=anterior)
    found = extremes(one, UpperBody(Interval(40, 36, 44), 0.30))
    held = min(radians(80), max(0.0, lean + radians(10) * shift))
    inside = spine_load(one, upper, 0.30, held, arm)
    moment = span(found.central.moment, found.least_moment, found.greatest_moment)
    compression = span(found.central.compression, found.least_compression, found.greatest_compression)
    assert holds(moment, inside.moment)
    assert holds(compression, inside.compression)
    assert holds(Interval(found.central.shear, found.least_shear, found.greatest_shear), inside.shear)


@settings(max_examples=60)
@given(exercises, exercises, st.floats(1, 250), st.floats(1, 250), st.floats(0, 80), st.floats(0, 80))
def test_difference_is_claimed_only_where_neither_span_crosses_one(
    one: str, other: str, load: float, other_load: float, lean: float, other_lean: float
) -> None:
    setups = [setup("one", one, load, lean), setup("other", other, other_load, other_lean)]
    first, second = ask("spinal-load", {"setups": setups}).setups
    assert (first.difference, first.relative.compression.value) == ("no_clear_difference", 1)
    ratios = [ratio for ratio in (second.relative.moment, second.relative.compression) if ratio is not None]
    assert all(ratio.low <= ratio.value <= ratio.high for ratio in ratios)
    if second.difference == "lower":
        assert ratios
        assert all(ratio.high <= 1 for ratio in ratios)
    if second.difference == "higher":
        assert ratios
        assert all(ratio.low >= 1 for ratio in ratios)
