"""joint-demand of presses, pulls and raises: one arm beside legs and back, how a lift is held, and what is measured."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from service.knowledge.arm_lifts import ARM_LIFTS
from service.mechanics.arm.segments import arm_of
from service.mechanics.body import build_body
from service.mechanics.lift_demand import ARM_JOINTS, JOINTS
from tests.support.asking import ask, faults, kg

LIFTER: dict[str, Any] = {"body_mass": kg(80), "stature": {"value": 1.78, "unit": "m"}, "sex": "male"}
WIDTH = {"value": 60, "unit": "cm"}


def deg(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "deg"}


def cm(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "cm"}


def setup(exercise: str, load: float, **more: Any) -> dict[str, Any]:  # noqa: ANN401 - request values
    return {"exercise": exercise, "load": kg(load), **more}


def answer(*setups: dict[str, Any], lifter: dict[str, Any] = LIFTER) -> Any:  # noqa: ANN401 - an answer
    labelled = [{"label": f"setup {number}", **one} for number, one in enumerate(setups)]
    return ask("joint-demand", {"lifter": lifter, "setups": labelled})


def asked(*setups: dict[str, Any], lifter: dict[str, Any] = LIFTER) -> list[Any]:
    return list(answer(*setups, lifter=lifter).setups)


def joints_of(one: Any) -> set[str]:  # noqa: ANN401 - a part of an answer
    return {joint for joint in JOINTS if getattr(one, joint) is not None}


@pytest.mark.parametrize(
    ("exercise", "load", "joints"),
    [
        ("back_squat_high_bar", 100, set(JOINTS) - set(ARM_JOINTS)),
        ("bench_press", 80, set(ARM_JOINTS)),
        ("push_up", 0, set(ARM_JOINTS)),
        ("biceps_curl", 20, set(ARM_JOINTS)),
        ("barbell_row", 60, {"lumbosacral", *ARM_JOINTS}),
    ],
)
def test_a_lift_has_the_joints_that_take_part_in_it_and_no_others(exercise: str, load: float, joints: set[str]) -> None:
    [one] = asked(setup(exercise, load))
    assert joints_of(one.moments) == joints_of(one.relative) == joints_of(one.difference) == joints
    assert (one.arm is not None) == ("shoulder" in joints)
    assert (one.posture is not None) == ("knee" in joints)
    assert one.evidence == "computed"


def test_lifts_are_compared_in_the_joints_that_both_have() -> None:
    _, row, press = asked(setup("deadlift_conventional", 100), setup("barbell_row", 60), setup("bench_press", 60))
    assert joints_of(row.difference) == {"lumbosacral"}
    assert row.difference.lumbosacral == "lower"
    assert row.arm.difference is None
    assert press.difference is press.relative is None


def test_dumbbells_ask_the_elbow_for_less_and_the_shoulder_for_no_less() -> None:
    bar, dumbbells = asked(setup("bench_press", 100), setup("bench_press_dumbbell", 83))
    assert dumbbells.difference.elbow == "lower"
    assert dumbbells.difference.shoulder != "lower"
    assert dumbbells.relative.shoulder.value > 1
    assert bar.difference.elbow == "no_clear_difference"
    assert bar.arm.elbow.muscles == "extensors"


def test_a_shorter_press_takes_the_arm_less_far_behind_the_body_and_says_that_moments_are_unclear() -> None:
    _, floor = asked(setup("bench_press", 100), setup("floor_press", 100))
    assert floor.arm.difference.behind_the_body == "lower"
    assert floor.difference.shoulder == floor.difference.elbow == "no_clear_difference"
    assert {"outward", "touch"} <= set(floor.arm.unclear_by)


def test_less_assistance_asks_more_of_the_arm() -> None:
    helped, alone = asked(setup("dip", 0, assistance=kg(30)), setup("dip", 0))
    assert 80 / 50 < alone.relative.shoulder.value < 1.75  # the weight of the arm itself is for the lifter
    assert alone.difference.shoulder == alone.difference.elbow == "higher"
    assert helped.arm.posture == alone.arm.posture


# --- how it is held ---------------------------------------------------------------------------------------------------


def test_the_implement_is_what_the_hands_hold() -> None:
    bar, dumbbells = asked(setup("floor_press", 60), setup("floor_press", 60, implement="dumbbells"))
    assert dumbbells.difference.elbow == "lower"
    assert dumbbells.moments.wrist is None
    assert bar.moments.wrist.value > 0


def test_an_implement_of_which_nothing_says_how_it_is_held_has_no_moments() -> None:
    [cable] = asked(setup("lateral_raise", 8, implement="cable"))
    assert cable.moments is cable.arm is None


@pytest.mark.parametrize(
    ("exercise", "technique", "joint", "difference"),
    [
        ("bench_press", {"wrist_bend": deg(40)}, "wrist", "higher"),
        ("bench_press", {"shoulder_abduction": deg(45)}, "shoulder", "higher"),  # the hand is farther from the joint
        ("bench_press", {"grip_width": cm(42)}, "wrist", "higher"),
        ("overhead_press", {"grip_width": cm(80)}, "shoulder", "higher"),
        ("push_up", {"grip_width": cm(20)}, "elbow", "higher"),
    ],
)
def test_what_is_stated_of_the_technique_enters(
    exercise: str, technique: dict[str, Any], joint: str, difference: str
) -> None:
    load = 0 if exercise == "push_up" else 60
    _, stated = asked(setup(exercise, load), setup(exercise, load, technique=technique))
    assert getattr(stated.difference, joint) == difference


def test_a_steeper_bench_raises_the_arm_further() -> None:
    level, declined = asked(setup("bench_press", 60), setup("bench_press", 60, technique={"bench_angle": deg(-20)}))
    usual, steep = asked(
        setup("incline_bench_press", 60), setup("incline_bench_press", 60, technique={"bench_angle": deg(50)})
    )
    highest = [one.arm.posture.elevation_high.value for one in (declined, level, usual, steep)]
    assert highest == sorted(highest)
    assert highest[0] < highest[-1] - 20


def test_less_range_takes_the_arm_less_far_behind_the_body() -> None:
    whole, less = asked(setup("bench_press", 60), setup("bench_press", 60, depth={"above_bottom": cm(10)}))
    assert less.arm.difference.behind_the_body == "lower"
    assert less.arm.posture.behind_the_body.value < whole.arm.posture.behind_the_body.value - 15
    # the partial press leaves out ten centimetres of a lifter of 1.75 m
    [partial] = asked(setup("bench_press_partial", 60))
    [same] = asked(setup("bench_press", 60, depth={"above_bottom": {"value": 0.10 * 1.78 / 1.75, "unit": "m"}}))
    assert same.moments.shoulder.value == pytest.approx(partial.moments.shoulder.value, rel=2e-3)
    assert same.arm.posture == partial.arm.posture


@pytest.mark.parametrize(
    ("exercise", "parts", "pointer"),
    [
        ("bench_press", {"technique": {"grip_width": cm(30)}}, "technique/grip_width"),
        ("bench_press", {"technique": {"grip_width": cm(95)}}, "technique/grip_width"),
        ("bench_press_dumbbell", {"technique": {"grip_width": cm(60)}}, "technique/grip_width"),
        ("back_squat_high_bar", {"technique": {"grip_width": cm(60)}}, "technique/grip_width"),
        ("bench_press", {"technique": {"bench_angle": deg(30)}}, "technique/bench_angle"),
        ("incline_bench_press", {"technique": {"bench_angle": deg(0)}}, "technique/bench_angle"),
        ("overhead_press", {"technique": {"bench_angle": deg(10)}}, "technique/bench_angle"),
        ("bench_press", {"technique": {"wrist_bend": deg(-5)}}, "technique/wrist_bend"),
        ("biceps_curl", {"technique": {"wrist_bend": deg(20)}}, "technique/wrist_bend"),
        ("bench_press", {"technique": {"shoulder_abduction": deg(30)}}, "technique/shoulder_abduction"),
        ("overhead_press", {"technique": {"shoulder_abduction": deg(60)}}, "technique/shoulder_abduction"),
        (
            "bench_press",
            {"technique": {"shoulder_abduction": deg(60), "bench_angle": deg(-10)}},
            "technique/shoulder_abduction",
        ),
        ("bench_press", {"depth": {"above_bottom": cm(-1)}}, "depth/above_bottom"),
        ("bench_press", {"depth": {"above_bottom": cm(30)}}, "depth/above_bottom"),
        ("bench_press_partial", {"depth": {"above_bottom": cm(5)}}, "depth/above_bottom"),
        ("biceps_curl", {"depth": {"above_bottom": cm(5)}}, "depth/above_bottom"),
        ("back_squat_high_bar", {"depth": {"above_bottom": cm(5)}}, "depth/above_bottom"),
        ("bench_press", {"depth": {"above_bottom": cm(5), "knee_flexion": deg(90)}}, "depth"),
        ("barbell_row", {"technique": {"trunk_lean": deg(85)}}, "technique/trunk_lean"),
        ("bench_press", {"implement": "kettlebell"}, "implement"),
    ],
)
def test_what_a_lift_does_not_have_and_what_is_out_of_range_is_refused_by_its_name(
    exercise: str, parts: dict[str, Any], pointer: str
) -> None:
    found = faults("joint-demand", {"lifter": LIFTER, "setups": [{"label": "x", **setup(exercise, 20, **parts)}]})
    assert [fault.pointer for fault in found] == [f"/setups/0/{pointer}"]
    assert all(fault.allowed for fault in found)


def test_every_part_of_technique_and_depth_that_does_not_enter_is_said() -> None:
    def said(exercise: str, **parts: Any) -> bool:  # noqa: ANN401 - request values
        return "setup_does_not_enter" in {caution.code for caution in answer(setup(exercise, 60, **parts)).cautions}

    assert said("bench_press", depth={"thigh_below_horizontal": deg(10)})
    assert said("bench_press", technique={"heel_lift": cm(1)})
    assert said("bench_press", technique={"trunk_lean": deg(10)})
    assert not said("bench_press", depth={"above_bottom": cm(5)}, technique={"grip_width": WIDTH, "bounce": True})
    assert not said("barbell_row", technique={"trunk_lean": deg(40), "grip_width": WIDTH})


# --- back and pace ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("technique", [None, {"trunk_lean": deg(35)}, {"trunk_lean": deg(35), "seen_by": "eye"}])
def test_the_back_of_a_row_has_the_moment_that_spinal_load_has(technique: dict[str, Any] | None) -> None:
    setups = [
        {"label": str(load), **setup("barbell_row", load, **({"technique": technique} if technique else {}))}
        for load in (60, 40)
    ]
    ours = ask("joint-demand", {"lifter": LIFTER, "setups": setups}).setups
    theirs = ask("spinal-load", {"lifter": LIFTER, "setups": setups}).setups
    for here, there in zip(ours, theirs, strict=True):
        mine, other = here.moments.lumbosacral, there.moment
        assert (mine.value, mine.low, mine.high) == (other.value, other.low, other.high)
        assert here.relative.lumbosacral == there.relative.moment
    assert ours[1].difference.lumbosacral == "lower"


def test_an_upright_row_spares_the_back() -> None:
    bent, upright = asked(setup("barbell_row", 60), setup("barbell_row", 60, technique={"trunk_lean": deg(30)}))
    assert upright.difference.lumbosacral == "lower"
    assert bent.arm.posture.elevation_high != upright.arm.posture.elevation_high


def test_a_moving_press_peaks_above_the_still_one_where_it_turns() -> None:
    [press] = asked(setup("bench_press", 80))
    assert press.dynamic.factor.value == 1.15
    assert press.dynamic.moments.shoulder.value / press.moments.shoulder.value == pytest.approx(1.15, abs=0.02)
    # the elbow's largest moment at rest is met half way up, where nothing is accelerated; a little below it is larger
    assert press.arm.elbow.at == 0.5
    assert 1.0 < press.dynamic.moments.elbow.value / press.moments.elbow.value < 1.05
    assert joints_of(press.dynamic.moments) == set(ARM_JOINTS)


def test_a_slow_press_asks_less_at_its_turn() -> None:
    _, slow = asked(setup("bench_press", 80, tempo="2-0-1-0"), setup("bench_press", 80, tempo="4-1-4-0"))
    assert slow.difference.shoulder == "lower"
    assert 0.8 < slow.relative.shoulder.value < 0.95
    assert slow.moments.shoulder.value == asked(setup("bench_press", 80))[0].moments.shoulder.value


# --- what is measured -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("length", ["shoulder_breadth", "upper_arm"])
def test_a_measured_length_widens_the_interval_no_longer_than_its_measurement(length: str) -> None:
    usual = getattr(arm_of(build_body(80.0, 1.78, "male")), length)
    stated = {"value": usual, "unit": "m"}
    measured = {
        **LIFTER,
        **({length: stated} if length == "shoulder_breadth" else {"segment_lengths": {length: stated}}),
    }
    # a wide grip: there the lengths decide and not the place of the hand
    wide = setup("overhead_press", 50, technique={"grip_width": cm(80)})
    by_stature, by_tape = (asked(wide, lifter=lifter)[0].moments for lifter in (LIFTER, measured))
    assert by_tape.shoulder.value == pytest.approx(by_stature.shoulder.value, rel=1e-4)
    for joint in ARM_JOINTS:
        before, after = getattr(by_stature, joint), getattr(by_tape, joint)
        assert after.high - after.low <= (before.high - before.low) * (1 + 1e-4)


@pytest.mark.parametrize(
    ("lifter", "pointer"),
    [
        ({"shoulder_breadth": cm(60)}, "/lifter/shoulder_breadth"),
        ({"segment_lengths": {"upper_arm": cm(45)}}, "/lifter/segment_lengths/upper_arm"),
        ({"segment_lengths": {"forearm": cm(10)}}, "/lifter/segment_lengths/forearm"),
    ],
)
def test_a_length_that_is_of_nobody_of_this_stature_is_refused_by_its_name(
    lifter: dict[str, Any], pointer: str
) -> None:
    press = [{"label": "x", **setup("bench_press", 60)}]
    found = faults("joint-demand", {"lifter": {**LIFTER, **lifter}, "setups": press})
    assert [fault.pointer for fault in found] == [pointer]
    assert " m" in (found[0].allowed or "")


def test_longer_arms_and_broader_shoulders_enter() -> None:
    press = setup("overhead_press", 60, technique={"grip_width": WIDTH})
    usual, long, broad = (
        asked(press, lifter={**LIFTER, **more})[0].moments
        for more in ({}, {"segment_lengths": {"upper_arm": cm(32), "forearm": cm(29)}}, {"shoulder_breadth": cm(46)})
    )
    assert long.elbow.value > usual.elbow.value
    assert broad.shoulder.value < usual.shoulder.value


@pytest.mark.parametrize("exercise", ARM_LIFTS)
def test_every_lift_of_a_tall_lifter_with_short_arms_is_computed(exercise: str) -> None:
    """Where the hand's way is beyond such an arm it ends where the arm lets it."""
    exercise, _, implement = exercise.partition("/")
    short = {"upper_arm": cm(26), "forearm": cm(25)}
    tall = {**LIFTER, "stature": {"value": 1.92, "unit": "m"}, "segment_lengths": short}
    load = 0 if implement == "" and exercise in ("push_up", "inverted_row") else 20
    [one] = asked(setup(exercise, load, **({"implement": implement} if implement else {})), lifter=tall)
    assert one.moments.shoulder.low <= one.moments.shoulder.value <= one.moments.shoulder.high
    assert one.moments.shoulder.value > 0


