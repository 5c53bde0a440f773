"""What a week asks of a region: sums under three weightings, shares and days."""

from __future__ import annotations

from math import isclose

import pytest

from service.adjustment.week.exposure import (
    Contribution,
    Spread,
    largest_moment,
    shares,
    shares_of_days,
    shortest_gap,
)
from service.mechanics.uncertainty.intervals import changes_of
from service.vocabulary import WEIGHTINGS

CERTAIN = Spread(lambda: (changes_of(()), ()))


def lift(day: int, moment: float, repetitions: float) -> Contribution:
    return Contribution(day, repetitions, moment, CERTAIN)


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
    assert largest_moment([]) == 0.0


@pytest.mark.parametrize(
    ("days", "gap"), [((1, 3, 5), 2), ((1, 7), 1), ((2, 6), 3), ((4,), None), ((), None), ((3, 3), None), ((1, 4), 3)]
)
def test_the_week_comes_round_from_its_last_day_to_its_first(days: tuple[int, ...], gap: int | None) -> None:
    assert shortest_gap(days) == gap
