"""What hurts in a week, and what loads the sore region without being computed, as week-adjustments answers it."""

from __future__ import annotations

from typing import Any

import pytest

from service.knowledge.catalogue import EXERCISES
from service.vocabulary import Region
from tests.support.asking import Answered, ask
from tests.support.weeks import lift

LIFTER = {"body_mass": {"value": 74, "unit": "kg"}, "stature": {"value": 177, "unit": "cm"}}


LEGS = [
    lift(1, "back_squat_high_bar", 4, 6, 85),
    lift(1, "calf_raise_standing", 3, 12, 40),
    lift(1, "leg_press", 3, 10, 120),
    lift(3, "bench_press", 4, 8, 60),
    lift(5, "romanian_deadlift", 3, 8, 70),
    lift(5, "leg_extension", 3, 12, 35),
]
PRESSES = [
    lift(1, "bench_press", 4, 6, 80),
    lift(1, "triceps_extension", 3, 12, 22.5),
    lift(3, "overhead_press", 3, 6, 42.5),
    lift(3, "lateral_raise", 3, 12, 8),
    lift(5, "bench_press", 3, 10, 65),
    lift(5, "back_extension", 3, 12, 10),
    lift(5, "leg_curl", 3, 10, 45),
]


def asked(week: list[dict[str, Any]], hurts: list[int], region: Region, pain: float = 4, **more: object) -> Answered:
    complaint = {"region": region, "pain_in_session": pain}
    request = {"lifter": LIFTER, "week": week, "hurts": hurts, "complaint": complaint, "aim": "strength"}
    return ask("week-adjustments", request | more)


def eased(option: Answered) -> set[int]:
    return {entry for one in option.changes if one.kind in ("changed", "replaced") for entry in one.entries}


def codes(messages: list[Answered]) -> list[str]:
    return [one.code for one in messages]


def loads(exercise: str, region: str) -> bool:
    return region in EXERCISES[exercise].regions


@pytest.mark.parametrize(("hurts", "region"), [([1], "calf_achilles"), ([5], "knee"), ([2], "front_of_knee")])
def test_a_lift_that_hurts_and_is_not_computed_is_eased_in_every_option(hurts: list[int], region: Region) -> None:
    answer = asked(LEGS, hurts, region)
    assert answer.options
    for option in answer.options:
        assert option.relief == "spacing" or eased(option) >= set(hurts)
    first, now = answer.options[0], LEGS[hurts[0]]["prescription"]
    assert eased(first) == set(hurts), "what hurts alone comes first, for nobody can say how far the week is then"
    new = first.week[hurts[0]].prescription
    assert (new.load.value, new.sets, new.reps.high) != (now["load"]["value"], now["sets"], now["reps"]["high"])


def test_it_is_eased_as_adjustments_eases_it() -> None:
    new = asked(LEGS, [1], "calf_achilles").options[0].week[1].prescription
    alone = {
        "lifter": LIFTER,
        "prescription": LEGS[1]["prescription"],
        "complaint": {"region": "calf_achilles", "pain_in_session": 4},
        "aim": "strength",
    }
    by_itself = [one.prescription for one in ask("adjustments", alone).options]
    assert (new.load, new.sets, new.reps) in [(one.load, one.sets, one.reps) for one in by_itself]


@pytest.mark.parametrize("hurts", [[], [0], [1]])
def test_where_lifts_that_load_the_region_are_not_computed_nothing_is_sure_and_they_are_named(hurts: list[int]) -> None:
    answer = asked(LEGS, hurts, "knee" if hurts != [1] else "calf_achilles")
    named = next(one.values["lifts"] for one in answer.why if one.code == "week_lifts_left_out")
    assert "leg_press" in named
    assert not {"week_led_by", "week_led_by_either"}.intersection(codes(answer.why))
    assert answer.options
    for option in answer.options:
        assert option.relief in ("of_computed", "by_direction", "mixed", "spacing")
        assert "week_not_the_one_that_hurts" not in codes(option.why)
        if option.relief == "of_computed":
            assert option.falls == ["linear", "squared", "tenth_power"]
            assert "week_relief_of_computed" in codes(option.why)


def test_where_all_that_loads_the_region_is_computed_relief_may_be_sure() -> None:
    week = [one for one in LEGS if one["prescription"]["exercise"] not in ("leg_press", "calf_raise_standing")]
    answer = asked(week, [], "ankle")
    assert answer.options[0].relief == "sure"
    assert "week_lifts_left_out" not in codes(answer.why)


def test_what_hurts_comes_first_and_a_week_in_which_it_stays_comes_after() -> None:
    week = [
        lift(1, "front_squat", 3, 6, 60),
        lift(2, "bench_press", 3, 8, 60),
        lift(4, "deadlift_conventional", 3, 5, 130),
    ]
    options = asked(week, [0], "low_back", limit=5).options
    with_it = [0 in eased(one) for one in options if one.relief != "spacing"]
    assert with_it[:2] == [True, True]
    assert False in with_it
    assert with_it == sorted(with_it, reverse=True)
    for one in options:
        if one.relief != "spacing":
            assert ("week_eased_first" in codes(one.why)) == (0 in eased(one))
            assert ("week_not_the_one_that_hurts" in codes(one.why)) == (0 not in eased(one))


def test_the_lift_that_hurts_alone_does_where_that_brings_the_week_to_its_target() -> None:
    hinge = [lift(1, "front_squat", 3, 6, 60), lift(4, "deadlift_conventional", 3, 5, 130)]
    assert eased(asked(hinge, [1], "low_back").options[0]) == {1}


