"""What a step of one lift adds to its week, against sums worked out by hand."""

from __future__ import annotations

from typing import Final

import pytest
from msgspec.structs import replace

from service.adjustment.prescription import Prescription
from service.adjustment.session_review.progression import smaller_steps
from service.adjustment.week.exposure import Contribution, Spread
from service.adjustment.week.lifts import asked_of_regions
from service.adjustment.week.rise import WeekAround, repetitions_of, week_around
from service.knowledge.design_choices import CHOICES
from service.mechanics.body import build_body
from service.mechanics.uncertainty.intervals import changes_of
from service.training.volume import Reps

CERTAIN: Final = Spread(lambda: (changes_of(()), ()))
LIFT: Final = Prescription("deadlift_conventional", 3, Reps(5, 5), 100.0)


def other(moment: float, repetitions: float) -> Contribution:
    return Contribution(2, repetitions, moment, CERTAIN)


def around(*parts: Contribution, listed: int = 1) -> WeekAround:
    others = ("front_squat", "romanian_deadlift")[: len(parts)]
    return WeekAround(build_body(80.0, 1.75), "low_back", listed, others, parts, (), ())


def test_the_sums_of_a_week_rise_by_what_one_lift_adds() -> None:
    # 20 repetitions of 300 N·m beside 15 of 400, which become 15 of 440
    ratio = around(other(300.0, 20.0)).ratio(LIFT, LIFT, 400.0, 440.0)
    assert ratio is not None
    assert ratio.linear == pytest.approx((20 * 300 + 15 * 440) / (20 * 300 + 15 * 400))
    whole = (20 * 300.0**10 + 15 * 440.0**10) / (20 * 300.0**10 + 15 * 400.0**10)
    assert ratio.tenth_power == pytest.approx(whole**0.1)
    assert (ratio.leading.exercise, ratio.leading.weighting) == ("deadlift_conventional", "tenth_power")
    assert ratio.leading.share == pytest.approx(15 * 440.0**10 / (20 * 300.0**10 + 15 * 440.0**10))


def test_the_bound_is_of_what_is_asked_now_and_holds_for_the_larger_of_the_two() -> None:
    alone = around()
    within, above = (alone.ratio(LIFT, LIFT, 400.0, moment) for moment in (440.0, 440.1))
    assert within is not None
    assert not within.is_above(0.10)
    assert above is not None
    assert above.is_above(0.10)


def test_the_tenth_power_bounds_a_lift_that_is_a_small_part_of_the_sum() -> None:
    ratio = around(other(200.0, 200.0)).ratio(LIFT, LIFT, 400.0, 460.0)
    assert ratio is not None
    assert ratio.linear < 1.03
    assert ratio.is_above(0.10)


def test_a_lift_counts_on_the_days_that_it_states_or_else_stands_in_the_week() -> None:
    twice = around(other(400.0, 30.0), listed=2)
    more = Prescription("deadlift_conventional", 3, Reps(10, 10), 100.0)
    thrice = Prescription("deadlift_conventional", 3, Reps(5, 5), 100.0, days=3)
    oftener = twice.ratio(LIFT, thrice, 400.0, 400.0)
    assert oftener is not None
    assert oftener.linear == pytest.approx((30 + 45) / (30 + 30))
    doubled = twice.ratio(LIFT, more, 400.0, 400.0)
    assert doubled is not None
    assert doubled.linear == pytest.approx((30 + 60) / (30 + 30))


def test_nothing_is_said_of_what_is_not_known_or_asks_nothing_now() -> None:
    assert around().ratio(LIFT, LIFT, None, 400.0) is None
    assert around().ratio(LIFT, LIFT, 400.0, None) is None
    assert around().ratio(LIFT, LIFT, 0.0, 400.0) is None


def test_the_lift_that_is_wanted_back_tells_the_maximum_of_every_step_towards_it() -> None:
    original = Prescription("back_squat_high_bar", 3, Reps(4, 6), 135.0, reserve=2.0)
    adjusted = replace(original, load=105.0, reserve=4.0)  # no more is asked to be left, though more would be
    body = build_body(80.0, 1.75)
    week = week_around(body, "low_back", [], [], [original, adjusted])
    again = replace(original, reserve=4.0)
    moments = [week.moment(one) for one in (original, again, adjusted, replace(adjusted, reserve=2.0))]
    assert moments[0] == moments[1]
    assert moments[2] == moments[3]
    unknown = week_around(body, "low_back", [], [], [adjusted])
    assert unknown.moment(adjusted) != moments[2], "by its own set 105 kg is nearer to the maximum"
    another = Prescription("romanian_deadlift", 3, Reps(8, 8), 80.0, reserve=2.0)
    known = asked_of_regions(body, another)["low_back"].moment
    assert week.moment(another) == known, "of another exercise it says nothing"


def test_a_hold_counts_as_the_repetitions_that_take_as_long() -> None:
    hold = Prescription("front_squat", 4, Reps(1, 1), 40.0, hold=30.0)
    assert repetitions_of(hold) == pytest.approx(4 * 30.0 / CHOICES.return_plan.rep_seconds)


def test_smaller_steps_are_shorter_holds_or_no_heavier_load() -> None:
    hold = Prescription("front_squat", 4, Reps(1, 1), 40.0, hold=30.0)
    longer = Prescription("front_squat", 4, Reps(1, 1), 40.0, hold=33.0)
    assert [one.hold for one in smaller_steps(hold, longer)] == [33.0, 32.0, 31.0]
    heavier = Prescription("deadlift_conventional", 3, Reps(5, 5), 110.0)
    assert [(one.load, one.reps) for one in smaller_steps(LIFT, heavier)] == [(100.0, Reps(5, 6))]


def test_a_week_that_asks_nothing_any_more_has_no_ratio() -> None:
    assert around().ratio(LIFT, LIFT, 300.0, 0.0) is None
    assert around().ratio(LIFT, LIFT, 300.0, 1e-40) is None, "its tenth power is nothing"
