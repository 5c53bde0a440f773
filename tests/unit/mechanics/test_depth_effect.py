"""Less depth takes demand off knee, hip and low back, as the measured way of the shin has it."""

from __future__ import annotations

from math import radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.mechanics.body import build_body
from service.mechanics.demand import setup_demand
from service.mechanics.posture import shin_shape, shin_shape_spread
from service.mechanics.setups import Depth
from service.mechanics.uncertainty.comparison import compare
from service.mechanics.uncertainty.propagation import uncertain_demand

BODY = build_body(71.0, 1.73, "male")


def thigh_above(degrees: float) -> Depth:
    return Depth(thigh_below_horizontal=radians(-degrees))


@pytest.mark.parametrize("exercise", ["back_squat_high_bar", "back_squat_low_bar", "front_squat"])
@given(above=st.floats(15.0, 60.0))
def test_a_shallower_squat_asks_less_of_every_region(exercise: str, above: float) -> None:
    level, shallow = setup_demand(BODY, exercise, 85.0), setup_demand(BODY, exercise, 85.0, thigh_above(above))
    for joint in ("hip", "lumbosacral"):
        assert shallow.peaks[joint].moment < level.peaks[joint].moment
    assert shallow.peaks["knee"].moment <= level.peaks["knee"].moment + 1e-9


def test_the_shin_goes_forward_before_the_thigh_is_level() -> None:
    assert shin_shape(radians(45)) > 0.6
    assert shin_shape(radians(20)) > 0.95


def test_how_a_lifter_gets_there_widens_the_effect_of_depth_and_nothing_at_a_level_thigh() -> None:
    assert shin_shape_spread(0.0) == 0.0
    level = uncertain_demand(BODY, "back_squat_high_bar", 85.0)
    widths = []
    for above in (0.001, 30.0, 55.0):
        ratio = compare(uncertain_demand(BODY, "back_squat_high_bar", 85.0, thigh_above(above)), level)["knee"].ratio
        assert ratio is not None
        widths.append((ratio.on_average.high - ratio.on_average.low) / ratio.on_average.value)
    assert widths == sorted(widths)
    assert widths[-1] > 0.1
