"""Which lifts of a week are eased before anything else is changed, and how."""

from __future__ import annotations

from service.adjustment.text.week import aimed_at
from service.adjustment.week.alternatives import units
from service.adjustment.week.easing import easing, hurting, to_ease
from service.adjustment.week.problem import WeekCase
from service.api.models.lifter import DEMO_LIFTER
from service.api.operations.week_adjustments.consultation import WeekConsultation, consult
from service.knowledge.design_choices import CHOICES
from service.vocabulary import SUMMED, Provocation
from tests.support.asking import decoded
from tests.support.weeks import lift

WEEK = [
    lift(1, "back_squat_low_bar", 4, 5, 90),
    lift(2, "deadlift_conventional", 3, 4, 110),
    lift(4, "back_squat_low_bar", 3, 8, 77.5),
    lift(4, "leg_press", 3, 10, 120),
    lift(5, "bench_press", 3, 8, 40),
]


def case_of(
    hurts: list[int], *, pain: float = 4, provoked_by: tuple[Provocation, ...] = (), **limits: object
) -> WeekCase:
    complaint = {"region": "hip", "pain_in_session": pain, "provoked_by": list(provoked_by)}
    request = {"lifter": DEMO_LIFTER, "week": WEEK, "complaint": complaint, "hurts": hurts, "aim": "strength"}
    verdict = consult(decoded("week-adjustments", request | ({"constraints": limits} if limits else {})))
    assert isinstance(verdict, WeekConsultation)
    return verdict.case


def test_a_lift_hurts_on_the_days_on_which_it_asks_as_much_of_a_repetition() -> None:
    assert hurting(case_of([0])) == [(0,)]
    assert hurting(case_of([2])) == [(0,), (2,)]


def test_in_the_red_tier_all_that_loads_the_region_is_eased_but_for_what_stays() -> None:
    assert to_ease(case_of([0], pain=6)) == [(0,), (1,), (2,), (3,)]
    assert to_ease(case_of([0], pain=6, staying=[3])) == [(0,), (1,), (2,)]
    assert to_ease(case_of([0])) == [(0,)]


def test_every_way_asks_less_of_a_repetition_unless_the_amount_provokes_the_pain() -> None:
    ways = easing(case_of([0, 2]), 64).ways
    assert len(ways) > 1
    assert all(one.candidate.meets_by not in SUMMED for way in ways for one in way)
    by_amount = easing(case_of([0, 2], provoked_by=("volume",)), 64).ways
    assert any(one.candidate.meets_by in SUMMED for way in by_amount for one in way)


def test_each_way_eases_every_lift_that_hurts_and_there_are_no_more_than_asked_for() -> None:
    case = case_of([0, 1, 2])
    for most in (1, 8, 64):
        ways = easing(case, most).ways
        assert 1 <= len(ways) <= most
        assert all([one.entries for one in way] == units(case.week)[:3] for way in ways)


def test_one_week_eases_so_many_lifts_that_hurt_and_names_the_others() -> None:
    week = [lift(day, "bench_press", 3, reps, 40) for day in range(1, 4) for reps in (5, 6, 7, 8)]
    week = [one | {"prescription": one["prescription"] | {"sets": one["day"]}} for one in week]
    complaint = {"region": "shoulder", "pain_in_session": 4}
    request = {"lifter": DEMO_LIFTER, "week": week, "complaint": complaint, "hurts": list(range(12)), "aim": "strength"}
    verdict = consult(decoded("week-adjustments", request))
    assert isinstance(verdict, WeekConsultation)
    most = CHOICES.week.most_lifts_searched
    assert (len(hurting(verdict.case)), len(to_ease(verdict.case))) == (12, most)
    assert [message.code for message in aimed_at(verdict.case, "tenth_power", ()) if message.code == "week_more_hurts"]


def test_what_nothing_eases_is_said() -> None:
    found = easing(case_of([1], levers=["technique"]), 64)
    assert (found.ways, found.not_eased) == ([], (1,))
