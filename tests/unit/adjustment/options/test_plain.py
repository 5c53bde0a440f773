"""The present lift merely lighter: among what is shown, and how far in front."""

from __future__ import annotations

from typing import Any, Final

import pytest

from tests.support.asking import Answered, ask, kg

PLAIN: Final = (["load"], ["load", "reps"])
MOST_RESERVE: Final = 5


def asked(exercise: str, load: float, region: str, pain: float, reps: int = 5, **more: Any) -> Answered:  # noqa: ANN401
    complaint = {"region": region, "pain_in_session": pain, "pain_next_morning": 2, "usual_pain": 2}
    request: dict[str, Any] = {
        "lifter": {"body_mass": kg(83), "stature": {"value": 178, "unit": "cm"}, "sex": "male"},
        "prescription": {
            "exercise": exercise,
            "sets": 4,
            "reps": {"low": reps, "high": reps},
            "load": kg(load),
            "reps_in_reserve": 2,
            "days_per_week": 2,
        },
        "complaint": complaint | more.pop("told", {}),
        "aim": "strength",
        **more,
    }
    return ask("adjustments", request)


def places(answer: Answered) -> list[int]:
    """Where the lift merely lighter stands."""
    return [one.rank for one in answer.options if one.levers in PLAIN]


@pytest.mark.parametrize("aim", ["strength", "muscle_size", "tendon"])
@pytest.mark.parametrize("reps", [5, 8])
@pytest.mark.parametrize(
    ("exercise", "load", "region"),
    [("overhead_press", 55, "shoulder"), ("deadlift_conventional", 110, "low_back"), ("front_squat", 130, "knee")],
)
def test_above_5_the_lift_merely_lighter_comes_first_and_nothing_slow_is_offered(
    exercise: str, load: float, region: str, reps: int, aim: str
) -> None:
    answer = asked(exercise, load, region, 6, reps, aim=aim, limit=10)
    assert not [one.rank for one in answer.options if "tempo" in one.levers]
    assert places(answer)[0] == 1


def test_for_a_tendon_up_to_5_a_slow_tempo_is_what_is_asked_for() -> None:
    answer = asked("front_squat", 130, "knee", 4, aim="tendon")
    assert "tempo" in answer.options[0].levers


@pytest.mark.parametrize("told", [{}, {"provoked_by": ["load"]}, {"provoked_by": ["volume"]}, {"side": "left"}])
@pytest.mark.parametrize("limit", [3, 5])
@pytest.mark.parametrize("exercise", ["deadlift_conventional", "deadlift_sumo", "back_squat_high_bar"])
def test_up_to_5_it_is_among_those_that_are_shown_whatever_else_keeps_more(
    exercise: str, limit: int, told: dict[str, Any]
) -> None:
    region = "hip" if "side" in told else "low_back"
    answer = asked(exercise, 110, region, 4, 4, told=told, limit=limit)
    assert len(answer.options) == limit
    assert places(answer)


@pytest.mark.parametrize(
    ("exercise", "load", "region"),
    [("bench_press", 80, "shoulder"), ("deadlift_conventional", 110, "low_back"), ("barbell_row", 70, "low_back")],
)
@pytest.mark.parametrize("reps", [4, 8])
def test_where_it_hurts_with_the_load_it_comes_first_unless_it_is_hardly_training(
    exercise: str, load: float, region: str, reps: int
) -> None:
    answer = asked(exercise, load, region, 4, reps, told={"provoked_by": ["load"]}, detail="full")
    plain = next(one for one in answer.options if one.levers in PLAIN)
    hardly = "unloading" in plain.cautions or plain.stimulus.reps_in_reserve > MOST_RESERVE
    assert (plain.rank == 1) != hardly


def test_with_the_heavy_lifts_of_a_strength_lifter_it_says_what_it_is() -> None:
    [plain] = [one for one in asked("deadlift_conventional", 110, "low_back", 4, 4).options if one.levers == ["load"]]
    assert {"easy_set", "unloading"} <= set(plain.cautions)