def test_a_measured_breadth_is_that_of_stances_too() -> None:
    [one] = asked(setup("back_squat_high_bar", 60), lifter={**LIFTER, "shoulder_breadth": cm(44)})
    assert one.legs_turned_out.stance_width.value == pytest.approx(1.1 * 0.44, abs=1e-4)


def test_what_a_shoulder_is_asked_for_is_the_same_in_adjustments() -> None:
    question = {
        "lifter": LIFTER,
        "prescription": {
            "exercise": "bench_press", "sets": 3, "reps": {"low": 6, "high": 8}, "load": kg(90), "reps_in_reserve": 2,
        },
        "complaint": {"region": "shoulder", "pain_in_session": 4},
        "aim": "strength",
    }  # fmt: skip
    now: dict[str, Any] = msgspec.convert(question["prescription"], dict[str, Any])
    compared = 0
    for option in ask("adjustments", question).options:
        new = msgspec.to_builtins(option.prescription)
        setups = [{"label": "now", **now}, {"label": "new", **new}]
        ratio = ask("joint-demand", {"lifter": LIFTER, "setups": setups}).setups[1].relative.shoulder
        if "shoulder" in option.demand and option.meets_by == "peak":
            compared += 1
            assert option.demand["shoulder"].value == pytest.approx(ratio.value, abs=2e-3), new
    assert compared
