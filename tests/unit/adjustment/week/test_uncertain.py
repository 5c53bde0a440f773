"""Shares of a week and one week against another, with what is not known of the moments."""

from __future__ import annotations

from math import hypot

import pytest

from service.adjustment.week.exposure import Contribution, Spread, shares
from service.adjustment.week.uncertain import UNCHANGED, ratios, uncertain_ratios, uncertain_shares
from service.mechanics.uncertainty.intervals import Changes, changes_of
from service.vocabulary import WEIGHTINGS


def lift(day: int, repetitions: float, moment: float, changes: Changes, exercise: str) -> Contribution:
    return Contribution(day, repetitions, moment, Spread(lambda: (changes, (exercise,))))


def test_a_week_that_asks_nothing_has_no_shares() -> None:
    assert uncertain_shares([]) == {weighting: [] for weighting in WEIGHTINGS}


def test_an_input_of_the_lifter_moves_all_lifts_and_cancels_from_their_shares() -> None:
    two = [lift(day, 10, moment, changes_of((0.1 * moment,)), str(day)) for day, moment in ((1, 200.0), (4, 300.0))]
    uncertain = uncertain_shares(two)
    for weighting in WEIGHTINGS:
        for share, alone in zip(uncertain[weighting], shares(two, weighting), strict=True):
            assert (share.low, share.value, share.high) == pytest.approx((alone, alone, alone))


def test_an_input_of_one_exercise_moves_its_share_by_what_the_sum_says() -> None:
    one = lift(1, 10, 200.0, changes_of((), (20.0,)), "squat")
    other = lift(4, 10, 200.0, changes_of((), (0.0,)), "deadlift")
    share = uncertain_shares([one, other])["tenth_power"][0]
    assert share.low == pytest.approx(0.9**10 / (0.9**10 + 1))
    assert share.high == pytest.approx(1.1**10 / (1.1**10 + 1))
    again = uncertain_shares([one, one])["tenth_power"][0]
    assert (again.low, again.high) == pytest.approx((0.5, 0.5)), "the same exercise twice shares what is its own"


def test_a_lift_that_stays_moves_in_both_weeks_and_one_that_goes_in_the_present_one_alone() -> None:
    stays = lift(1, 10, 200.0, changes_of((20.0,)), "squat")
    goes = lift(3, 10, 300.0, changes_of((), (30.0,)), "deadlift")
    linear = uncertain_ratios([stays], [stays, goes])["linear"]
    assert ratios([stays], [stays, goes])["linear"] == pytest.approx(0.4)
    by_lifter = tuple(200 * factor / (200 * factor + 300) - 0.4 for factor in (0.9, 1.1))
    by_lift = tuple(200 / (200 + 300 * factor) - 0.4 for factor in (0.9, 1.1))
    below, above = hypot(by_lifter[0], by_lift[1]), hypot(by_lifter[1], by_lift[0])
    assert (linear.value, linear.low, linear.high) == pytest.approx((0.4, 0.4 - below, 0.4 + above))
    assert uncertain_ratios([stays, goes], [stays, goes]) == UNCHANGED


def test_the_largest_moment_is_that_of_whichever_lift_asks_most_after_it_has_moved() -> None:
    one = lift(1, 10, 200.0, changes_of((), (30.0,)), "squat")
    other = lift(3, 10, 190.0, changes_of(()), "row")
    peak = uncertain_ratios([one, other], [other])["peak"]
    assert (peak.value, peak.low, peak.high) == pytest.approx((200 / 190, 1.0, 230 / 190))
