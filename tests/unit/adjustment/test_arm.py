"""One arm in adjustments: which moments have a number, when relief is sure, and postures that are no moments."""

from __future__ import annotations

from math import degrees, radians
from typing import Any, Final

import pytest
from msgspec.structs import replace

from service.adjustment.arm import PostureChange, arms_of
from service.adjustment.arm_effect import of_arm
from service.adjustment.compared import compared_demand
from service.adjustment.demand import effect_on
from service.adjustment.prescription import Prescription
from service.adjustment.present import present_demand
from service.knowledge.design_choices import CHOICES
from service.mechanics.arm.directions import direction
from service.mechanics.arm.technique import asked_arm_setup
from service.mechanics.arm.uncertain import UncertainArm, uncertain_arm
from service.mechanics.body import build_body
from service.mechanics.depth import Depth
from service.mechanics.technique import Technique
from service.training.volume import Reps
from tests.support.asking import ask, kg

BODY: Final = build_body(84.0, 1.81, "male")
BENCH: Final = Prescription("bench_press", 4, Reps(6, 8), 93.0, 2.0, 2)
ROW: Final = Prescription("barbell_row", 4, Reps(8, 8), 80.0, 2.0, 2)
PULL_UP: Final = Prescription("pull_up", 3, Reps(5, 5), 0.0, 1.0, 2)


def uncertain(prescription: Prescription) -> UncertainArm:
    one = prescription
    setup = asked_arm_setup(BODY, one.exercise, one.implement, one.load, one.depth, one.technique)
    assert setup is not None
    return uncertain_arm(BODY, setup)


def test_a_lighter_press_asks_less_of_the_whole_arm_but_for_the_arm_itself() -> None:
    present, lighter = present_demand(BODY, BENCH), replace(BENCH, load=0.9 * BENCH.load)
    for region in ("shoulder", "elbow", "wrist"):
        effect = effect_on(present, lighter, region)
        assert effect.ratio is not None
        assert effect.ratio == pytest.approx(0.9, abs=0.02)
        assert effect.evidence == "computed"
        assert effect.direction == "lower"
    assert effect_on(present, lighter, "shoulder").ratio > 0.9  # type: ignore[operator]


def test_assistance_asks_less_of_elbow_and_shoulder_in_a_pull_up() -> None:
    present, assisted = present_demand(BODY, PULL_UP), replace(PULL_UP, load=-15.0)
    for region in ("shoulder", "elbow"):
        effect = effect_on(present, assisted, region)
        assert effect.ratio == pytest.approx(1 - 15 / BODY.mass, abs=0.03)


def test_the_ratio_of_another_lift_is_that_of_the_model_with_all_that_is_assumed_of_it() -> None:
    incline = replace(BENCH, exercise="incline_bench_press", load=62.5)
    effect = effect_on(present_demand(BODY, BENCH), incline, "shoulder")
    found = direction(uncertain(incline), uncertain(BENCH), "shoulder")
    assert effect.span == found.ratio
    assert effect.ratio == found.ratio.value  # type: ignore[union-attr]
    assert effect.highest is not None
    assert effect.highest < 1.0


def test_what_an_assumption_turns_is_no_clear_difference_and_unsure() -> None:
    floor = replace(BENCH, exercise="floor_press")
    effect = effect_on(present_demand(BODY, BENCH), floor, "shoulder")
    assert effect.direction == "no_clear_difference"
    assert effect.unsure


def test_relief_of_the_shoulder_is_sure_only_where_net_and_weighed_moment_agree() -> None:
    dumbbells = replace(BENCH, exercise="bench_press_dumbbell", load=54.0)
    weighed, net = (direction(uncertain(dumbbells), uncertain(BENCH), one) for one in ("shoulder", "shoulder_net"))
    assert (weighed.difference, net.difference) == ("lower", "no_clear_difference")
    effect = effect_on(present_demand(BODY, BENCH), dumbbells, "shoulder")
    assert effect.direction == "no_clear_difference"
    assert effect.highest == net.extremes.high  # type: ignore[union-attr]


def test_under_dumbbells_elbow_and_wrist_are_lower_by_statics_and_have_no_number() -> None:
    dumbbells = replace(BENCH, exercise="bench_press_dumbbell", load=45.0)
    for region in ("elbow", "wrist"):
        effect = effect_on(present_demand(BODY, BENCH), dumbbells, region)
        assert (effect.ratio, effect.direction, effect.sources) == (None, "lower", ("statics",))
        back = effect_on(present_demand(BODY, dumbbells), BENCH, region)
        assert (back.ratio, back.direction) == (None, "higher")


def test_a_measurement_stands_where_the_model_is_not_sure() -> None:
    narrow = replace(BENCH, exercise="bench_press_narrow_grip", load=80.0)
    effect = effect_on(present_demand(BODY, BENCH), narrow, "shoulder")
    assert (effect.ratio, effect.direction) == (None, "lower")
    assert "larsen_2021a" in effect.sources


def test_model_and_measurement_that_disagree_make_no_clear_difference() -> None:
    inverted = replace(ROW, exercise="inverted_row", load=0.0)
    assert direction(uncertain(inverted), uncertain(ROW), "shoulder").difference == "lower"
    effect = effect_on(present_demand(BODY, ROW), inverted, "shoulder")  # fenwick_2009 says higher
    assert (effect.ratio, effect.direction) == (None, "no_clear_difference")
    assert effect.sources == ("fenwick_2009",)


