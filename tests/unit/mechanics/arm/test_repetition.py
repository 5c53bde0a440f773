"""The largest moments of a repetition and its postures."""

from __future__ import annotations

from math import degrees

import pytest

from service.knowledge.arm_lifts import ARM_LIFTS
from service.mechanics.arm.lifts import arm_setup, state_at
from service.mechanics.arm.repetition import ArmDemand, arm_demand
from service.mechanics.arm.segments import arm_of
from service.mechanics.body import build_body

BODY = build_body(80.0, 1.75, "male")
ARM = arm_of(BODY)


def usual(exercise: str) -> ArmDemand:
    return arm_demand(BODY, ARM, arm_setup(exercise, 40.0))


@pytest.mark.parametrize("exercise", ARM_LIFTS)
def test_what_is_largest_is_there_and_no_finer_look_finds_much_more(exercise: str) -> None:
    setup = arm_setup(exercise, 40.0)
    found = arm_demand(BODY, ARM, setup)
    there = state_at(BODY, ARM, setup, found.shoulder_net.part)
    assert there.moments.shoulder == pytest.approx(found.shoulder_net.value)
    finest = max(state_at(BODY, ARM, setup, step / 300).moments.shoulder for step in range(301))
    assert found.shoulder_net.value <= finest <= 1.005 * found.shoulder_net.value
    bends = [state_at(BODY, ARM, setup, step / 300).moments.elbow_extension or 0.0 for step in range(301)]
    assert max(map(abs, bends)) <= 1.01 * abs(found.elbow.value) + 0.01


@pytest.mark.parametrize(
    ("exercise", "leading"),
    [
        ("bench_press", "forward"),
        ("overhead_press", "raising"),
        ("lateral_raise", "raising"),
        ("pull_up", "lowering"),
        ("seated_row", "backward"),
        ("biceps_curl", "raising"),
    ],
)
def test_the_movement_that_leads_is_the_one_that_the_lift_is_for(exercise: str, leading: str) -> None:
    assert usual(exercise).shoulder.demand.leading == leading


@pytest.mark.parametrize(("exercise", "sign"), [("bench_press", 1), ("dip", 1), ("pull_up", -1), ("barbell_row", -1)])
def test_presses_extend_the_elbow_and_pulls_bend_it(exercise: str, sign: int) -> None:
    assert sign * usual(exercise).elbow.value > 0


def test_a_dip_takes_the_arm_far_behind_the_body_and_an_overhead_press_through_the_provoking_elevations() -> None:
    dip = usual("dip").postures
    press = usual("overhead_press").postures
    assert degrees(dip.behind_the_body) > 30
    assert press.behind_the_body == 0.0
    assert press.in_provoking_elevation > 0.4
    assert press.outward_rotation is not None
    assert degrees(press.outward_rotation) > 60
