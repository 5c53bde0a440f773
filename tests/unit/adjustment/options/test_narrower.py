"""A groin that hurts in a wide stance: the feet come together before the load goes down."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.asking import Answered, ask, kg


def asked(region: str, **told: Any) -> Answered:  # noqa: ANN401
    request = {
        "lifter": {"body_mass": kg(77), "stature": {"value": 176, "unit": "cm"}, "sex": "male"},
        "prescription": {
            "exercise": "deadlift_sumo",
            "sets": 4,
            "reps": {"low": 4, "high": 6},
            "load": kg(140),
            "reps_in_reserve": 2,
            "days_per_week": 2,
        },
        "complaint": {"region": region, "pain_in_session": 4, **told},
        "aim": "strength",
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
