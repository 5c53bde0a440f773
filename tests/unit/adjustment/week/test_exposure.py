"""What a week asks of a region: sums under three weightings, shares and days."""

from __future__ import annotations

from math import isclose

import pytest

from service.adjustment.week.exposure import (
    Contribution,
    largest_moment,
    shares,
    shares_of_days,
    shortest_gap,
    uncertain_shares,
)
from service.mechanics.uncertainty.intervals import changes_of
from service.vocabulary import WEIGHTINGS

CERTAIN = changes_of(())


def lift(day: int, moment: float, repetitions: float) -> Contribution:
    return Contribution(day, repetitions, moment, CERTAIN, (str(moment),))


def week() -> list[Contribution]:
    """Two squats, a row, a deadlift and a Romanian deadlift: illustrative lumbosacral moments."""
    return [lift(1, 334.0, 25), lift(1, 190.0, 32), lift(3, 450.0, 15), lift(5, 290.0, 24), lift(5, 310.0, 24)]


def test_shares_of_lifts_and_of_days_add_up_to_the_week() -> None:
    for weighting in WEIGHTINGS:
        assert isclose(sum(shares(week(), weighting)), 1.0)
        days = shares_of_days(week(), weighting)
        assert list(days) == [1, 3, 5]
        assert isclose(sum(days.values()), 1.0)


def test_a_week_that_asks_nothing_has_shares_of_nothing() -> None:
    assert shares([lift(1, 0.0, 20)], "linear") == [0.0]
    assert uncertain_shares([], "squared") == []
    assert largest_moment([]) == 0.0


@pytest.mark.parametrize(
    ("days", "gap"), [((1, 3, 5), 2), ((1, 7), 1), ((2, 6), 3), ((4,), None), ((), None), ((3, 3), None), ((1, 4), 3)]
)
def test_the_week_comes_round_from_its_last_day_to_its_first(days: tuple[int, ...], gap: int | None) -> None:
    assert shortest_gap(days) == gap


def test_an_input_of_the_lifter_moves_all_lifts_and_cancels_from_their_shares() -> None:
    two = [
        Contribution(day, 10, moment, changes_of((0.1 * moment,)), (str(day),))
        for day, moment in ((1, 200.0), (4, 300.0))
    ]
    for weighting in WEIGHTINGS:
        for share, alone in zip(uncertain_shares(two, weighting), shares(two, weighting), strict=True):
            assert (share.low, share.value, share.high) == pytest.approx((alone, alone, alone))


def test_an_input_of_one_exercise_moves_its_share_by_what_the_sum_says() -> None:
    one = Contribution(1, 10, 200.0, changes_of((), (20.0,)), ("squat",))
    other = Contribution(4, 10, 200.0, changes_of((), (0.0,)), ("deadlift",))
    share = uncertain_shares([one, other], "tenth_power")[0]
    assert share.low == pytest.approx(0.9**10 / (0.9**10 + 1))
    assert share.high == pytest.approx(1.1**10 / (1.1**10 + 1))
    again = uncertain_shares([one, one], "tenth_power")[0]
    assert (again.low, again.high) == pytest.approx((0.5, 0.5)), "the same exercise twice shares what is its own"
