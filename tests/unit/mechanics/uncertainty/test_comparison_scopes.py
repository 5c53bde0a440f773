"""What two setups of one lifter share cancels from their ratio, and what each repetition has for itself does not."""

from __future__ import annotations

from math import radians

import numpy as np
import pytest
from msgspec.structs import replace

from service.mechanics.body import build_body
from service.mechanics.demand import setup_demand
from service.mechanics.peaks import MOMENTS
from service.mechanics.setups import Depth, Technique, at_thigh_angle
from service.mechanics.statics import statics_of
from service.mechanics.uncertainty.comparison import compare
from service.mechanics.uncertainty.propagation import uncertain_demand
from service.mechanics.uncertainty.scopes import EVEN

BODY = build_body(80.0, 1.78)
BACK_SQUAT = "back_squat_high_bar"


def one_repetition(load: float, draw: np.random.Generator) -> float:
    """Largest lumbosacral moment of a repetition whose shin, depth and balance differ from the habit [N·m]."""
    shin, thigh = draw.normal(0.0, radians(2.0), 2)
    setup = setup_demand(BODY, BACK_SQUAT, load, Depth(thigh_below_horizontal=-thigh), Technique()).setup
    scattered = replace(
        setup, shin_angle=setup.shin_angle + shin, shin_limit=1.5, balance=setup.balance + draw.normal(0.0, 0.02)
    )
    scattered = at_thigh_angle(BODY, scattered, Technique(), setup.thigh_angle)
    statics, way = statics_of(BODY, scattered), np.linspace(setup.thigh_angle, 1.4, 9)
    return max(statics.at(float(angle)).lumbosacral for angle in way)


def test_a_lighter_squat_is_as_uncertain_as_two_repetitions_drawn_differ() -> None:
    draw = np.random.default_rng(100)
    drawn = [one_repetition(82.5, draw) / one_repetition(100.0, draw) for _ in range(4000)]
    found = compare(uncertain_demand(BODY, BACK_SQUAT, 82.5), uncertain_demand(BODY, BACK_SQUAT, 100.0))["lumbosacral"]
    assert found.ratio is not None
    low, high = np.percentile(drawn, [15.87, 84.13])
    assert (found.ratio.one.low, found.ratio.one.high) == pytest.approx((low, high), abs=0.01)
    assert 0.87 < found.ratio.on_average.low < found.ratio.on_average.high < 0.90
    assert found.difference == "lower"


@pytest.mark.parametrize("exercise", [BACK_SQUAT, "front_squat", "goblet_squat"])
def test_less_load_asks_less_on_average_however_repetitions_differ(exercise: str) -> None:
    found = compare(uncertain_demand(BODY, exercise, 57.0), uncertain_demand(BODY, exercise, 60.0))
    assert all(found[joint].difference == "lower" for joint in ("ankle", "knee", "hip", "lumbosacral"))
    spans = [ratio for joint in ("ankle", "knee", "hip", "lumbosacral") if (ratio := found[joint].ratio) is not None]
    assert all(ratio.one.low < 1.0 < ratio.one.high for ratio in spans)
    assert all(ratio.on_average.high < 1.0 for ratio in spans)


def test_a_box_ends_the_movement_where_it_stands_and_nothing_about_depth_is_uncertain() -> None:
    seated = setup_demand(BODY, "box_squat", 100.0)
    thigh_below = -seated.setup.thigh_angle
    hip_height = seated.posture.hip.y
    free = uncertain_demand(BODY, "box_squat", 100.0, Depth(thigh_below_horizontal=thigh_below + 0.1))
    box = Depth(box_height=hip_height - BODY.seat_to_hip)
    stopped = uncertain_demand(BODY, "box_squat", 100.0, box)
    column = EVEN.index("thigh_angle")
    assert free.changes["knee"].of_lifter[column] != 0.0
    assert {changes.of_lifter[column] for changes in stopped.changes.values()} == {0.0}


def test_the_spine_s_curve_widens_the_lean_and_no_moment() -> None:
    found = uncertain_demand(BODY, BACK_SQUAT, 100.0)
    seen = [changes.of_lifter[EVEN.index("trunk_residual")] for changes in found.changes.values()]
    assert seen == [*[0.0] * len(MOMENTS), pytest.approx(radians(5.0))]


@pytest.mark.parametrize("exercise", [BACK_SQUAT, "deadlift_conventional", "split_squat"])
def test_a_shin_that_is_stated_differs_between_repetitions_all_the_same(exercise: str) -> None:
    stated = Technique(shin_angle=radians(14.0))
    usual, exact = (uncertain_demand(BODY, exercise, 80.0, None, technique) for technique in (Technique(), stated))
    assert exact.changes["knee"].repeated > 0.25 * usual.changes["knee"].repeated
    assert exact.changes["knee"].variance < usual.changes["knee"].variance
