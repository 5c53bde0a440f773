"""What no step of a way back may exceed: the original's demand, the days after a break, the effort agreed.

Each return is one where the shortest way would exceed it, were the limit not there. Demand is asked of joint-demand and
effort of reps-for-load, as a client would. All derived.
"""

from __future__ import annotations

from typing import Any, Final

import pytest

from tests.support.asking import Answered, ask, kg

LIFTER: Final = {"body_mass": kg(58), "stature": {"value": 156, "unit": "cm"}, "sex": "female"}
PLATES: Final = {"bar": kg(15), "plates": [{"plate": kg(plate)} for plate in (1.25, 2.5, 5, 10, 20)]}
LEVEL_LESS_30: Final = {"thigh_below_horizontal": {"value": -30, "unit": "deg"}}


def lift(exercise: str, load: float, sets: int, low: int, high: int, **more: object) -> dict[str, Any]:
    return {"exercise": exercise, "load": kg(load), "sets": sets, "reps": {"low": low, "high": high}, **more}


def way_back(original: dict[str, Any], adjusted: dict[str, Any], region: str, **more: object) -> Answered:
    request = {"lifter": LIFTER, "original": original, "adjusted": adjusted, "region": region, "bar": PLATES}
    answer = ask("return-plan", {**request, **more})
    assert answer.decision == "plan"
    return answer


def relative_demand(original: dict[str, Any], adjusted: dict[str, Any], region: str, lifter: dict[str, Any]) -> float:
    """Demand of a repetition as adjusted against the original's."""
    setups = [
        {"label": label, **{name: one[name] for name in ("exercise", "load", "depth") if name in one}}
        for label, one in (("original", original), ("adjusted", adjusted))
    ]
    answer = ask("joint-demand", {"lifter": lifter, "setups": setups})
    return float(getattr(answer.setups[1].relative, region).value)


def test_no_repetition_asks_more_than_the_originals() -> None:
    original = lift("safety_bar_squat", 120, 1, 6, 7, reps_in_reserve=1, days_per_week=3)
    # to the full depth with this load the knee would have to carry a fifth more than in the original
    adjusted = lift("front_squat", 110, 1, 4, 5, reps_in_reserve=2.5, days_per_week=4, depth=LEVEL_LESS_30)
    lifter = {
        **LIFTER,
        "ankle_dorsiflexion": {"value": 41, "unit": "deg"},
        "hip_flexion": {"value": 125, "unit": "deg"},
    }
    assert relative_demand(original, adjusted, "knee", lifter) < 1
    assert (
        relative_demand(
            original, {**adjusted, "depth": {"thigh_below_horizontal": {"value": 0, "unit": "deg"}}}, "knee", lifter
        )
        > 1.1
    )
    answer = way_back(original, adjusted, "knee", step=0.3, lifter=lifter)
    assert max(step.sore_region.repetition for step in answer.steps) <= 1


def test_no_session_asks_more_than_the_originals() -> None:
    original = lift("safety_bar_squat", 90, 1, 2, 4, reps_in_reserve=0, days_per_week=3)
    adjusted = lift("front_squat", 90, 1, 1, 3, reps_in_reserve=4, days_per_week=1, tempo="3-0-3-0")
    lifter = {"body_mass": kg(66), "stature": {"value": 186, "unit": "cm"}, "sex": "male"}
    assert relative_demand(original, adjusted, "knee", lifter) * 2 / 3 < 1
    answer = way_back(original, adjusted, "knee", step=0.3, lifter=lifter)
    assert max(step.sore_region.session for step in answer.steps) <= 1


def test_no_week_asks_more_than_the_originals_or_than_now() -> None:
    original = lift("bench_press", 72.5, 5, 2, 4, reps_in_reserve=1, days_per_week=2)
    adjusted = lift("bench_press", 57.5, 5, 1, 3, reps_in_reserve=4, days_per_week=4)
    now = 57.5 / 72.5 * 2 / 3 * 4 / 2
    weeks = [step.sore_region.week for step in way_back(original, adjusted, "shoulder", step=0.3).steps]
    for before, after in zip([now, *weeks], weeks, strict=False):
        assert after <= max(1, before) + 1e-4


@pytest.mark.parametrize("days", [4, 5, 7])
def test_after_a_break_the_first_week_has_three_days_and_the_second_four(days: int) -> None:
    # caterisano_2019 (secondary): three days in week 1, four in week 2
    original = lift("front_squat", 62.5, 4, 5, 6, reps_in_reserve=2, days_per_week=days)
    adjusted = {**original, "load": kg(50), "reps_in_reserve": 4}
    answer = way_back(original, adjusted, "low_back", weeks_off=3)
    most = {1: 3, 2: 4}
    early = {step.week: step.prescription.days_per_week for step in answer.steps if step.week in most}
    assert early[1] == 3
    assert all(asked <= most[week] for week, asked in early.items())


@pytest.mark.parametrize(("reps", "days", "dose"), [(3, 2, (1, 1, 2, 1)), (1, 1, (1, 1, 1, 1)), (1, 2, (1, 1, 1, 1))])
def test_after_a_break_days_go_where_one_set_a_day_is_more_than_the_week_allows(
    reps: int, days: int, dose: tuple[int, int, int, int]
) -> None:
    # caterisano_2019 (secondary): half the normal repetitions; one repetition on one day, the least there is, is more
    original = lift("front_squat", 30, 1, reps, reps, reps_in_reserve=0, days_per_week=1)
    adjusted = lift("front_squat", 15, 1, reps, reps, reps_in_reserve=1, days_per_week=days)
    first = way_back(original, adjusted, "low_back", step=0.05, increment=kg(2), weeks_off=2).steps[0]
    done = first.prescription
    assert (done.sets, done.reps.low, done.reps.high, done.days_per_week) == dose
    assert any("no smaller dose" in reason.text for reason in first.why) == (reps == 1)


def test_every_step_leaves_the_repetitions_agreed() -> None:
    original = lift("front_squat", 100, 3, 7, 7, reps_in_reserve=1)
    adjusted = lift("front_squat", 70, 3, 7, 7, reps_in_reserve=1, tempo="3-0-3-0")
    done = {"load": kg(100), "reps": 7, "reps_in_reserve": 1}
    slow = ask("tempo", {"tempo": "3-0-3-0", "reps": {"low": 7, "high": 7}}).cost_in_reps.fraction_kept.value
    steps = way_back(original, adjusted, "low_back", step=0.3).steps
    for step in steps:
        # below 60 % of the maximum nothing is published: with less load at least as many are left
        target = {"load": kg(max(73, step.prescription.load.value)), "reps_in_reserve": 0}
        to_failure = ask("reps-for-load", {"exercise": "front_squat", "set": done, "target": target}).reps.value
        assert to_failure * (slow if step.prescription.tempo else 1) >= step.prescription.reps.high + 1 - 0.01
