"""What a lift asks of every joint that takes part in it, and one lift against another."""

from __future__ import annotations

from math import radians

import pytest

from service.adjustment.pace import JOINTS as JOINTS_OF_REGIONS
from service.adjustment.prescription import Prescription
from service.adjustment.present import peak_moments
from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.arm_lifts import ARM_LIFTS, arm_lift_of
from service.knowledge.catalogue import EXERCISES
from service.mechanics.body import build_body
from service.mechanics.demand import setup_demand
from service.mechanics.dynamics import AT_TURN, Met
from service.mechanics.lift_demand import ARM_JOINTS, JOINTS, LiftDemand, lift_demand
from service.mechanics.technique import Technique
from service.mechanics.uncertainty.comparison import verdict_of_ratio
from service.training.volume import Reps

BODY = build_body(80.0, 1.75, "male")
COMPUTED = ("back_squat_high_bar", "deadlift_conventional", "barbell_row", "pull_up", "bench_press", "biceps_curl")


def asked(exercise: str, load: float, technique: Technique | None = None) -> LiftDemand:
    return lift_demand(BODY, exercise, None, load, None, technique)


@pytest.mark.parametrize("exercise", COMPUTED)
def test_the_moments_of_a_search_are_the_central_ones(exercise: str) -> None:
    moments = peak_moments(BODY, Prescription(exercise, 1, Reps(1, 1), 40.0))
    intervals = {str(joint): one for joint, one in asked(exercise, 40.0).intervals.items()}
    found = {JOINTS_OF_REGIONS.get(region, region): moment for region, moment in moments.items()}
    assert found
    for joint, moment in found.items():
        if joint not in ("shoulder", "groin"):  # a shoulder is asked for by strength, the groin by a part of the hip
            assert moment == pytest.approx(intervals[joint].value)
            assert intervals[joint].low <= moment <= intervals[joint].high


def test_a_lift_without_a_model_asks_nothing() -> None:
    assert asked("leg_press", 100.0) == LiftDemand(None, None, None)
    assert asked("leg_press", 100.0).intervals == {}


def test_legs_are_met_where_their_posture_has_them() -> None:
    squat = setup_demand(BODY, "back_squat_high_bar", 100.0)
    assert all(
        asked("back_squat_high_bar", 100.0).met(joint) == squat.met(joint)
        for joint in JOINTS
        if joint not in ARM_JOINTS
    )
    assert asked("barbell_row", 60.0).met("lumbosacral") is AT_TURN


def test_the_arm_is_met_where_its_moment_is_largest() -> None:
    """A curl hangs at its turn and is hardest with the forearm level, where nothing is accelerated any more."""
    curl = asked("biceps_curl", 30.0)
    assert curl.arm is not None
    met = curl.met("elbow")
    assert met.at_turn < 0.2
    assert met.accelerated == 0.0
    assert curl.arm.demand.elbow.part == pytest.approx(90 / 130, abs=1 / 12)


def test_only_what_is_asked_for_is_compared() -> None:
    heavy, light = asked("bench_press", 100.0), asked("bench_press", 80.0)
    assert list(light.against(heavy, ("elbow",))) == ["elbow"]
    assert light.against(heavy, ("knee", "lumbosacral")) == {}


@pytest.mark.parametrize(
    ("reference", "load", "new", "new_load", "expected"),
    [
        ("bench_press", 100.0, "bench_press", 80.0, "lower"),
        ("overhead_press", 60.0, "overhead_press_dumbbell", 56.0, "higher"),
        ("bench_press", 108.9, "bench_press_narrow_grip", 103.7, "no_clear_difference"),
        ("bench_press", 100.0, "overhead_press", 71.5, "no_clear_difference"),
    ],
)
def test_of_the_shoulder_is_said_what_net_and_weighed_moment_agree_on(
    reference: str, load: float, new: str, new_load: float, expected: str
) -> None:
    found = asked(new, new_load).against(asked(reference, load))["shoulder"]
    assert found.difference == expected


def test_a_pace_enters_ratio_and_verdict() -> None:
    press = asked("bench_press", 100.0)

    def slower(met: Met) -> Interval:
        assert met.at_turn <= 1.0
        return Interval(0.9, 0.88, 0.92)

    slow = press.against(press, pace=slower)
    for joint in ARM_JOINTS:
        ratio = slow[joint].ratio
        assert ratio is not None
        assert (ratio.one.value, ratio.one.low, ratio.one.high) == pytest.approx((0.9, 0.88, 0.92))
        assert slow[joint].difference == "lower"
    assert press.against(press)["shoulder"].difference == "no_clear_difference"


def test_a_verdict_at_another_pace_survives_each_assumption_as_one_at_rest_does() -> None:
    """The interval of a ratio is narrower than what its assumptions do one by one: it does not make the verdict."""
    bench, wide = asked("bench_press", 100.0), asked("bench_press_wide_grip", 85.0)
    pace = Interval(0.955, 0.955, 0.955)
    found = wide.against(bench, pace=lambda _: pace)["elbow"]
    assert found.ratio is not None
    assert verdict_of_ratio(found.ratio.one) == "lower"
    assert found.difference == "no_clear_difference"


def test_nothing_is_said_at_another_pace_of_what_is_no_ratio() -> None:
    bar, dumbbells = asked("bench_press", 80.0), asked("bench_press_dumbbell", 80.0)
    assert bar.against(dumbbells)["elbow"].difference == "higher"
    found = bar.against(dumbbells, pace=lambda _: Interval(0.9, 0.88, 0.92))["elbow"]
    assert (found.ratio, found.difference) == (None, "no_clear_difference")


def test_a_back_is_compared_with_one_of_a_solved_posture() -> None:
    row, deadlift = asked("barbell_row", 60.0), asked("deadlift_conventional", 100.0)
    there, back = row.against(deadlift)["lumbosacral"], deadlift.against(row)["lumbosacral"]
    assert (there.difference, back.difference) == ("lower", "higher")
    assert there.ratio is not None
    assert back.ratio is not None
    assert there.ratio.one.value * back.ratio.one.value == pytest.approx(1.0)


@pytest.mark.parametrize("exercise", ["back_squat_high_bar", "leg_press", "barbell_row"])
def test_a_lean_is_that_of_a_row_alone(exercise: str) -> None:
    upright = Technique(trunk_lean=radians(30.0))
    if exercise == "back_squat_high_bar":
        with pytest.raises(Refusal):
            asked(exercise, 60.0, upright)
    else:
        usual, found = asked(exercise, 60.0).intervals, asked(exercise, 60.0, upright).intervals
        assert (found == usual) == (exercise == "leg_press")


def test_every_table_is_of_an_exercise_with_an_implement_of_its() -> None:
    for lift in ARM_LIFTS.values():
        exercise, _, implement = lift.id.partition("/")
        known = EXERCISES[exercise].implements
        held = lift.implements or ((implement,) if implement else known[:1])
        assert set(held) <= set(known)
        assert all(arm_lift_of(exercise, one) == lift.id for one in held)  # type: ignore[arg-type]
        assert implement or arm_lift_of(exercise, None) == lift.id
    assert arm_lift_of("lateral_raise", "cable") is None
