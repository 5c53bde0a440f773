"""Narrower before lighter for a groin that hurts in a wide stance; a bench under the trunk for a low back in a row."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.asking import Answered, ask, kg


def asked(region: str, lift: str = "deadlift_sumo", load: float = 140, aim: str = "strength", **told: Any) -> Answered:  # noqa: ANN401
    request = {
        "lifter": {"body_mass": kg(77), "stature": {"value": 176, "unit": "cm"}, "sex": "male"},
        "prescription": {
            "exercise": lift,
            "sets": 4,
            "reps": {"low": 4, "high": 6},
            "load": kg(load),
            "reps_in_reserve": 2,
            "days_per_week": 2,
        },
        "complaint": {"region": region, "pain_in_session": 4, **told},
        "aim": aim,
    }
    return ask("adjustments", request)


def test_the_lift_most_like_it_in_a_narrower_stance_comes_first() -> None:
    answer = asked("groin")
    assert answer.options[0].prescription.exercise == "deadlift_conventional"
    assert "told_held_wide" in {one.code for one in answer.why}
    assert any(option.prescription.exercise == "deadlift_sumo" for option in answer.options)


def test_where_it_hurts_with_the_load_less_load_stays_first_and_a_narrower_stance_follows() -> None:
    answer = asked("groin", provoked_by=["load"])
    assert "load" in answer.options[0].levers
    assert answer.options[1].prescription.exercise == "deadlift_conventional"


@pytest.mark.parametrize("region", ["hip", "low_back"])
def test_what_is_not_held_by_the_adductors_has_no_such_rule(region: str) -> None:
    assert "told_held_wide" not in {one.code for one in asked(region).why}


def test_above_5_it_is_the_same_lift_lighter() -> None:
    assert asked("groin", pain_next_morning=6).options[0].levers == ["load"]


@pytest.mark.parametrize("aim", ["strength", "muscle_size", "maintain"])
@pytest.mark.parametrize("told", [{}, {"provoked_by": ["load"]}, {"pain_in_session": 3}])
def test_a_row_that_carries_the_trunk_is_the_second_at_the_latest_for_a_low_back(
    told: dict[str, Any], aim: str
) -> None:
    answer = asked("low_back", "barbell_row", 75, aim, **told)
    assert "chest_supported_row" in [option.prescription.exercise for option in answer.options[:2]]
    assert answer.options[0].prescription.exercise == "barbell_row"
    assert "told_trunk_held_up" in {one.code for one in answer.why}


@pytest.mark.parametrize(("region", "lift"), [("elbow", "barbell_row"), ("low_back", "deadlift_conventional")])
def test_of_another_region_or_lift_no_such_thing_is_said(region: str, lift: str) -> None:
    assert "told_trunk_held_up" not in {one.code for one in asked(region, lift, 75).why}


def of_push_ups(**told: Any) -> Answered:  # noqa: ANN401
    return asked("wrist", "push_up", 0, "muscle_size", **told)


def test_straight_wrists_come_before_a_lift_whose_load_has_still_to_be_found() -> None:
    first, second, third = of_push_ups().options[:3]
    assert first.prescription.cues == ["push_up_on_handles"]
    assert second.prescription.cues == ["hands_raised_in_the_push_up"]
    assert third.prescription.exercise != "push_up"


@pytest.mark.parametrize("pain", [6, 7])
def test_where_nothing_is_sure_it_is_said_what_comes_first_once_more_may_be_tried(pain: float) -> None:
    answer = of_push_ups(pain_in_session=pain)
    assert not answer.options
    assert answer.meanwhile
    [later] = [one for one in answer.why if one.code == "first_later"]
    assert later.values["change"]["code"] == "cue_push_up_on_handles"


def test_nothing_is_promised_where_the_next_morning_keeps_it_in_the_red_tier() -> None:
    answer = of_push_ups(pain_in_session=6, pain_next_morning=6, usual_pain=1)
    assert "first_later" not in {one.code for one in answer.why}
