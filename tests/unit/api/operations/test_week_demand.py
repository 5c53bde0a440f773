"""What a week asks, as the operation answers it."""

from __future__ import annotations

from typing import Any

import pytest

from service.api.models.week import DEMO_WEEK
from service.api.operations.week_demand.examples import EXAMPLES
from service.vocabulary import WEIGHTINGS
from tests.support.asking import ask, faults

QUESTION = EXAMPLES[0].request


def of_days(*lifts: tuple[int, str, float], **rest: str) -> dict[str, Any]:
    week = [
        {
            "day": day,
            "prescription": {
                "exercise": exercise,
                "sets": 3,
                "reps": {"low": 8, "high": 8},
                "load": {"value": load, "unit": "kg"},
            },
        }
        for day, exercise, load in lifts
    ]
    return {"lifter": QUESTION["lifter"], "week": week, **rest}


def test_shares_of_every_region_add_up_under_every_weighting() -> None:
    for one in ask("week-demand", QUESTION).regions.values():
        for weighting in WEIGHTINGS if one.lifts else ():
            assert sum(getattr(lift.share, weighting).value for lift in one.lifts) == pytest.approx(1.0, abs=1e-4)
            assert sum(getattr(day, weighting) for day in one.days) == pytest.approx(1.0, abs=1e-4)


def test_a_lift_asks_in_a_week_what_it_asks_alone() -> None:
    lift = DEMO_WEEK[2]["prescription"]
    setups = [{"label": "alone", **{key: lift[key] for key in ("exercise", "load", "sets", "reps", "reps_in_reserve")}}]
    alone = ask("joint-demand", {"lifter": QUESTION["lifter"], "setups": setups}).setups[0].moments
    week = ask("week-demand", QUESTION).regions
    for region, joint in (("low_back", "lumbosacral"), ("hip", "hip_resultant"), ("knee", "knee"), ("ankle", "ankle")):
        moment = next(one for one in week[region].lifts if one.entry == 2).moment
        assert moment.value == pytest.approx(getattr(alone, joint).value)


def test_a_row_loads_the_low_back_as_spinal_load_says() -> None:
    row = ask("week-demand", of_days((1, "barbell_row", 50.0))).regions["low_back"].lifts[0].moment
    setups = [{"label": label, "exercise": "barbell_row", "load": {"value": 50, "unit": "kg"}} for label in "ab"]
    alone = ask("spinal-load", {"lifter": QUESTION["lifter"], "setups": setups}).setups[0].moment
    assert row.value == pytest.approx(alone.value)


def test_which_lift_leads_is_left_open_where_the_weightings_disagree() -> None:
    regions = ask("week-demand", QUESTION).regions
    assert regions["low_back"].leading is None
    assert regions["knee"].leading == 0


def test_the_week_comes_round_and_close_heavy_days_are_pointed_out() -> None:
    answer = ask("week-demand", of_days((1, "back_squat_high_bar", 80.0), (7, "back_squat_high_bar", 80.0)))
    assert answer.regions["knee"].heavy_days == [1, 7]
    assert answer.regions["knee"].shortest_gap == 1
    assert "heavy_days_close" in [one.code for one in answer.cautions]


@pytest.mark.parametrize(
    ("days", "in_a_row"),
    [
        ((1, 2, 3, 4, 5), [1, 2, 3, 4, 5]),
        ((1, 2, 4, 7), [7, 1, 2]),
        ((1, 3, 5, 6), [5, 6]),
        ((1, 3, 5), None),
        ((1, 2, 3, 4, 5, 6, 7), [1, 2, 3, 4, 5, 6, 7]),
    ],
)
def test_days_in_a_row_are_said_where_no_heavy_ones_are_too_close(
    days: tuple[int, ...], in_a_row: list[int] | None
) -> None:
    answer = ask("week-demand", of_days(*((day, "back_squat_high_bar", 80.0) for day in days)))
    said = [one for one in answer.cautions if one.code == "days_in_a_row"]
    assert [one.values["days"] for one in said] == ([] if in_a_row is None else [in_a_row])
    for one in said:
        assert one.values["regions"] == [region for region, asks in answer.regions.items() if asks.lifts]
        assert one.values["least"] == pytest.approx(1 / len(days))


def test_a_day_below_an_equal_share_is_none_of_the_days_in_a_row() -> None:
    loads = ((1, 80.0), (2, 80.0), (3, 30.0), (4, 80.0), (5, 80.0))
    answer = ask("week-demand", of_days(*((day, "back_squat_high_bar", load) for day, load in loads)))
    (said,) = [one for one in answer.cautions if one.code == "days_in_a_row"]
    assert said.values["days"] == [1, 2]


def test_two_heavy_days_too_close_are_said_once() -> None:
    answer = ask("week-demand", of_days((1, "back_squat_high_bar", 80.0), (2, "back_squat_high_bar", 80.0)))
    assert "days_in_a_row" not in [one.code for one in answer.cautions]


def test_a_lift_without_a_moment_enters_no_share_and_stands_beside() -> None:
    answer = ask("week-demand", of_days((2, "leg_press", 120.0), (4, "leg_extension", 40.0)))
    knee = answer.regions["knee"]
    assert (knee.lifts, knee.days, knee.largest_moment) == ([], [], None)
    assert [(one.entry, one.sets, one.repetitions) for one in knee.not_computed] == [(0, 3, 24.0), (1, 3, 24.0)]
    assert "lifts_not_computed" in [one.code for one in answer.cautions]


def test_floors_follow_the_aim() -> None:
    lifts = of_days((2, "bench_press", 70.0))
    assert ask("week-demand", lifts).muscles["chest"].floor == 4.0
    assert ask("week-demand", lifts).muscles["chest"].under_floor
    assert not ask("week-demand", lifts | {"aim": "strength"}).muscles["chest"].under_floor
    assert ask("week-demand", lifts | {"aim": "maintain"}).muscles["chest"].floor == 1.5, "half of what is usual"


def test_sets_that_only_steady_a_muscle_count_towards_no_floor() -> None:
    squats = of_days(*((day, "front_squat", 60.0) for day in (1, 2, 3, 4, 5, 6)))
    calves = ask("week-demand", squats).muscles["calves"]
    assert (calves.sets.value, calves.under_floor) == (0.0, True)
    assert calves.steadied == 4.5


def test_days_a_week_are_refused_where_each_lift_has_its_day() -> None:
    question = of_days((2, "bench_press", 70.0))
    question["week"][0]["prescription"]["days_per_week"] = 2
    assert [fault.pointer for fault in faults("week-demand", question)] == ["/week/0/prescription/days_per_week"]


def test_a_posture_that_cannot_be_had_names_the_lift_of_the_week() -> None:
    question = of_days((1, "bench_press", 70.0), (2, "back_squat_high_bar", 80.0))
    question["week"][1]["prescription"]["depth"] = {"thigh_below_horizontal": {"value": 80, "unit": "deg"}}
    assert next(fault.pointer for fault in faults("week-demand", question)).startswith("/week/1/prescription/depth")