def test_a_wide_grip_is_none_for_a_sore_shoulder_however_light() -> None:
    lifter = {"body_mass": kg(84), "stature": {"value": 181, "unit": "cm"}, "sex": "male"}
    bench: dict[str, Any] = {"exercise": "bench_press", "sets": 4, "reps": {"low": 6, "high": 8}, "load": kg(93)}
    complaint = {"region": "shoulder", "pain_in_session": 4}
    asked = {"lifter": lifter, "prescription": bench, "complaint": complaint, "aim": "strength", "limit": 20}
    done = {option.prescription.exercise for option in ask("adjustments", asked).options}
    assert "bench_press_wide_grip" not in done
    assert {"incline_bench_press", "floor_press", "bench_press_dumbbell"} <= done


def test_a_floor_press_eases_a_posture_and_not_surely_the_moment() -> None:
    floor = replace(BENCH, exercise="floor_press", load=90.0)
    effect = effect_on(present_demand(BODY, BENCH), floor, "shoulder")
    assert effect.eased
    assert effect.unsure
    assert effect.posture is not None
    before, after = (uncertain(one).demand.postures.behind_the_body for one in (BENCH, floor))
    assert 10.0 < degrees(effect.posture.behind) < degrees(before - after)


def test_nothing_is_eased_where_the_moment_is_larger() -> None:
    heavier = replace(BENCH, exercise="floor_press", load=1.1 * BENCH.load)
    effect = effect_on(present_demand(BODY, BENCH), heavier, "shoulder")
    assert effect.posture is not None
    assert effect.posture.eases
    assert not effect.eased


@pytest.mark.parametrize(
    ("change", "eases"),
    [
        ({"behind": 10.5}, True),
        ({"behind": 9.5}, False),
        ({"raised": 31.0}, True),
        ({"behind": 10.5, "raised": -31.0}, False),
        ({"behind": 10.5, "turned": -29.0}, True),
        ({"turned": 31.0}, True),
    ],
)
def test_a_posture_eases_where_one_of_it_falls_by_as_much_as_counts_and_none_rises(
    change: dict[str, float], *, eases: bool
) -> None:
    parts = dict.fromkeys(("behind", "raised", "turned"), 0.0) | change
    assert PostureChange(**{name: radians(part) for name, part in parts.items()}).eases is eases
    assert CHOICES.arm.posture.behind == 10.0


def test_the_demand_of_an_option_has_the_interval_of_the_model() -> None:
    present, floor = present_demand(BODY, BENCH), replace(BENCH, exercise="floor_press", load=65.0)
    compared = compared_demand(present, floor)
    assert compared.of_arm == {"shoulder", "elbow", "wrist"}
    assert not compared.with_interval
    assert compared.ratios["shoulder"].low < compared.ratios["shoulder"].value < compared.ratios["shoulder"].high


def test_a_slow_tempo_takes_off_what_the_pace_does_and_keeps_the_ends() -> None:
    present = present_demand(BODY, BENCH)
    floor = replace(BENCH, exercise="floor_press", load=65.0)
    slow = replace(floor, tempo="3-0-3-0")
    plain, paced = effect_on(present, floor, "shoulder"), effect_on(present, slow, "shoulder")
    assert plain.ratio is not None
    assert paced.ratio is not None
    assert paced.ratio <= plain.ratio


def test_an_own_breadth_of_the_shoulders_enters() -> None:
    narrow = replace(BENCH, technique=Technique(grip_width=0.75))
    wide = replace(BODY, shoulder_breadth=1.1 * BODY.shoulder_breadth)
    moments = [arms_of(body).moments(narrow)["shoulder"] for body in (BODY, wide)]
    assert moments[0] != pytest.approx(moments[1], rel=0.01)


def test_a_more_upright_row_asks_less_of_the_low_back() -> None:
    upright = replace(ROW, technique=Technique(trunk_lean=radians(40.0)))
    effect = effect_on(present_demand(BODY, ROW), upright, "low_back")
    assert effect.direction == "lower"


def test_a_lift_without_a_table_of_the_arms_has_no_number_and_its_directions_stand() -> None:
    press = Prescription("overhead_press", 4, Reps(5, 5), 55.0, 2.0, 2)
    landmine = replace(press, exercise="landmine_press", load=30.0)
    present = present_demand(BODY, press)
    assert present.arms is not None
    assert of_arm(present.arms, press, landmine, "shoulder", 1.0) is None
    assert effect_on(present, landmine, "shoulder").direction == "lower"


def test_range_left_out_at_the_bottom_takes_the_arm_less_far_behind_the_body() -> None:
    short = replace(BENCH, depth=Depth(above_bottom=0.1))
    effect = effect_on(present_demand(BODY, BENCH), short, "shoulder")
    assert effect.eased
    assert effect.ratio == pytest.approx(1.0, abs=0.01)


def test_the_range_of_a_dip_comes_back_with_so_much_less_load_that_the_step_holds() -> None:
    lifter = {"body_mass": kg(84), "stature": {"value": 181, "unit": "cm"}, "sex": "male"}
    dip: dict[str, Any] = {"exercise": "dip", "sets": 3, "reps": {"low": 8, "high": 8}, "load": kg(15)}
    adjusted = {**dip, "depth": {"above_bottom": {"value": 5, "unit": "cm"}}}
    asked = {"lifter": lifter, "original": dip, "adjusted": adjusted, "region": "shoulder"}
    first, *_, last = ask("return-plan", asked).steps
    assert first.prescription.load.value < 15.0
    assert all(step.rise is not None for step in (first, last))
    assert first.rise <= CHOICES.return_plan.step
    assert last.prescription.load.value == 15.0
