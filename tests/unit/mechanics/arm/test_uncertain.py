"""What a lift asks of the arm, with what is assumed moved."""

from __future__ import annotations

import pytest

from service.knowledge.arm_lifts import ARM_LIFTS
from service.mechanics.arm.lifts import ArmTechnique, arm_setup
from service.mechanics.arm.repetition import peaks_of, repetition
from service.mechanics.arm.segments import arm_of, with_own_arm
from service.mechanics.arm.uncertain import ENDS, QUANTITIES, Move, stops_again, together, uncertain_arm
from service.mechanics.arm_lengths import ArmLengths
from service.mechanics.body import build_body

BODY = build_body(80.0, 1.75, "male")
BENCH = arm_setup("bench_press", 100.0)


def test_every_assumption_is_moved_to_both_ends() -> None:
    moved = uncertain_arm(BODY, BENCH).moved
    assert len(moved) == 18
    assert {move.assumption for move in moved} == {
        "separation",
        "shoulder_breadth",
        "upper_arm",
        "strength",
        "outward",
        "touch",
        "height",
    }


def test_an_interval_is_of_one_standard_deviation_of_spans_that_hold_nine_in_ten() -> None:
    ends = 1.6449
    alone = together(10.0, [(10.0 - ends, 10.0 + 2 * ends)])
    assert (alone.value, alone.low, alone.high) == pytest.approx((10.0, 9.0, 12.0), abs=1e-3)
    both = together(10.0, [(10.0 - 3 * ends, 10.0 + 3 * ends), (10.0 + 4 * ends, 10.0 - 4 * ends)])
    assert (both.low, both.high) == pytest.approx((5.0, 15.0), abs=1e-3)


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_an_interval_has_its_value_inside(quantity: str) -> None:
    found = uncertain_arm(BODY, BENCH).interval(quantity)  # type: ignore[arg-type]
    assert found.low <= found.value <= found.high
    assert found.low < found.high


@pytest.mark.parametrize("length", ["shoulder_breadth", "upper_arm"])
def test_a_measured_length_is_moved_by_the_error_of_measuring_alone(length: str) -> None:
    arm = arm_of(BODY)
    measured = with_own_arm(BODY, ArmLengths(**{length: getattr(arm, length)}))
    by_stature, by_tape = (uncertain_arm(body, BENCH) for body in (BODY, measured))
    assert by_tape.demand == by_stature.demand
    for end in ENDS:
        move = Move(length, end)  # type: ignore[arg-type]
        off = (abs(found.moved[move].elbow.value - found.demand.elbow.value) for found in (by_stature, by_tape))
        usual, now = off
        assert 0 < now < 0.95 * usual


def test_a_measured_grip_stays_as_wide_on_other_shoulders() -> None:
    ratio = 1.5
    known, usual = (
        arm_setup("bench_press", 100.0, ArmTechnique(grip=ratio, grip_measured=measured)) for measured in (True, False)
    )
    broad = Move("shoulder_breadth", "high")
    one, other = (uncertain_arm(BODY, setup).moved[broad] for setup in (known, usual))
    assert one.shoulder_net.value < other.shoulder_net.value


def test_the_measured_sideways_force_moves_by_a_tenth_and_an_assumed_one_over_its_span() -> None:
    bench = uncertain_arm(BODY, BENCH)
    tenth = uncertain_arm(BODY, arm_setup("bench_press", 100.0, ArmTechnique(outward=-0.011 + 0.1)))
    assert bench.moved[Move("outward", "high")].shoulder_net == tenth.demand.shoulder_net
    press = uncertain_arm(BODY, arm_setup("overhead_press", 60.0))
    quarter = uncertain_arm(BODY, arm_setup("overhead_press", 60.0, ArmTechnique(outward=0.25)))
    assert press.moved[Move("outward", "high")].elbow == quarter.demand.elbow


def test_only_what_is_weighed_depends_on_strength() -> None:
    found = uncertain_arm(BODY, BENCH)
    weaker = found.moved[Move("strength", "low", ("horizontal_forward", "horizontal_backward"))]
    assert weaker.shoulder_net == found.demand.shoulder_net
    assert weaker.shoulder.demand.weighed > found.demand.shoulder.demand.weighed


@pytest.mark.parametrize("exercise", ARM_LIFTS)
def test_what_is_moved_is_looked_at_where_something_is_largest_as_assumed(exercise: str) -> None:
    for load in (20.0, 75.0):
        setup = arm_setup(exercise, load)
        demand = uncertain_arm(BODY, setup).demand
        states = repetition(BODY, arm_of(BODY), setup)
        again = peaks_of([states[stop] for stop in stops_again(demand)])
        assert again == peaks_of(states)
