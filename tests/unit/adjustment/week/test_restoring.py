"""What a changed week gives back to muscles that it leaves below their floor."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from service.adjustment.triage import judged
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.restoring import restored
from service.adjustment.week.spacing import further_apart
from service.api.models.complaint import pain_of, told_of
from service.api.models.constraints import Constraints
from service.api.models.lifter import DEMO_LIFTER
from service.api.operations.week_adjustments.consultation import week_case_of
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.training.fractional_sets import muscle_shares
from tests.support.asking import decoded
from tests.support.weeks import lift


def case_of(*week: dict[str, Any], region: str = "low_back", pain: float = 4, **constraints: object) -> WeekCase:
    question = {
        "lifter": DEMO_LIFTER,
        "week": list(week),
        "complaint": {"region": region, "pain_in_session": pain},
        "aim": "muscle_size",
        "constraints": constraints,
    }
    request = decoded("week-adjustments", question)
    return week_case_of(request, Constraints(), told_of(request.complaint), judged(pain_of(request.complaint)))


HINGE, CURL, PRESS = (
    lift(1, "romanian_deadlift", 5, 8, 70),
    lift(4, "leg_curl", 2, 8, 30),
    lift(4, "leg_press", 4, 8, 100),
)


def without_hinge(case: WeekCase) -> list[Any]:
    """The week with a leg press where the hinge was."""
    pressed = replace(case.week[-1], day=1)
    return [pressed, *case.week[1:]]


def test_a_lift_of_the_week_gets_more_sets_before_one_is_added() -> None:
    case = case_of(HINGE, CURL, PRESS)
    back = restored(case, without_hinge(case), 1)
    assert back.more_sets.keys() == {1}
    assert back.restores[1] == "hamstrings"
    assert back.week[1].prescription.sets == 2 + back.more_sets[1]
    assert back.added == []


def test_one_is_added_where_none_of_the_week_trains_the_muscle() -> None:
    case = case_of(HINGE, PRESS)
    back = restored(case, without_hinge(case), 1)
    [entry] = [place for place, muscle in back.restores.items() if muscle == "hamstrings"]
    new = back.week[entry]
    assert (entry in back.added, new.day) == (True, 1)
    assert "low_back" not in EXERCISES[new.prescription.exercise].regions
    assert new.prescription.reserve == CHOICES.adjustments.untested_reserve
    assert new.prescription.sets <= CHOICES.week.most_sets_added


def test_a_muscle_that_has_less_than_the_floor_now_is_given_back_what_it_had() -> None:
    case = case_of(lift(1, "romanian_deadlift", 3, 8, 70), PRESS)
    assert case.floors["hamstrings"] < case.floors_of_aim["hamstrings"]
    back = restored(case, without_hinge(case), 1)
    [entry] = [place for place, muscle in back.restores.items() if muscle == "hamstrings"]
    assert back.week[entry].prescription.sets >= case.floors["hamstrings"]


SQUAT, ADDUCTORS = lift(1, "front_squat", 5, 8, 60), lift(4, "hip_adduction_machine", 3, 8, 30)


def without_squat(case: WeekCase) -> list[Any]:
    """The week with a bench press where the squat was."""
    return [
        replace(case.week[0], prescription=replace(case.week[0].prescription, exercise="bench_press")),
        case.week[1],
    ]


def test_a_new_lift_that_restores_a_second_muscle_is_still_new() -> None:
    case = case_of(SQUAT, ADDUCTORS, region="shoulder", staying=[1])
    back = restored(case, without_squat(case), 1)
    assert (back.added, back.more_sets, back.short) == ([2], {}, [])
    assert back.restores == {2: "adductors"}
    assert back.week[2].prescription.sets == 4, "one for the adductors, three more for what else the squat trained"


def test_one_lift_gets_no_more_sets_than_it_may_for_several_muscles_together() -> None:
    many = lift(1, "front_squat", 14, 8, 60)
    case = case_of(many, ADDUCTORS, region="shoulder", staying=[1])
    back = restored(case, without_squat(case), 1)
    done = [one.prescription.exercise for one in back.week]
    assert back.added
    assert len(set(done)) == len(done), "what has had its sets is not added once more"
    assert all(back.week[entry].prescription.sets <= CHOICES.week.most_sets_added for entry in back.added)


def test_what_must_stay_gets_no_more_sets() -> None:
    case = case_of(HINGE, CURL, PRESS, staying=[1])
    assert restored(case, without_hinge(case), 1).more_sets == {}


@pytest.mark.parametrize("spare", ["hamstring", "knee"])
def test_nothing_that_loads_a_spared_region_restores(spare: str) -> None:
    case = case_of(HINGE, CURL, PRESS, spare=[spare])
    back = restored(case, without_hinge(case), 1)
    assert "hamstrings" in back.short
    assert (back.added, back.more_sets) == ([], {})


def test_nothing_is_added_in_the_red_tier() -> None:
    case = case_of(HINGE, CURL, PRESS, pain=6)
    back = restored(case, without_hinge(case), 1)
    assert (back.added, back.more_sets) == ([], {})
    assert "hamstrings" in back.short


def test_a_week_as_it_is_needs_nothing() -> None:
    case = case_of(HINGE, CURL, PRESS)
    back = restored(case, case.week, 1)
    assert (back.week, back.short, back.beside) == (list(case.week), [], [])
    assert set(case.floors) >= {"hamstrings", "quads"}


def test_the_days_of_a_region_are_moved_as_far_apart_as_is_usual_and_no_others() -> None:
    case = case_of(
        lift(1, "romanian_deadlift", 4, 8, 70), lift(2, "good_morning", 4, 8, 45), lift(2, "leg_extension", 3, 8, 30)
    )
    moved = further_apart(case)
    assert moved is not None
    week, days = moved
    assert len(days) == 1
    assert week[2].day == 2, "what does not load the region stays"
    assert abs(week[0].day - week[1].day) in (2, 3, 4, 5)


@pytest.mark.parametrize(
    "constraints", [{"days": [1, 2]}, {"staying": [0, 1]}], ids=["no day is free", "both must stay"]
)
def test_no_day_is_moved_where_none_may_be(constraints: dict[str, Any]) -> None:
    close = lift(1, "romanian_deadlift", 4, 8, 70), lift(2, "good_morning", 4, 8, 45)
    assert further_apart(case_of(*close, **constraints)) is None
    assert further_apart(case_of(*close)) is not None


def test_days_that_are_apart_stay() -> None:
    assert further_apart(case_of(lift(1, "romanian_deadlift", 4, 8, 70), lift(4, "good_morning", 4, 8, 45))) is None


def test_what_is_added_loads_the_fewest_regions_of_what_restores_the_muscle() -> None:
    case = case_of(lift(1, "deadlift_sumo", 5, 8, 90), lift(3, "bench_press", 3, 8, 40))
    without = [replace(case.week[1], day=1), case.week[1]]
    back = restored(case, without, 1)
    of_adductors = next(entry for entry, muscle in back.restores.items() if muscle == "adductors")
    added = back.week[of_adductors].prescription.exercise
    fitting = [
        one
        for one in EXERCISES
        if muscle_shares(one).get("adductors", 0.0) >= 1.0
        and "low_back" not in EXERCISES[one].regions
        and case.lightest(one) is not None
    ]
    assert len(fitting) > 1
    assert len(EXERCISES[added].regions) == min(len(EXERCISES[one].regions) for one in fitting)
