"""Where the hand is at the bottom of a lift that lies on a bench or on the floor."""

from __future__ import annotations

from math import cos, degrees, radians

import pytest

from service.knowledge.arm_lifts import ARM_LIFTS
from service.mechanics.arm.lifts import ArmTechnique, arm_setup, state_at
from service.mechanics.arm.pose import elevation
from service.mechanics.arm.repetition import arm_demand
from service.mechanics.arm.segments import arm_of
from service.mechanics.arm.touch import led_to, touch_of_abduction, touch_of_grip
from service.mechanics.body import build_body

BODY = build_body(80.0, 1.75, "male")
ARM = arm_of(BODY)
BENCHES = ("bench_press", "bench_press_narrow_grip", "bench_press_wide_grip")


@pytest.mark.parametrize("grip", [1.0, 1.4, 1.7])
def test_one_grip_is_one_lift_by_any_of_its_names(grip: float) -> None:
    """The touch point goes with the grip, so that a narrow bench press is a narrow-grip bench press."""
    moments = [
        arm_demand(BODY, ARM, arm_setup(lift, 100.0, ArmTechnique(grip=grip))).shoulder_net.value for lift in BENCHES
    ]
    assert moments == pytest.approx([moments[0]] * len(moments), rel=2e-3)  # the largest of thirteen parts of two ways


def test_a_narrower_grip_touches_lower_face_up_and_face_down() -> None:
    assert touch_of_grip(ARM_LIFTS["bench_press"], 1.0) == pytest.approx(-0.17)
    assert touch_of_grip(ARM_LIFTS["bench_press_wide_grip"], 1.0) == pytest.approx(-0.17)
    assert touch_of_grip(ARM_LIFTS["bench_press"], 1.4) == pytest.approx(-0.12)
    assert touch_of_grip(ARM_LIFTS["push_up"], 1.0) == pytest.approx(0.17)
    assert touch_of_grip(ARM_LIFTS["push_up"], 2.0) == pytest.approx(0.09)


@pytest.mark.parametrize("bend", [0.0, 30.0])
@pytest.mark.parametrize("lift", ["bench_press", "bench_press_smith", "floor_press", "push_up"])
@pytest.mark.parametrize("angle", [45.0, 60.0, 75.0, 90.0])
def test_the_upper_arm_is_as_far_from_the_trunk_as_is_asked_for(lift: str, angle: float, bend: float) -> None:
    technique = ArmTechnique(abduction=radians(angle), wrist_bend=radians(bend))
    bottom = state_at(BODY, ARM, arm_setup(lift, 0.0 if lift == "push_up" else 60.0, technique), 0.0)
    assert degrees(elevation(bottom.pose)) == pytest.approx(angle, abs=1e-6)


def test_arms_at_the_bottom_touch_where_their_length_says() -> None:
    bench = ARM_LIFTS["bench_press"]
    assert touch_of_abduction(ARM, bench, radians(60.0), 0.0) == pytest.approx(-ARM.upper_arm * cos(radians(60.0)))
    assert touch_of_abduction(ARM, bench, radians(90.0), 0.0) == pytest.approx(0.0, abs=1e-12)


def test_another_bottom_leaves_the_top_where_it_is() -> None:
    bench = ARM_LIFTS["bench_press"]
    points = [(point.across, point.along) for point in bench.path]
    bottom, sticking, top = led_to(bench, -0.20, points)
    assert bottom == pytest.approx((-0.20, 0.20))
    assert sticking == pytest.approx((-0.20, 0.30))
    assert top == points[-1]
    rails = ARM_LIFTS["bench_press_smith"]  # one line, and so it stays
    assert {across for across, _ in led_to(rails, -0.05, [(-0.10, 0.2), (-0.10, 0.5)])} == {-0.05}
