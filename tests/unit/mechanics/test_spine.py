"""The single-muscle model of the lumbosacral joint: how it must answer to load, lean and arm."""

from __future__ import annotations

from math import hypot, radians

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.errors import Refusal
from service.mechanics.spine import SpineSetup, check_lean, spine_load

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