def test_the_same_lift_on_another_day_is_eased_where_it_asks_as_much_and_named_where_it_asks_less() -> None:
    assert eased(asked(PRESSES, [4], "shoulder").options[0]) >= {0, 4}
    first = asked(PRESSES, [0], "shoulder").options[0]
    assert 4 not in eased(first)
    assert next(one.values["days"] for one in first.why if one.code == "week_same_lift_stays") == [5]


def test_what_hurts_and_is_not_known_to_load_the_region_is_to_be_confirmed_first() -> None:
    answer = asked(LEGS, [3], "knee")
    assert codes(answer.why)[1:3] == ["not_known_to_load", "confirm_the_complaint"]
    assert "confirm_the_complaint" not in codes(asked(LEGS, [0], "knee").why)


def test_what_nothing_eases_is_named() -> None:
    answer = asked(LEGS, [1], "calf_achilles", constraints={"levers": ["technique"]})
    assert "week_nothing_eases" in codes(answer.why)


@pytest.mark.parametrize(
    ("week", "hurts", "region"),
    [(LEGS, [0], "knee"), (LEGS, [1], "ankle"), (PRESSES, [0], "shoulder"), (LEGS, [4], "hip")],
)
def test_in_the_red_tier_all_that_loads_the_region_is_eased_or_left_out_and_nothing_else(
    week: list[dict[str, Any]], hurts: list[int], region: Region
) -> None:
    answer = asked(week, hurts, region, pain=6)
    assert len(answer.options) == 1
    touched = {entry for one in answer.options[0].changes for entry in one.entries}
    loading = {entry for entry, one in enumerate(week) if loads(one["prescription"]["exercise"], region)}
    assert touched == loading | set(hurts)
    assert {one.kind for one in answer.options[0].changes} <= {"changed", "left_out"}


def test_in_the_red_tier_what_nothing_surely_eases_is_left_out_of_the_week() -> None:
    week = [*LEGS, lift(5, "back_extension", 3, 12, 10), lift(5, "hip_thrust", 3, 8, 90)]
    option = asked(week, [0], "low_back", pain=6).options[0]
    out = [entry for one in option.changes if one.kind == "left_out" for entry in one.entries]
    assert out == [6]
    assert "back_extension" not in [one.prescription.exercise for one in option.week]
    assert len(option.week) == len(week) - 1
    assert next(one.values["exercises"] for one in option.why if one.code == "week_left_out") == ["back_extension"]
    request = {"lifter": LIFTER, "week": [], "aim": "strength"}
    assert ask(
        "week-demand", request | {"week": [{"day": one.day, "prescription": one.prescription} for one in option.week]}
    )


def test_in_the_red_tier_what_is_known_to_be_painless_may_stay() -> None:
    option = asked(LEGS, [0], "knee", pain=6, constraints={"staying": [2]}).options[0]
    assert 2 not in eased(option)
    assert next(one.values["exercises"] for one in option.why if one.code == "week_stays_if_painless") == ["leg_press"]


def test_the_weighting_that_is_said_is_the_one_of_the_target() -> None:
    for levers in (["sets"], ["load"]):
        answer = asked(LEGS, [0], "hip", constraints={"levers": levers})
        step = next(one for one in answer.why if one.code == "week_first_step")
        assert step.values["weighting"] == answer.target.weighting
    assert asked(LEGS, [0], "hip", constraints={"levers": ["sets"]}).target.weighting == "linear"


CLOSE = [
    lift(1, "deadlift_conventional", 3, 5, 120),
    lift(1, "bench_press", 3, 8, 60),
    lift(2, "back_squat_low_bar", 4, 5, 110),
    lift(2, "lat_pulldown", 3, 10, 50),
]


def test_what_is_not_known_to_load_the_region_is_eased_without_a_word_of_relief() -> None:
    week = [lift(1, "bench_press", 4, 6, 60), lift(3, "leg_curl", 3, 10, 40)]
    first = asked(week, [1], "wrist", pain=5).options[0]
    assert eased(first) == {1}
    assert (first.relief, first.falls) == ("by_direction", [])


def test_days_are_moved_only_where_they_are_among_the_levers() -> None:
    assert "spacing" in [one.relief for one in asked(CLOSE, [], "low_back").options]
    without = asked(CLOSE, [], "low_back", constraints={"levers": ["load", "sets"]})
    assert "spacing" not in [one.relief for one in without.options]


def test_a_day_moves_whole_or_to_a_day_of_training_unless_the_days_are_named() -> None:
    moved = asked(CLOSE, [], "low_back").options[-1]
    assert len({one.day for one in moved.week}) == 2, "no day of training more"
    assert "week_new_day" not in codes(moved.why)
    elsewhere = [*CLOSE, lift(5, "leg_curl", 3, 10, 40)]
    moved = asked(elsewhere, [], "low_back").options[-1]
    assert {one.day for one in moved.week} == {1, 2, 5}
    fixed = {"staying": [1, 3], "days": [1, 2, 4]}
    split = asked(CLOSE, [], "low_back", constraints=fixed).options[-1]
    assert len({one.day for one in split.week}) == 3
    assert "week_new_day" in codes(split.why)
    stays = asked(CLOSE, [], "low_back", constraints={"staying": [1, 3]})
    assert "spacing" not in [one.relief for one in stays.options]


def test_a_leg_press_is_none_for_a_back_that_is_paused() -> None:
    answer = asked(LEGS, [0], "low_back", pain=8)
    offered = {exercise for group in answer.meanwhile for exercise in group.exercises}
    assert "leg_extension" in offered
    assert "leg_press" not in offered
